"""The deck file: what may stand in it, and what is told about what may not.

    title = "Naturals on two strings"
    about = "..."                     # one or two sentences
    tuning = "bass"                   # only if the deck is for one instrument
    [targets]
    note-at-fret = 1.5                # seconds; else the family's own
    [[part]]                          # parts are taught in this order
    families = ["note-at-fret"]
    strings = [6, 5]                  # or "anchors" (default), or "all"
    frets = [0, 12]
    notes = "naturals"                # or "all" (default)
    keys = ["Am", "C"]                # or "everyday" (default), or "all"
    shapes = ["string-6"]             # or "anchors" (default), or "all"
    loops = ["Am F C G"]
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from drill.errors import BadFile, UnknownName, UsageProblem
from drill.instruments import find_tuning
from drill.questions.catalogue import FAMILIES
from drill.theory.keys import parse_key
from drill.theory.neck import MOST_FRETS

MOST_BYTES = 200_000
"""A deck file larger than this was not written by hand for a guitarist."""

_Fret = Annotated[int, Field(ge=0, le=MOST_FRETS)]
_Seconds = Annotated[float, Field(ge=0.3, le=60, strict=False)]
_Line = Annotated[str, StringConstraints(min_length=1, max_length=300)]


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


class Part(_Strict):
    """One stretch of a deck: families over one scope."""

    families: list[str] = Field(min_length=1)
    strings: list[int] | Literal["anchors", "all"] = "anchors"
    frets: list[_Fret] = Field(default=[0, 12], min_length=2, max_length=2)
    notes: Literal["naturals", "all"] = "all"
    keys: list[str] | Literal["everyday", "all"] = "everyday"
    shapes: list[str] | Literal["anchors", "all"] = "anchors"
    loops: list[str] = []


class DeckFile(_Strict):
    """A whole deck file."""

    title: _Line
    about: _Line
    tuning: str = ""
    targets: dict[str, _Seconds] = {}
    part: list[Part] = Field(min_length=1)


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake in a deck file."""

    field: str
    problem: str
    fix: str


def read(path: Path) -> tuple[list[Problem], DeckFile | None]:
    """The file and what is wrong with it; None with the mistakes of form that keep it from being read.

    Raises `BadFile` if it is no TOML file at all.
    """
    values = _toml(path)
    try:
        file = DeckFile.model_validate(values)
    except ValidationError as error:
        return [_explained(dict(each)) for each in error.errors(include_url=False)], None
    return list(_judge(file)), file


def _toml(path: Path) -> dict[str, Any]:
    try:
        if path.stat().st_size > MOST_BYTES:
            raise BadFile(str(path), "", "is too large for a deck.", f"A deck file holds at most {MOST_BYTES} bytes.")
        return tomllib.loads(path.read_bytes().decode())
    except OSError as error:
        raise BadFile(str(path), "", f"cannot be read ({error.strerror}).", "Check the path.") from error
    except UnicodeDecodeError as error:
        raise BadFile(str(path), "", f"byte {error.start} is not UTF-8 text.", "Save the file as UTF-8.") from error
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise BadFile(str(path), "", f"is not TOML: {error}.", "See the format in the README.") from error


def _explained(error: dict[str, Any]) -> Problem:
    """A mistake of form, in a sentence."""
    where = tuple(part for part in error["loc"] if not str(part).startswith(("list[", "literal[")))
    name = ".".join(f"{part + 1}" if isinstance(part, int) else str(part) for part in where)
    if error["type"] == "extra_forbidden":
        known = list(Part.model_fields if where[0] == "part" else DeckFile.model_fields)
        near = difflib.get_close_matches(str(where[-1]), known, n=1, cutoff=0.0)[0]
        return Problem(name, "there is no such field.", f"The nearest is “{near}”.")
    if error["type"] == "missing":
        return Problem(name, "is missing.", f"Add a line: {where[-1]} = …")
    return Problem(name, f"{error['msg'][0].lower()}{error['msg'][1:]}.", "See the format in the README.")


def _judge(file: DeckFile) -> Iterator[Problem]:
    """Mistakes of meaning: names that name nothing, strings the instrument lacks, parts that ask nothing."""
    yield from _named("tuning", [file.tuning] if file.tuning else [], find_tuning)
    yield from _named("targets", file.targets, known_family)
    for number, part in enumerate(file.part, start=1):
        yield from _judge_part(f"part.{number}", part)


def _judge_part(where: str, part: Part) -> Iterator[Problem]:
    yield from _named(f"{where}.families", part.families, known_family)
    if isinstance(part.keys, list):
        yield from _named(f"{where}.keys", part.keys, parse_key)
    if part.frets[0] > part.frets[1]:
        yield Problem(f"{where}.frets", f"{part.frets} runs backwards.", "Write the lower fret first.")


def _named(field_name: str, names: Iterable[str], find: Callable[[str], object]) -> Iterator[Problem]:
    for name in names:
        try:
            find(name)
        except UsageProblem as error:
            yield Problem(field_name, error.message, error.fix)


def known_family(name: str) -> str:
    """The name of a family; raises `UnknownName` with the nearest one."""
    if name in FAMILIES:
        return name
    near = difflib.get_close_matches(name, FAMILIES, n=1, cutoff=0.0)[0]
    raise UnknownName(f"There is no family “{name[:60]}”.", f"The nearest is “{near}”.")
