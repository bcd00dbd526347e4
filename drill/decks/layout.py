"""How a deck file becomes a deck: the cards that its parts ask for on one neck."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from drill.decks.deck import Deck
from drill.decks.deck_file import DeckFile, Part
from drill.decks.entry import Entry, make_entry
from drill.errors import UsageProblem
from drill.questions.catalogue import FAMILIES
from drill.questions.family import Family
from drill.questions.scope import Scope
from drill.questions.wording import frets_in_words
from drill.system.tunings import find_tuning
from drill.theory.keys import KEYS, PRACTICAL_KEYS, parse_key
from drill.theory.neck import Neck
from drill.theory.shapes import ShapeId


def build_deck(deck_id: str, file: DeckFile, neck: Neck) -> Deck:
    """The deck of a file on a neck. A family that this instrument cannot be asked is left out, with the reason."""
    entries: dict[str, Entry] = {}
    refused: dict[str, list[str]] = {}
    for part in file.parts:
        for name, reason in _add_part(part, file, neck, entries):
            refused.setdefault(reason, []).append(name)
    explained = {entry.item.family for entry in entries.values()}.union(*refused.values())
    if without_cards := [name for name in file.families if name not in explained]:
        refused[f"none of the cards fit on {frets_in_words(neck.last_fret)}."] = without_cards
    left_out = tuple(f"{_titles(names)}: {reason}" for reason, names in refused.items())
    head = file.head
    return Deck(deck_id, head.title, head.about, neck, entries, left_out, head.stage)


def _add_part(part: Part, file: DeckFile, neck: Neck, entries: dict[str, Entry]) -> Iterator[tuple[str, str]]:
    """Add the cards of a part; gives each family that this neck does not allow, with the reason."""
    try:
        scope = part_scope(part, neck)
    except UsageProblem as error:
        yield from ((name, str(error)) for name in part.families)
        return
    for name in part.families:
        try:
            _add_cards(FAMILIES[name], scope, file, entries)
        except UsageProblem as error:
            yield name, str(error)


def _add_cards(family: Family[Any], scope: Scope, file: DeckFile, entries: dict[str, Entry]) -> None:
    """Add the cards of one family that are not there yet. Raises `UsageProblem` where the neck does not allow them."""
    needs = tuple(name for name in family.needs if name in file.families)
    target_s = file.head.targets.get(family.id, family.target_s)
    for facets in family.spread(scope):
        card_id = family.card_id(facets, scope.neck)
        if card_id not in entries:
            entries[card_id] = make_entry(card_id, family, facets, scope.neck, len(entries), target_s, needs)


def _titles(families: Iterable[str]) -> str:
    return ", ".join(FAMILIES[name].title for name in dict.fromkeys(families))


def neck_for(file: DeckFile, neck: Neck) -> Neck:
    """The learner's neck, or the deck's own instrument without a capo."""
    if not file.head.tuning or file.head.tuning == neck.tuning.id:
        return neck
    return Neck(find_tuning(file.head.tuning), neck.frets)


def part_scope(part: Part, neck: Neck) -> Scope:
    """What a part covers on a neck. Raises `UsageProblem` for a string the instrument lacks."""
    anchors = neck.tuning.anchor_strings
    strings = {"anchors": anchors, "all": tuple(reversed(neck.tuning.strings))}
    shapes = {"anchors": tuple(map(ShapeId.on, anchors)), "all": tuple(map(ShapeId, "12345"))}
    keys = {"everyday": PRACTICAL_KEYS, "all": KEYS}
    wanted = tuple(part.strings) if isinstance(part.strings, list) else strings[part.strings]
    for string in wanted:
        neck.tuning.refuse_missing(string)
    return Scope(
        neck=neck,
        strings=wanted,
        frets=(part.frets[0], part.frets[1]),
        naturals_only=part.notes == "naturals",
        keys=tuple(map(parse_key, part.keys)) if isinstance(part.keys, list) else keys[part.keys],
        shapes=tuple(map(ShapeId, part.shapes)) if isinstance(part.shapes, list) else shapes[part.shapes],
        loops=tuple(part.loops),
    )
