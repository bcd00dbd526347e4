"""What the learner set: the instrument, the hand, the language, the length of a drill. One TOML file.

Settings   the values, checked; every field carries the sentence that the set-up screen, the docs and errors use
load       the settings in a file; defaults when there is none
save       writes them whole or not at all, for the owner only
fields     each setting with its sentence, default and allowed values, for screens and docs
"""

from __future__ import annotations

import difflib
import json
import os
import tomllib
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal, get_args

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from drill import owner
from drill.drawing import Look
from drill.errors import BadFile, CannotWrite
from drill.instruments import find_tuning
from drill.theory.neck import Neck

Name = Annotated[str, StringConstraints(min_length=1, max_length=200, pattern=r"^[^\x00-\x1f\x7f-\x9f]+$")]
Line = Annotated[str, StringConstraints(max_length=80, pattern=r"^[^\x00-\x1f\x7f-\x9f]*$")]


class Settings(BaseModel):
    """What the learner set. Unknown keys and wrong types are refused; `load` turns that into a sentence."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    tuning: Name = Field(
        default="standard", description="The tuning of the strings, by the name `data/tunings.toml` gives it."
    )
    frets: int = Field(default=15, ge=12, le=24, description="How many frets the neck has.")
    capo: int = Field(default=0, ge=0, le=11, description="The fret the capo sits on; 0 means no capo.")
    hand: Literal["right", "left"] = Field(
        default="right", description="Which way round the neck is drawn: nut at the left or right."
    )
    low_string: Literal["bottom", "top"] = Field(
        default="bottom", description="Where the lowest string is drawn: at the bottom as in tablature, or at the top."
    )
    note_language: Literal["english", "german", "italian", "french", "spanish"] = Field(
        default="english", description="The language note names are written in."
    )
    shape_names: Literal["facts", "numbers"] = Field(
        default="facts",
        description="Whether shapes are called by the string their tonic sits on, or by the numbers 1 to 5.",
    )
    show: Literal["fingers", "degrees", "notes"] = Field(
        default="fingers", description="What the dots on the neck show."
    )
    minutes: int = Field(default=5, ge=1, le=60, description="How long a drill lasts, in minutes.")
    tempo_bpm: int = Field(
        default=80,
        ge=40,
        le=240,
        description="The tempo you want to be ready for, in beats a minute; one bar is four beats.",
    )
    deck: Name = Field(default="two-shapes", description="The deck today's drill is taken from.")
    report_title: Line = Field(default="Fretboard progress", description="The title of the page you hand to a teacher.")
    learner: Line = Field(default="", description="Your name, for reports; it may stay empty.")

    @property
    def neck(self) -> Neck:
        """The learner's neck; raises `UnknownName` for a tuning that is not in the table."""
        return Neck(find_tuning(self.tuning), self.frets, self.capo)

    @property
    def look(self) -> Look:
        """How the learner wants the neck drawn."""
        return Look(self.hand, self.low_string, self.show, self.note_language)


@dataclass(frozen=True, slots=True)
class Setting:
    """One setting as a screen or a page of docs needs it: `choices` for words, `low` and `high` for numbers."""

    name: str
    sentence: str
    default: str | int
    choices: tuple[str, ...] = ()
    low: int | None = None
    high: int | None = None

    @property
    def wants(self) -> str:
        """What may stand there, in words."""
        if self.choices:
            return "one of " + ", ".join(f'"{choice}"' for choice in self.choices)
        if self.low is not None:
            return f"a whole number from {self.low} to {self.high}"
        return "a short text in quotes, on one line"


def fields() -> tuple[Setting, ...]:
    """Every setting, in the order of the file and of the set-up screen."""
    return tuple(_setting(name) for name in Settings.model_fields)


def load(path: Path) -> Settings:
    """The settings in the file, or the defaults when there is no file.

    Raises BadFile naming file, field and fix for anything that cannot be understood.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")  # some editors put a mark first
    except FileNotFoundError:
        return Settings()
    except UnicodeDecodeError as error:
        raise BadFile(str(path), "", f"byte {error.start} is not UTF-8 text.", "Save the file as UTF-8.") from error
    except OSError as error:
        raise BadFile(
            str(path), "", f"cannot be read ({error.strerror}).", "Check the file and its permissions."
        ) from error
    return parse(text, str(path))


def parse(text: str, file: str) -> Settings:
    """The settings written in `text`; `file` is the name errors give it. Raises BadFile."""
    try:
        values = tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # ValueError also for a number of thousands of digits
        raise BadFile(file, "", f"is not TOML: {error}.", "Write one setting a line, like: frets = 15") from error
    try:
        return Settings.model_validate(values)
    except ValidationError as error:
        raise _explained(file, error) from error


def dump(settings: Settings) -> str:
    """The settings as TOML, each under its sentence; `parse` gives back the same settings."""
    return "\n".join(
        f"# {field.sentence}\n{field.name} = {_toml(getattr(settings, field.name))}\n" for field in fields()
    )


def save(settings: Settings, path: Path) -> None:
    """Writes the file whole or not at all, readable by its owner only. Raises CannotWrite."""
    temporary = path.with_name(f".{path.name}.{os.getpid()}.new")
    try:
        owner.folder(path.parent)
        _write_durably(temporary, dump(settings))
        temporary.replace(path)
    except OSError as error:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise CannotWrite(
            f"The settings could not be saved to {path} ({error.strerror}); the old ones still hold.",
            "Make room on the disk or check the permissions of that folder.",
        ) from error


def _write_durably(path: Path, text: str) -> None:
    """A new file for the owner only, on the disk when this returns."""
    with os.fdopen(owner.new_file(path, may_exist=True), "w", encoding="utf-8", newline="\n") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())


def _toml(value: str | int) -> str:
    """A TOML value. JSON's way of writing text is TOML's too, once control characters are kept out (the fields do)."""
    return json.dumps(value, ensure_ascii=False)


def _setting(name: str) -> Setting:
    info = Settings.model_fields[name]
    choices = get_args(info.annotation) if info.annotation is not str else ()
    bounds: dict[str, int] = {}
    for limit in info.metadata:
        bounds |= {key: getattr(limit, key) for key in ("ge", "le") if hasattr(limit, key)}
    return Setting(name, info.description or "", info.default, choices, bounds.get("ge"), bounds.get("le"))


def _explained(file: str, error: ValidationError) -> BadFile:
    """The first thing wrong, as a sentence with its fix."""
    first = error.errors(include_url=False)[0]
    name = str(first["loc"][0])
    if first["type"] == "extra_forbidden":
        return BadFile(file, _shortened(name), "there is no such setting.", _nearest(name))
    setting = _setting(name)
    problem = f"{_shortened(repr(first['input']))} does not fit."
    return BadFile(file, name, problem, f"It wants {setting.wants}, for example: {name} = {_toml(setting.default)}")


def _nearest(name: str) -> str:
    near = difflib.get_close_matches(name, Settings.model_fields, n=1, cutoff=0.5)
    return f'The nearest is "{near[0]}".' if near else f"The settings are: {', '.join(Settings.model_fields)}."


def _shortened(text: str) -> str:
    return text if len(text) <= 60 else text[:57] + "..."
