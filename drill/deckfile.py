"""The deck file: what may stand in it, and what is told about what may not.

    title = "Naturals on two strings"
    about = "..."                     # one or two sentences
    stage = 1                         # 1 for beginners to 5, where it comes in the list of decks; 5 if not said
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

read         a file, and every mistake of form and of names in it
Part         one stretch of a deck; what is malformed in it is told and left out, so that the rest can be judged too
"""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, ValidationError

from drill.errors import BadFile, UnknownName, UsageProblem
from drill.instruments import find_tuning
from drill.questions.catalogue import FAMILIES
from drill.questions.loops import read_loop
from drill.theory.keys import parse_key
from drill.theory.names import quoted
from drill.theory.neck import MOST_FRETS

MOST_BYTES = 200_000
"""A deck file larger than this was not written by hand for a guitarist."""

LAST_STAGE = 5
"""Stages go from a beginner's first notes (1) to answers within a bar (5)."""

_Fret = Annotated[int, Field(ge=0, le=MOST_FRETS)]
_Seconds = Annotated[float, Field(ge=0.3, le=60, strict=False)]
_Line = Annotated[str, StringConstraints(min_length=1, max_length=300, pattern=r"^[^\x00-\x1f\x7f-\x9f]+$")]

EXAMPLES = {
    "title": 'title = "Notes on two strings", one line of at most 300 characters',
    "about": 'about = "What the deck is for.", one line of at most 300 characters',
    "stage": f"stage = 1, a whole number from 1 to {LAST_STAGE}",
    "tuning": 'tuning = "bass"',
    "targets": "note-at-fret = 1.5 under [targets], seconds from 0.3 to 60",
    "part": "[[part]] above each stretch of families",
    "families": 'families = ["note-at-fret"]',
    "strings": 'strings = [6, 5], or strings = "all" or "anchors"',
    "frets": f"frets = [0, 12], two whole numbers from 0 to {MOST_FRETS}",
    "notes": 'notes = "naturals" or notes = "all"',
    "keys": 'keys = ["Am", "C"], or keys = "everyday" or "all"',
    "shapes": 'shapes = ["string-6"], or shapes = "anchors" or "all"',
    "loops": 'loops = ["Am F C G"]',
}
"""How each field is written right."""

_BLANKS: dict[str, Any] = {"title": "", "about": "", "families": []}
"""What stands in for a field that must be there and is not, while the rest is judged."""


class _Strict(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)


_Form = TypeVar("_Form", bound=_Strict)


class Part(_Strict):
    """One stretch of a deck: families over one scope."""

    families: list[str] = Field(min_length=1)
    strings: list[int] | Literal["anchors", "all"] = "anchors"
    frets: list[_Fret] = Field(default=[0, 12], min_length=2, max_length=2)
    notes: Literal["naturals", "all"] = "all"
    keys: list[str] | Literal["everyday", "all"] = "everyday"
    shapes: list[str] | Literal["anchors", "all"] = "anchors"
    loops: list[str] = []


class Head(_Strict):
    """What a deck file says before its parts."""

    title: _Line
    about: _Line
    stage: int = Field(default=LAST_STAGE, ge=1, le=LAST_STAGE)
    tuning: str = ""
    targets: dict[str, _Seconds] = {}


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake in a deck file."""

    field: str
    problem: str
    fix: str


@dataclass(frozen=True, slots=True)
class DeckFile:
    """A deck file as far as it can be understood, and what is wrong with it."""

    title: str
    about: str
    stage: int
    tuning: str
    targets: dict[str, float]
    parts: tuple[Part, ...]
    problems: tuple[Problem, ...]


def read(path: Path) -> DeckFile:
    """A deck file with every mistake of form and of names in it. Raises `BadFile` if it is no TOML file at all."""
    values = _toml(path)
    raw_parts = values.pop("part", None)
    head, problems = _salvaged(Head, values, "")
    problems += _judge_names(head, values.get("targets"))
    parts: list[Part] = []
    if not isinstance(raw_parts, list) or not raw_parts or not all(isinstance(each, dict) for each in raw_parts):
        problems.append(Problem("part", "is missing or is no list of parts.", f"Write {EXAMPLES['part']}."))
        raw_parts = []
    for number, raw in enumerate(raw_parts, start=1):
        part, mistakes = _salvaged(Part, raw, f"part.{number}.")
        parts.append(part)
        problems += (*mistakes, *_judge_part(f"part.{number}", part))
    return DeckFile(head.title, head.about, head.stage, head.tuning, dict(head.targets), tuple(parts), tuple(problems))


def known_family(name: str) -> str:
    """The name of a family; raises `UnknownName` with the nearest one."""
    if name in FAMILIES:
        return name
    near = difflib.get_close_matches(name[:60], FAMILIES, n=1, cutoff=0.0)[0]
    raise UnknownName(f"There is no family {quoted(name)}.", f"The nearest is “{near}”.")


def _toml(path: Path) -> dict[str, Any]:
    try:
        if not path.is_file() and path.exists():
            raise BadFile(str(path), "", "is not a file.", "Give the path of a deck file.")
        if path.stat().st_size > MOST_BYTES:
            raise BadFile(str(path), "", "is too large for a deck.", f"A deck file holds at most {MOST_BYTES} bytes.")
        return tomllib.loads(path.read_bytes().decode("utf-8-sig"))  # some editors put a mark first
    except OSError as error:
        raise BadFile(str(path), "", f"cannot be read ({error.strerror}).", "Check the path.") from error
    except UnicodeDecodeError as error:
        raise BadFile(str(path), "", f"byte {error.start} is not UTF-8 text.", "Save the file as UTF-8.") from error
    except (ValueError, RecursionError) as error:  # ValueError also for a number of thousands of digits
        raise BadFile(str(path), "", f"is not TOML: {error}.", "See the format in the README.") from error


# -- mistakes of form --------------------------------------------------------------------------------------------------


def _salvaged(form: type[_Form], values: dict[str, Any], where: str) -> tuple[_Form, list[Problem]]:
    """The form with every field that is sound, and a problem for each that is not."""
    try:
        return form.model_validate(values), []
    except ValidationError as error:
        mistakes = error.errors(include_url=False)
    bad = {str(each["loc"][0]) for each in mistakes}
    sound = {name: value for name, value in values.items() if name not in bad}
    blanks = {name: blank for name, blank in _BLANKS.items() if name in form.model_fields}
    problems = {problem.field: problem for problem in (_explained(form, each, where) for each in mistakes)}
    # a field and an item in it are told once: the item
    return form.model_construct(None, **(blanks | sound)), [
        problem for name, problem in problems.items() if not any(other.startswith(f"{name}.") for other in problems)
    ]


def _explained(form: type[_Strict], error: Any, where: str) -> Problem:
    """A mistake of form, in a sentence. Both halves of "a list or a word" complain: they are told as one."""
    field, *inner = error["loc"]
    steps = [str(step + 1) if isinstance(step, int) else str(step) for step in inner if not _is_tag(str(step))]
    name = where + ".".join([str(field), *steps])
    if error["type"] == "extra_forbidden":
        near = difflib.get_close_matches(str(field)[:60], _known(form), n=1, cutoff=0.0)[0]
        return Problem(where + quoted(str(field))[1:-1], "there is no such field.", f"The nearest is “{near}”.")
    if error["type"] == "missing":
        return Problem(name, "is missing.", f"Write {EXAMPLES[str(field)]}.")
    found = quoted(str(error["input"]))
    return Problem(name, f"{found} does not fit.", f"Write {EXAMPLES[str(field)]}.")


def _known(form: type[_Strict]) -> list[str]:
    return [*form.model_fields, *(["part"] if form is Head else [])]


def _is_tag(step: str) -> bool:
    """Whether a step of a path is a name the checker gave to one half of "a list or a word"."""
    return step.startswith(("list[", "literal["))


# -- mistakes of meaning -----------------------------------------------------------------------------------------------


def _judge_names(head: Head, targets: object) -> Iterator[Problem]:
    yield from _named("tuning", [head.tuning] if head.tuning else [], find_tuning)
    yield from _named("targets", targets if isinstance(targets, dict) else [], known_family)


def _judge_part(where: str, part: Part) -> Iterator[Problem]:
    yield from _named(f"{where}.families", part.families, known_family)
    if isinstance(part.keys, list):
        yield from _named(f"{where}.keys", part.keys, parse_key)
    yield from _named(f"{where}.loops", part.loops, read_loop)
    if part.frets[0] > part.frets[1]:
        yield Problem(f"{where}.frets", f"{part.frets} runs backwards.", "Write the lower fret first.")
    for name in ("strings", "keys", "shapes"):
        if getattr(part, name) == []:
            yield Problem(f"{where}.{name}", "is an empty list.", f"Write {EXAMPLES[name]}.")


def _named(field_name: str, names: Iterable[str], find: Callable[[str], object]) -> Iterator[Problem]:
    for name in names:
        try:
            find(name)
        except UsageProblem as error:
            yield Problem(field_name, error.message, error.fix)
