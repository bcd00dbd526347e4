"""Reads a deck file, and finds every mistake in it; the format is in `fields`.

read         a file, and every mistake of form and of names in it
Part         one stretch of a deck; a malformed field is reported and left out, so that the rest can be checked too
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from itertools import islice
from pathlib import Path
from types import MappingProxyType
from typing import Any, Literal, NamedTuple

from drill.decks.fields import FIELDS, LAST_STAGE, check_fields
from drill.decks.homework import Goal, Homework, read_day
from drill.decks.names import read_key, read_loop
from drill.errors import BadFile, UnknownName, UsageProblem
from drill.questions.catalogue import find_family
from drill.system import input_files, resources
from drill.system.tunings import find_tuning
from drill.system.validation import LONGEST_LIST, Problem
from drill.theory.names import quoted

MOST_PARTS = 40


class Part(NamedTuple):
    """One stretch of a deck: families over one scope."""

    families: list[str]
    strings: list[int] | Literal["anchors", "all"] = "anchors"
    frets: Sequence[int] = (0, 12)
    notes: Literal["naturals", "all"] = "all"
    keys: list[str] | Literal["everyday", "all"] = "everyday"
    shapes: list[str] | Literal["anchors", "all"] = "anchors"
    loops: Sequence[str] = ()
    order: Literal["family by family", "key by key"] = "family by family"


class Head(NamedTuple):
    """What a deck file says before its parts."""

    title: str
    about: str
    stage: int = LAST_STAGE
    next: str = ""
    tuning: str = ""
    until: date | str | None = None
    goal: str = ""
    note: str = ""
    by: str = ""
    targets: Mapping[str, float] = MappingProxyType({})

    @property
    def homework(self) -> Homework | None:
        """What is set with the deck, None if nothing is."""
        until = None if self.until is None else read_day(self.until)
        found = Homework(until, Goal.read(self.goal) if self.goal else None, self.note, self.by)
        return found if any(found) else None


class DeckFile(NamedTuple):
    """A deck file as far as it can be understood, and every mistake found in it."""

    head: Head
    parts: tuple[Part, ...]
    problems: tuple[Problem, ...]

    @property
    def families(self) -> tuple[str, ...]:
        """Every family that a part asks, in the order of the parts."""
        return tuple(dict.fromkeys(name for part in self.parts for name in part.families))


def read(path: Path) -> DeckFile:
    """A deck file with every mistake of form and of names in it. Raises `BadFile` if it is not a TOML file at all."""
    values = _toml(path)
    strays = _lifted(values)
    tables, problems_of_tables = _part_tables(values.pop("part", None))
    fields, problems = check_fields(Head._fields, values, "")
    head = Head(**fields)
    problems += (*strays, *_check_head(head, values.get("targets")), *problems_of_tables)
    parts: list[Part] = []
    for place, raw in enumerate(tables, start=1):
        fields, mistakes = check_fields(Part._fields, raw, f"part.{place}.")
        parts.append(Part(**fields))
        problems += (*mistakes, *_check_part(f"part.{place}", parts[-1]))
    return DeckFile(head, tuple(parts), tuple(problems))


def _lifted(values: dict[str, Any]) -> list[Problem]:
    """Put fields of the whole deck that stand below a table, and so inside it, where they belong; report each."""
    found = []
    targets, parts = values.get("targets"), values.get("part")
    inside = [(targets, "targets", "[targets]")] if isinstance(targets, dict) else []
    for place, part in enumerate(parts if isinstance(parts, list) else (), start=1):
        inside += [(part, f"part.{place}", "[[part]]")] if isinstance(part, dict) else []
    for table, where, written in inside:
        for name in [name for name in table if name in Head._fields and name != "targets"]:
            values.setdefault(name, table.pop(name))
            found.append(Problem(f"{where}.{name}", f"stands below {written}, and so belongs to it.", _ABOVE))
    return found


_ABOVE = "Move the line up, above [targets] and the first [[part]]."


def _part_tables(raw: object) -> tuple[list[dict[str, Any]], list[Problem]]:
    """The [[part]] tables, at most `MOST_PARTS` of them, and what is wrong with their list."""
    if isinstance(raw, dict):
        single = Problem("part", "stands in single brackets.", "Write [[part]], with two brackets on each side.")
        return [raw], [single]
    if not isinstance(raw, list) or not raw or not all(isinstance(each, dict) for each in raw):
        return [], [
            Problem("part", "is missing, or is not a list of parts.", "Write [[part]] above each stretch of families.")
        ]
    if len(raw) > MOST_PARTS:
        too_many = Problem("part", f"has more than {MOST_PARTS} parts.", "Split it into several decks.")
        return raw[:MOST_PARTS], [too_many]
    return raw, []


def _toml(path: Path) -> dict[str, Any]:
    try:
        written = input_files.read_text(path, "Give the path of a deck file.")
    except FileNotFoundError as error:
        raise BadFile(str(path), "", f"cannot be read ({error.strerror}).", "Check the path.") from error
    return input_files.parse_toml(written, str(path), "See the format: fretsure help deck")


# -- names that must exist ---------------------------------------------------------------------------------------------


def _check_head(head: Head, targets: object) -> Iterator[Problem]:
    yield from check_names("next", [head.next] if head.next else [], _find_next)
    yield from check_names("tuning", [head.tuning] if head.tuning else [], find_tuning)
    yield from check_names("targets", targets if isinstance(targets, dict) else [], find_family)


def _find_next(name: str) -> None:
    known = {*resources.deck_files(), *resources.added_deck_files()}
    if name not in known and not name.endswith(".toml"):
        fix = f"Decks: {', '.join(resources.deck_files())}, or the path of a file."
        raise UnknownName(f"There is no deck {quoted(name)}.", fix)


def _check_part(where: str, part: Part) -> Iterator[Problem]:
    yield from check_names(f"{where}.families", part.families, find_family)
    if isinstance(part.keys, list):
        yield from check_names(f"{where}.keys", part.keys, read_key)
    yield from check_names(f"{where}.loops", part.loops, read_loop)
    if part.frets[0] > part.frets[1]:
        yield Problem(f"{where}.frets", f"{part.frets} runs backwards.", "Write the lower fret first.")
    for name in ("strings", "keys", "shapes"):
        if getattr(part, name) == []:
            yield Problem(f"{where}.{name}", "is an empty list.", f"Write {FIELDS[name].example}.")


def check_names(field_name: str, names: Iterable[str], find: Callable[[str], object]) -> Iterator[Problem]:
    """A mistake for each name that `find` refuses with a UsageProblem."""
    for name in islice(names, LONGEST_LIST):  # a longer list has its own problem
        try:
            find(name)
        except UsageProblem as error:
            yield Problem(field_name, error.message, error.fix)
