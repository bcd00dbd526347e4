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
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal, NamedTuple, TypeVar

from drill.errors import BadFile, UnknownName, UsageProblem
from drill.questions.catalogue import FAMILIES
from drill.questions.families.loops import read_loop
from drill.system import input_files
from drill.system.tunings import find_tuning
from drill.system.validation import LONGEST_LIST, Check, describe, line, list_of, number, table, text, word
from drill.theory.keys import parse_key
from drill.theory.names import quoted
from drill.theory.neck import MOST_FRETS

MOST_PARTS = 40

LAST_STAGE = 5
"""Stages go from a beginner's first notes (1) to answers within a bar (5)."""

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


_CHECKS: dict[str, Check] = {
    "title": line(),
    "about": line(),
    "stage": number(1, LAST_STAGE),
    "tuning": text,
    "targets": table(number(0.3, 60, (int, float))),
    "families": list_of(text, shortest=1),
    "strings": list_of(number(), words=("anchors", "all")),
    "frets": list_of(number(0, MOST_FRETS), shortest=2, longest=2),
    "notes": word("naturals", "all"),
    "keys": list_of(text, words=("everyday", "all")),
    "shapes": list_of(text, words=("anchors", "all")),
    "loops": list_of(text),
}
"""What fits in each field."""


class Part(NamedTuple):
    """One stretch of a deck: families over one scope."""

    families: list[str]
    strings: list[int] | Literal["anchors", "all"] = "anchors"
    frets: Sequence[int] = (0, 12)
    notes: Literal["naturals", "all"] = "all"
    keys: list[str] | Literal["everyday", "all"] = "everyday"
    shapes: list[str] | Literal["anchors", "all"] = "anchors"
    loops: Sequence[str] = ()


class Head(NamedTuple):
    """What a deck file says before its parts."""

    title: str
    about: str
    stage: int = LAST_STAGE
    tuning: str = ""
    targets: Mapping[str, float] = MappingProxyType({})


_Form = TypeVar("_Form", Head, Part)


class Problem(NamedTuple):
    """One mistake in a deck file."""

    field: str
    problem: str
    fix: str


class DeckFile(NamedTuple):
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
    if len(raw_parts) > MOST_PARTS:
        problems.append(Problem("part", f"holds more than {MOST_PARTS} parts.", "Make several decks of it."))
        raw_parts = raw_parts[:MOST_PARTS]
    for place, raw in enumerate(raw_parts, start=1):
        part, mistakes = _salvaged(Part, raw, f"part.{place}.")
        parts.append(part)
        problems += (*mistakes, *_judge_part(f"part.{place}", part))
    return DeckFile(head.title, head.about, head.stage, head.tuning, dict(head.targets), tuple(parts), tuple(problems))


def known_family(name: str) -> str:
    """The name of a family; raises `UnknownName` with the nearest one."""
    if name in FAMILIES:
        return name
    near = difflib.get_close_matches(name[:60], FAMILIES, n=1, cutoff=0.0)[0]
    raise UnknownName(f"There is no family {quoted(name)}.", f"The nearest is “{near}”.")


def _toml(path: Path) -> dict[str, Any]:
    try:
        written = input_files.read_text(path, "Give the path of a deck file.")
    except FileNotFoundError as error:
        raise BadFile(str(path), "", f"cannot be read ({error.strerror}).", "Check the path.") from error
    return input_files.parse_toml(written, str(path), "See the format in the README.")


# -- mistakes of form --------------------------------------------------------------------------------------------------


def _salvaged(form: type[_Form], values: dict[str, Any], where: str) -> tuple[_Form, list[Problem]]:
    """The form with every field that is sound, and a problem for each that is not."""
    own: tuple[str, ...] = form._fields
    sound: dict[str, Any] = {}
    problems: list[Problem] = []
    for name in own:
        if name not in values:
            if name in _BLANKS:
                problems.append(Problem(where + name, "is missing.", f"Write {EXAMPLES[name]}."))
        elif misfits := list(_CHECKS[name](values[name])):
            problems += (_misfit(where, name, way, found) for way, found in misfits)
        else:
            sound[name] = values[name]
    known = [*own, *(["part"] if form is Head else [])]
    strangers = [name for name in values if name not in own]
    problems += (_stranger(where, name, known) for name in strangers[:LONGEST_LIST])
    blanks = {name: blank for name, blank in _BLANKS.items() if name in own}
    return form(**(blanks | sound)), problems


def _misfit(where: str, name: str, way: tuple[str | int, ...], found: object) -> Problem:
    place = where + ".".join(map(str, (name, *way)))
    return Problem(place, f"{quoted(describe(found))} does not fit.", f"Write {EXAMPLES[name]}.")


def _stranger(where: str, name: str, known: list[str]) -> Problem:
    near = difflib.get_close_matches(name[:60], known, n=1, cutoff=0.0)[0]
    return Problem(where + quoted(name)[1:-1], "there is no such field.", f"The nearest is “{near}”.")


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
    for name in islice(names, LONGEST_LIST):  # a list that is longer is told already
        try:
            find(name)
        except UsageProblem as error:
            yield Problem(field_name, error.message, error.fix)
