"""Every mistake in a deck file, each with its field and its fix."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial
from pathlib import Path

from drill.decks import deck_file
from drill.decks.deck_file import DeckFile, Part, check_names
from drill.decks.homework import Goal
from drill.decks.layout import PartCards, build_deck, neck_for, part_stretches
from drill.decks.targets import LEAST_S
from drill.errors import UnknownName, UsageProblem
from drill.questions.catalogue import FAMILIES
from drill.system.tunings import tunings
from drill.system.validation import Problem
from drill.theory.keys import PRACTICAL_KEYS
from drill.theory.neck import MOST_FRETS, STANDARD, Neck
from drill.theory.shapes import find_shape


def check_deck(path: Path) -> list[Problem]:
    """Every mistake in a deck file: of form and of names first, then what its instrument cannot be asked.

    Raises `BadFile` if the file cannot be read at all.
    """
    file = deck_file.read(path)
    try:
        neck = neck_for(file, Neck(STANDARD, MOST_FRETS))
    except UnknownName:  # reported already: there is no such tuning
        return list(file.problems)
    reported = {problem.field for problem in file.problems}
    parts = [*_check_parts(file, neck, reported)]
    is_sound = not parts and not any(field.partition(".")[0] == "part" for field in reported)
    return [*file.problems, *(_check_goal(file, neck) if is_sound else ()), *parts]


def _check_goal(file: DeckFile, neck: Neck) -> Iterator[Problem]:
    """Check that a deck whose parts have no mistakes can reach its goal."""
    if not file.head.goal:
        return
    goal, deck = Goal.read(file.head.goal), build_deck("", file, neck)
    most = len(deck.whole_keys) if goal.of == "keys" else len(deck.entries)
    if not most:
        fix = f"Ask shape-anchor in a part, in the anchored shapes, or write {_all_of('cards')}."
        yield Problem("goal", "counts keys, but the deck asks for the index fret of none.", fix)
    elif goal.number and goal.number > most:
        fix = f"Write {_all_of(goal.of)}."
        yield Problem("goal", f"is more than the deck asks: {goal.words(most)} is all of it.", fix)


def _all_of(of: str) -> str:
    return 'goal = "all keys ready"' if of == "keys" else 'goal = "all cards fluent"'


def remarks(path: Path, today: date) -> list[str]:
    """What is no mistake in a deck file, but does not do what it seems to, a sentence each. Raises `BadFile`."""
    head = deck_file.read(path).head
    found = [
        f"{path}, targets.{family}: {wanted:g} seconds would measure reading and typing; it counts as {LEAST_S:g}."
        for family, wanted in head.targets.items()
        if wanted < LEAST_S
    ]
    if head.homework and head.homework.until and head.homework.until < today:
        found.append(f"{path}, until: {head.homework.until} is over already.")
    return found


def _check_parts(file: DeckFile, neck: Neck, reported: set[str]) -> Iterator[Problem]:
    """Check what each part asks on this neck, but for the parts of which a field is already reported."""
    asked: set[str] = set()
    for number, part in enumerate(file.parts, start=1):
        where = f"part.{number}"
        shapes = part.shapes if isinstance(part.shapes, list) else []
        find = partial(find_shape, PRACTICAL_KEYS[0], neck.tuning)
        problems = [*_check_strings(where, part, neck), *check_names(f"{where}.shapes", shapes, find)]
        yield from problems
        if not problems and not any(_of_part(field, where) for field in reported):
            yield from _check_reach(where, part, neck, asked)


def _of_part(field: str, where: str) -> bool:
    """Whether a mistake is in a field of this part; one in a field that does not exist says nothing of the others."""
    return field.startswith(f"{where}.") and field.removeprefix(f"{where}.").partition(".")[0] in Part._fields


def _check_strings(where: str, part: Part, neck: Neck) -> Iterator[Problem]:
    for string in part.strings if isinstance(part.strings, list) else ():
        try:
            neck.tuning.refuse_missing(string)
        except UsageProblem as error:
            yield Problem(f"{where}.strings", error.message, f"{error.fix}{_tuning_with(string)}")


def _tuning_with(strings: int) -> str:
    """How to say that a deck is for an instrument with so many strings; empty where there is none."""
    name = next((name for name, tuning in tunings().items() if len(tuning.strings) == strings), None)
    return f' A deck for an instrument with {strings} strings needs its tuning: tuning = "{name}".' if name else ""


def _check_reach(where: str, part: Part, neck: Neck, asked: set[str]) -> Iterator[Problem]:
    """Check that each family finds cards, and that some of them are new; adds the ids of all of them to `asked`."""
    found: set[str] = set()
    for name in part.families:
        try:
            cards = _card_ids(name, part, neck)
        except UsageProblem as error:
            yield Problem(f"{where}.families", f"“{name}” cannot be asked: {error.message}", error.fix)
            continue
        if not cards:
            yield Problem(f"{where}.families", f"“{name}” finds nothing to ask here.", FAMILIES[name].wants)
        found |= cards
    if found and found <= asked:
        problem = "adds no cards that earlier parts don't already have."
        yield Problem(where, problem, "Leave it out, or widen its strings, frets, keys or shapes.")
    asked |= found


def _card_ids(family_id: str, part: Part, neck: Neck) -> set[str]:
    family = FAMILIES[family_id]
    asked, stretches = PartCards(part), part_stretches(part, neck)
    return {family.card_id(facets, neck) for scope in stretches for facets in asked.within(family, scope)}
