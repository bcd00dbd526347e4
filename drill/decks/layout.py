"""How a deck file becomes a deck: the cards that its parts ask for on one neck."""

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from drill.decks.deck import Deck
from drill.decks.deck_file import DeckFile, Part
from drill.decks.entry import Entry, make_entry
from drill.decks.targets import BAR_S, LEAST_S, target_seconds
from drill.errors import UsageProblem
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import Facets
from drill.questions.facts import Fact, letters_fact, spot_fact
from drill.questions.family import Family
from drill.questions.scope import Scope
from drill.questions.wording import frets_in_words
from drill.system.tunings import find_tuning
from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key, parse_key
from drill.theory.neck import Neck
from drill.theory.pitch import Note
from drill.theory.shapes import ShapeId


def build_deck(deck_id: str, file: DeckFile, neck: Neck, bar_s: float = BAR_S) -> Deck:
    """The deck of a file on a neck; targets follow the length of a bar, in seconds.

    A family that this instrument cannot be asked is left out, with the reason.
    """
    entries: dict[str, Entry] = {}
    refused: dict[str, list[str]] = {}
    terms = {name: _terms(FAMILIES[name], file, bar_s) for name in file.families}
    for part in file.parts:
        for name, reason in _add_part(part, terms, neck, entries):
            if name not in refused.setdefault(reason, []):
                refused[reason].append(name)
    explained = {entry.item.family for entry in entries.values()}.union(*refused.values())
    if without_cards := [name for name in file.families if name not in explained]:
        refused[f"none of the cards fit on {frets_in_words(neck.last_fret)}."] = without_cards
    left_out = tuple(f"{_titles(names)}: {reason}" for reason, names in refused.items())
    head = file.head
    return Deck(deck_id, head.title, head.about, neck, entries, left_out, head.stage, head.next, head.homework)


class Terms(NamedTuple):
    """What all cards of a family share in a deck: what they build on, and their target time in seconds."""

    needs: tuple[str, ...]
    target_s: float


def _terms(family: Family[Any], file: DeckFile, bar_s: float) -> Terms:
    wanted = file.head.targets.get(family.id)
    target_s = target_seconds(family.id, bar_s) if wanted is None else max(wanted, LEAST_S)
    return Terms(_needs_within(file.families, family), target_s)


def _needs_within(families: tuple[str, ...], family: Family[Any]) -> tuple[str, ...]:
    """The families of the deck that a family builds on; through one that the deck does not ask to those beneath it."""
    found: dict[str, None] = {}
    for name in family.needs:
        beneath = (name,) if name in families else _needs_within(families, FAMILIES[name])
        found.update(dict.fromkeys(beneath))
    return tuple(found)


def _add_part(part: Part, terms: dict[str, Terms], neck: Neck, entries: dict[str, Entry]) -> Iterator[tuple[str, str]]:
    """Add the cards of a part; gives each family that this neck does not allow, with the reason."""
    try:
        stretches = list(part_stretches(part, neck))
    except UsageProblem as error:
        yield from ((name, str(error)) for name in part.families)
        return
    asked = PartCards(part)
    for scope in stretches:
        for name in part.families:
            try:
                _add_cards(FAMILIES[name], asked, scope, terms[name], entries)
            except UsageProblem as error:
                yield name, str(error)


def _add_cards(family: Family[Any], asked: "PartCards", scope: Scope, terms: Terms, entries: dict[str, Entry]) -> None:
    """Add the cards of one family that are not there yet. Raises `UsageProblem` where the neck does not allow them."""
    for facets in asked.within(family, scope):
        card_id = family.card_id(facets, scope.neck)
        if card_id not in entries:
            order = len(entries)
            entries[card_id] = make_entry(card_id, family, facets, scope.neck, order, terms.target_s, terms.needs)


def _titles(families: Iterable[str]) -> str:
    return ", ".join(FAMILIES[name].title for name in dict.fromkeys(families))


def neck_for(file: DeckFile, neck: Neck) -> Neck:
    """The learner's neck, or the deck's own instrument without a capo."""
    if not file.head.tuning or file.head.tuning == neck.tuning.id:
        return neck
    return Neck(find_tuning(file.head.tuning), neck.frets)


# -- what a part asks --------------------------------------------------------------------------------------------------


def part_stretches(part: Part, neck: Neck) -> Iterator[Scope]:
    """What a part covers on a neck, in the order in which it is asked: all at once, or a pair of relatives at a time.

    Raises `UsageProblem` for a string the instrument lacks.
    """
    scope = part_scope(part, neck)
    if part.order == "family by family":
        yield scope
        return
    pairs: dict[Key, list[Key]] = {}
    for key in scope.keys:
        pairs.setdefault(key.minor, []).append(key)
    for keys in pairs.values():
        yield scope._replace(keys=tuple(keys))


class PartCards:
    """Which cards the families of one part ask in each of its stretches.

    Key by key, a family that asks about no key asks only what the keys of the stretch rest on: the spots of the minor
    tonic, which the index finger holds in both keys, and the letters of the two tonics.
    """

    def __init__(self, part: Part) -> None:
        self._key_by_key = part.order == "key by key"
        self._keyless: dict[str, list[tuple[Facets, tuple[Fact, ...]]]] = {}
        """By family: all facets that it asks whatever the key, with their facts; none for a family about keys."""

    def within(self, family: Family[Any], scope: Scope) -> Iterable[Facets]:
        """The facets of the cards that a family asks in one stretch."""
        keyless = self._of_no_key(family, scope) if self._key_by_key else []
        if not keyless:
            return family.spread(scope)
        minors = [key.minor for key in scope.keys]
        beneath, notes = _facts_beneath(minors, scope), _notes_beneath(minors)
        return (
            facets for facets, facts in keyless if beneath.issuperset(facts) and getattr(facets, "note", None) in notes
        )

    def _of_no_key(self, family: Family[Any], scope: Scope) -> list[tuple[Facets, tuple[Fact, ...]]]:
        """Derived once for all stretches, for they differ in their keys alone."""
        if family.id not in self._keyless:
            spread = family.spread(scope._replace(keys=()))
            self._keyless[family.id] = [(facets, family.facts(facets, scope.neck)) for facets in spread]
        return self._keyless[family.id]


def _notes_beneath(minors: Iterable[Key]) -> set[Note | None]:
    """The tonics as these keys spell them, and their letters; None stands for facets without a note."""
    letters = (Note.of(note.letter) for key in minors for note in (key.tonic, key.relative.tonic))
    return {None, *(key.tonic for key in minors), *letters}


def _facts_beneath(minors: Iterable[Key], scope: Scope) -> set[Fact]:
    spots = (spot for key in minors for spot in scope.neck.spots_of(key.tonic.pitch_class, scope.strings))
    letters = (letters_fact(key.tonic, key.relative.tonic) for key in minors)
    return {*(spot_fact(scope.neck, spot) for spot in spots), *letters}


def part_scope(part: Part, neck: Neck) -> Scope:
    """Everything a part covers on a neck. Raises `UsageProblem` for a string the instrument lacks."""
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
