"""What the learner set: the instrument, the hand, the language, the length of a drill. One TOML file.

Settings   the values, checked; every field carries the sentence that the set-up screen, the docs and errors use
load       the settings in a file; defaults when there is none
save       writes them whole or not at all, for the owner only
fields     each setting with its sentence, default and allowed values, for screens and docs
"""

from __future__ import annotations

import difflib
import json
from collections.abc import Iterable
from pathlib import Path
from typing import Annotated, Any, Literal, NamedTuple, get_args, get_type_hints

from drill.errors import BadFile, CannotWrite
from drill.present.neck_drawing import Look, Show
from drill.system import files, input_files
from drill.system.text import visible
from drill.system.tunings import find_tuning
from drill.system.validation import Check, line, number, shown, word
from drill.theory.names import NoteLanguage
from drill.theory.neck import Neck

Hand = Literal["right", "left"]
LowString = Literal["bottom", "top"]
ShapeNames = Literal["facts", "numbers"]
Colours = Literal["rosewood", "maple"]


class Takes(NamedTuple):
    """What a setting is for, and from what to what it goes: a number itself, a text in characters."""

    sentence: str
    least: int = 0
    most: int = 0


class Settings(NamedTuple):
    """What the learner set. What comes from a file is checked by `parse`; beside each value stands what it takes."""

    tuning: Annotated[
        str, Takes("The instrument and its tuning, such as standard, drop-d, dadgad, open-g, bass or ukulele.", 1, 200)
    ] = "standard"
    frets: Annotated[int, Takes("How many frets the neck has.", 12, 24)] = 15
    capo: Annotated[int, Takes("The fret the capo sits on; 0 means no capo.", 0, 11)] = 0
    hand: Annotated[Hand, Takes("Which way round the neck is drawn: nut at the left or right.")] = "right"
    low_string: Annotated[
        LowString, Takes("Where the lowest string is drawn: at the bottom as in tablature, or at the top.")
    ] = "bottom"
    note_language: Annotated[NoteLanguage, Takes("The language note names are written in.")] = "english"
    shape_names: Annotated[
        ShapeNames, Takes("Whether shapes are called by the string their tonic sits on, or by the numbers 1 to 5.")
    ] = "facts"
    show: Annotated[Show, Takes("What the dots on the neck show.")] = "fingers"
    colours: Annotated[Colours, Takes("The colours of the program: rosewood is dark, maple is light.")] = "rosewood"
    minutes: Annotated[int, Takes("How long a drill lasts, in minutes.", 1, 60)] = 5
    tempo_bpm: Annotated[
        int, Takes("The tempo you want to be ready for, in beats a minute; one bar is four beats.", 40, 240)
    ] = 80
    deck: Annotated[str, Takes("The deck today's drill is taken from.", 1, 200)] = "two-shapes"
    report_title: Annotated[str, Takes("The title of the page you hand to a teacher.", 0, 80)] = "Fretboard progress"
    learner: Annotated[str, Takes("Your name, for reports; it may stay empty.", 0, 80)] = ""

    @property
    def neck(self) -> Neck:
        """The learner's neck; raises `UnknownName` for a tuning that is not in the table."""
        return Neck(find_tuning(self.tuning), self.frets, self.capo)

    @property
    def look(self) -> Look:
        """How the learner wants the neck drawn."""
        return Look(self.hand, self.low_string, self.show, self.note_language)


class Setting(NamedTuple):
    """One setting as a screen or a page of docs needs it.

    `choices` are for words, `low` and `high` for numbers, `shortest` and `longest` for the characters of a text.
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
        """What may stand there, in words."""
        if self.choices:
            return "one of " + ", ".join(f'"{choice}"' for choice in self.choices)
        if self.low is not None:
            return f"a whole number from {self.low} to {self.high}"
        return "a short text in quotes, on one line"

    def takes(self, value: object) -> bool:
        """Whether a value may stand there."""
        return not list(self._check(value))

    @property
    def _check(self) -> Check:
        if self.choices:
            return word(*self.choices)
        if self.low is not None and self.high is not None:
            return number(self.low, self.high)
        return line(self.shortest, self.longest)


def fields() -> tuple[Setting, ...]:
    """Every setting, in the order of the file and of the set-up screen."""
    kinds = get_type_hints(Settings, include_extras=True)
    return tuple(_setting(name, *get_args(kinds[name])) for name in Settings._fields)


def _setting(name: str, kind: Any, takes: Takes) -> Setting:
    blank = Setting(name, takes.sentence, Settings._field_defaults[name], choices=get_args(kind))
    if kind is int:
        return blank._replace(low=takes.least, high=takes.most)
    return blank._replace(shortest=takes.least, longest=takes.most)


def load(path: Path) -> Settings:
    """The settings in the file, or the defaults when there is no file.

    Raises BadFile naming file, field and fix for anything that cannot be understood.
    """
    try:
        text = input_files.read_text(path, "Move it away; Set-up in the program writes a new one.")
    except FileNotFoundError:
        return Settings()
    return parse(text, str(path))


def parse(text: str, file: str) -> Settings:
    """The settings written in `text`; `file` is the name errors give it. Raises BadFile."""
    values = input_files.parse_toml(text, file, "Write one setting a line, like: frets = 15")
    known = {setting.name: setting for setting in fields()}
    for name, value in values.items():
        if name not in known:
            raise BadFile(file, _shortened(name), "there is no such setting.", _nearest(name, known))
        if not known[name].takes(value):
            raise _unfit(file, known[name], value)
    return Settings(**values)


def dump(settings: Settings) -> str:
    """The settings as TOML, each under its sentence; `parse` gives back the same settings."""
    return "\n".join(
        f"# {field.sentence}\n{field.name} = {_toml(getattr(settings, field.name))}\n" for field in fields()
    )


def save(settings: Settings, path: Path) -> None:
    """Writes the file whole or not at all, readable by its owner only. Raises CannotWrite."""
    try:
        files.make_folder(path.parent)
        with files.atomic_write(path) as file:
            file.write(dump(settings))
        files.remove_leftovers(path)
    except OSError as error:
        raise CannotWrite(
            f"The settings could not be saved to {path} ({error.strerror}); the old ones still hold.",
            "Make room on the disk or check the permissions of that folder.",
        ) from error


def _toml(value: str | int) -> str:
    """A TOML value. JSON's way of writing text is TOML's too, once control characters are kept out (the fields do)."""
    return json.dumps(value, ensure_ascii=False)


def _unfit(file: str, setting: Setting, value: object) -> BadFile:
    example = f"{setting.name} = {_toml(setting.default)}"
    problem = f"{_shortened(shown(value, repr))} does not fit."
    return BadFile(file, setting.name, problem, f"It wants {setting.wants}, for example: {example}.")


def _nearest(name: str, known: Iterable[str]) -> str:
    near = difflib.get_close_matches(name, known, n=1, cutoff=0.5)
    return f'The nearest is "{near[0]}".' if near else f"The settings are: {', '.join(known)}."


def _shortened(text: str) -> str:
    """A name or value of any content in one line that can be read."""
    seen = visible(text.replace("\n", " "))
    return seen if len(seen) <= 60 else seen[:57] + "..."
