"""The learner's settings: the instrument, the hand, the language, the length of a drill. One TOML file.

Settings   the values; each field carries its sentence and what is allowed in it
load       reads a file; without one, the defaults
save       writes the file whole or not at all, readable by its owner only
fields     each setting with its sentence, default and allowed values, for screens and errors
"""

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple, get_args, get_type_hints

from drill.errors import BadFile, CannotWrite
from drill.present.neck_drawing import Look, Show
from drill.present.voice import Voice
from drill.system import files, input_files
from drill.system.tunings import find_tuning
from drill.system.validation import Check, Field, line, number, problems, table, word
from drill.theory.bars import FASTEST_BPM, SLOWEST_BPM, beat_seconds
from drill.theory.names import NoteLanguage
from drill.theory.neck import FEWEST_FRETS, MOST_CAPO, MOST_FRETS, Neck

if TYPE_CHECKING:
    from drill.memory import Start

Hand = Literal["right", "left"]
LowString = Literal["bottom", "top"]
ShapeNames = Literal["facts", "numbers"]
Colours = Literal["rosewood", "maple", "contrast", "terminal"]
NextQuestion = Literal["by itself", "on enter"]
Motion = Literal["running", "still"]
Answers = Literal["typed", "played", "hands free"]
StartSetting = Literal["undecided", "notes", "shapes", "speed"]
"""A place to begin; undecided, the first answers decide."""


LONGEST_LEARNER = 80
"""Characters of a learner's name."""
KEYS = "keys"
KEYS_FIELD = Field(table(line(1, 40), 200), 'a table [keys] of commands and their keys, like: look-up = "f8"')


class Allowed(NamedTuple):
    """What a setting is for, and its limits: of the number itself, or of the characters of a text."""

    sentence: str
    least: int = 0
    most: int = 0


class Settings(NamedTuple):
    """The learner's settings. `parse` checks what comes from a file."""

    tuning: Annotated[
        str,
        Allowed("The instrument and its tuning, such as standard, drop-d, dadgad, open-g, bass or ukulele.", 1, 200),
    ] = "standard"
    frets: Annotated[int, Allowed("How many frets the neck has.", FEWEST_FRETS, MOST_FRETS)] = 15
    capo: Annotated[int, Allowed("The fret the capo sits on; 0 means no capo.", 0, MOST_CAPO)] = 0
    hand: Annotated[Hand, Allowed("Which way round the neck is drawn: nut at the left or right.")] = "right"
    low_string: Annotated[
        LowString, Allowed("Where the lowest string is drawn: at the bottom as in tablature, or at the top.")
    ] = "bottom"
    note_language: Annotated[NoteLanguage, Allowed("The language note names are written in.")] = "english"
    shape_names: Annotated[
        ShapeNames, Allowed("Whether shapes are called by the string their tonic sits on, or by the numbers 1 to 5.")
    ] = "facts"
    show: Annotated[Show, Allowed("What the dots on the neck show.")] = "fingers"
    colours: Annotated[
        Colours,
        Allowed("The colours: dark rosewood, light maple, contrast (the strongest), or those of your terminal."),
    ] = "rosewood"
    next_question: Annotated[
        NextQuestion,
        Allowed("Whether the next question comes by itself after a right answer, or when you press Enter."),
    ] = "by itself"
    motion: Annotated[
        Motion, Allowed("Whether the beats of the bar and the time run on the screen, or everything stands still.")
    ] = "running"
    minutes: Annotated[int, Allowed("How long a drill lasts, in minutes.", 1, 60)] = 5
    tempo_bpm: Annotated[
        int,
        Allowed(
            "Your tempo, in beats per minute: an answer is in time within a bar of four beats.",
            SLOWEST_BPM,
            FASTEST_BPM,
        ),
    ] = 80
    start: Annotated[
        StartSetting,
        Allowed("Where you begin: the notes, the two shapes, or only speed; undecided, your first answers decide."),
    ] = "undecided"
    answers: Annotated[
        Answers,
        Allowed("How you answer: typed, played on the guitar where it can be heard, or only what can be played."),
    ] = "typed"
    decibels_down: Annotated[
        int,
        Allowed("How far below full volume loops and clicks start: 20 decibels are quiet, 60 hardly heard.", 20, 60),
    ] = 20
    microphone: Annotated[
        str, Allowed("The microphone that hears the guitar; empty, it is the one your system uses.", 0, 200)
    ] = ""
    speaker: Annotated[
        str, Allowed("What you hear clicks and loops through while it listens; empty, your system's choice.", 0, 200)
    ] = ""
    path_ms: Annotated[
        int, Allowed("How long a click takes out and back in, in milliseconds; 0 until it is measured.", 0, 2000)
    ] = 0
    deck: Annotated[str, Allowed("The deck of the daily drill.", 1, 200)] = "two-shapes"
    report_title: Annotated[str, Allowed("The title of the report for a teacher.", 0, 80)] = "Fretboard progress"
    learner: Annotated[str, Allowed("Your name, for what you export; it may be empty.", 0, LONGEST_LEARNER)] = ""
    keys: tuple[tuple[str, str], ...] = ()
    """Commands of the screens that the learner gave other keys, by the command's name: a table of the file."""

    @property
    def neck(self) -> Neck:
        """The learner's neck. Raises `UnknownName` for a tuning that is not in the table."""
        return Neck(find_tuning(self.tuning), self.frets, self.capo)

    @property
    def place(self) -> "Start | None":
        """Where the learner begins, None while that is undecided."""
        return None if self.start == "undecided" else self.start

    @property
    def beat_s(self) -> float:
        """How long a beat lasts at the learner's tempo, in seconds."""
        return beat_seconds(self.tempo_bpm)

    @property
    def voice(self) -> Voice:
        """How notes and shapes are named in sentences."""
        return Voice(self.note_language, self.shape_names == "numbers")

    @property
    def look(self) -> Look:
        """How the learner wants the neck drawn."""
        return Look(self.hand, self.low_string, self.show, self.note_language)


class Setting(NamedTuple):
    """One setting as a screen needs it.

    Words have `choices`, numbers `low` and `high`, texts a `shortest` and a `longest` length.
    """

    name: str
    sentence: str
    default: str | int
    choices: tuple[str, ...] = ()
    low: int | None = None
    high: int | None = None
    shortest: int = 0
    longest: int = 0

    @property
    def wants(self) -> str:
        """Say in words what is allowed."""
        if self.choices:
            return "one of " + ", ".join(f'"{choice}"' for choice in self.choices)
        if self.low is not None:
            return f"a whole number from {self.low} to {self.high}"
        return "a short text in quotes, on one line"

    def takes(self, value: object) -> bool:
        """Whether the value is allowed."""
        return self.field.takes(value)

    @property
    def field(self) -> Field:
        """The field of the settings file."""
        return Field(self._check, f"{self.name} = {_toml(self.default)}, {self.wants}")

    @property
    def _check(self) -> Check:
        if self.choices:
            return word(*self.choices)
        if self.low is not None and self.high is not None:
            return number(self.low, self.high)
        return line(self.shortest, self.longest)


def fields() -> tuple[Setting, ...]:
    """Return every setting but the table of keys, in the order of the file and of the set-up screen."""
    kinds = get_type_hints(Settings, include_extras=True)
    return tuple(_setting(name, *get_args(kinds[name])) for name in Settings._fields if name != KEYS)


def _setting(name: str, kind: Any, allowed: Allowed) -> Setting:
    setting = Setting(name, allowed.sentence, Settings._field_defaults[name], choices=get_args(kind))
    if kind is int:
        return setting._replace(low=allowed.least, high=allowed.most)
    return setting._replace(shortest=allowed.least, longest=allowed.most)


def load(path: Path) -> Settings:
    """Read the settings in the file, or return the defaults if there is no file.

    Raises BadFile for anything that cannot be understood; it names file, field and fix.
    """
    try:
        text = input_files.read_text(path, "Move it away; Set-up in the program writes a new one.")
    except FileNotFoundError:
        return Settings()
    return parse(text, str(path))


def parse(text: str, file: str) -> Settings:
    """Read the settings written in `text`; errors call it `file`. Raises BadFile."""
    values = input_files.parse_toml(text, file, "Write one setting per line, like: frets = 15")
    known = {setting.name: setting.field for setting in fields()} | {KEYS: KEYS_FIELD}
    for problem in problems(values, known, "setting"):
        raise BadFile(file, *problem)
    return Settings(**values | {KEYS: tuple(values.get(KEYS, {}).items())})


def dump(settings: Settings) -> str:
    """Write the settings as TOML, each under its sentence; `parse` reads the same settings back."""
    lines = [f"# {field.sentence}\n{field.name} = {_toml(getattr(settings, field.name))}\n" for field in fields()]
    keys = "".join(f"{_toml(command)} = {_toml(key)}\n" for command, key in settings.keys)
    return "\n".join([*lines, f"# Other keys for commands of the screens.\n[{KEYS}]\n{keys}"] if keys else lines)


def save(settings: Settings, path: Path) -> None:
    """Write the file whole or not at all, readable by its owner only. Raises CannotWrite."""
    try:
        files.make_folder(path.parent)
        with files.atomic_write(path) as file:
            file.write(dump(settings))
        files.remove_leftovers(path)
    except OSError as error:
        raise CannotWrite(
            f"The settings could not be saved to {path} ({error.strerror}); the old ones are unchanged.",
            "Make room on the disk or check the permissions of that folder.",
        ) from error


def _toml(value: str | int) -> str:
    """Write a value as TOML. JSON text is valid TOML, as long as it holds no control characters; settings hold none."""
    return json.dumps(value, ensure_ascii=False)
