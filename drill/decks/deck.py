"""Decks: which families are asked, over which strings, frets, keys, shapes and loops.

load_deck       a deck by its name or its file's path, laid out for the learner's neck
check_deck      every mistake in a deck file, each with its field and its fix
Deck, Entry     the deck's cards in teaching order; a card itself is derived only when it is asked for
Focus           what to leave of a deck: a string, a key, a family, a shape
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from drill.decks import deck_file
from drill.decks.deck_file import DeckFile, Part, Problem
from drill.errors import BadFile, UnknownName, UsageProblem
from drill.memory import Item
from drill.questions.card import Card, Facets
from drill.questions.catalogue import FAMILIES, read_card_id
from drill.questions.family import Family
from drill.questions.ids import no_card
from drill.questions.scope import Scope, scope_of
from drill.questions.wording import frets_in_words
from drill.system import resources
from drill.system.tunings import find_tuning
from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key, parse_key
from drill.theory.names import NoteLanguage
from drill.theory.neck import MOST_FRETS, STANDARD, Neck
from drill.theory.shapes import find_shape


class Focus(NamedTuple):
    """What to leave of a deck; empty lists leave everything. Different kinds narrow, several of a kind widen."""

    strings: tuple[int, ...] = ()
    keys: tuple[Key, ...] = ()
    families: tuple[str, ...] = ()
    shapes: tuple[str, ...] = ()

    def holds(self, entry: Entry) -> bool:
        """Whether an entry is in focus."""
        groups = entry.item.groups
        wanted = (
            {f"string-{string}" for string in self.strings},
            {f"key-{key.short}" for key in self.keys},
        )
        return (
            all(not names or names & groups for names in wanted)
            and (not self.families or entry.item.family in self.families)
            # not by the groups: there a shape stands for its string, too
            and (not self.shapes or str(entry.facets.get("shape")) in self.shapes)
        )

    def as_names(self) -> dict[str, list[str | int]]:
        """The focus in plain names, as the record keeps it."""
        return {
            "strings": list(self.strings),
            "keys": [key.name for key in self.keys],
            "families": list(self.families),
            "shapes": list(self.shapes),
        }

    def __bool__(self) -> bool:
        return bool(self.strings or self.keys or self.families or self.shapes)


class Entry(NamedTuple):
    """A card's place in a deck: what it is about, and what the memory needs to know of it."""

    item: Item
    facets: Facets


class Deck(NamedTuple):
    """A deck laid out on a neck. `left_out` says, in sentences, what this instrument cannot be asked."""

    id: str
    title: str
    about: str
    neck: Neck
    entries: dict[str, Entry]
    left_out: tuple[str, ...] = ()
    stage: int = deck_file.LAST_STAGE

    @property
    def items(self) -> tuple[Item, ...]:
        """What the memory needs to know, in teaching order."""
        return tuple(entry.item for entry in self.entries.values())

    def card(self, card_id: str) -> Card:
        """The card of an id, derived anew each time; raises `UnknownName`."""
        entry = self.entries.get(card_id)
        if entry is None:
            raise UnknownName(f"There is no card “{card_id}” in the deck “{self.id}”.", "See: fretsure cards")
        return FAMILIES[entry.item.family].card(entry.facets, self.neck)

    def cards(self) -> Iterator[Card]:
        """Every card, in teaching order."""
        return (self.card(card_id) for card_id in self.entries)

    def focused(self, focus: Focus, language: NoteLanguage = "english") -> Deck:
        """The part of the deck in focus; a shape may be named by its number.

        Raises `UsageProblem` for a string or a shape that the instrument lacks, and if nothing is left, with what there
        is instead.
        """
        focus = focus._replace(shapes=self._known_shapes(focus))
        kept = {card_id: entry for card_id, entry in self.entries.items() if focus.holds(entry)}
        if not kept:
            raise UsageProblem(f"The deck “{self.title}” has no card for this focus.", self._offer(focus, language))
        return self._replace(entries=kept)

    def _known_shapes(self, focus: Focus) -> tuple[str, ...]:
        """The shapes in focus, each by its id and by its number, once its strings and shapes are known to be there."""
        tuning = self.neck.tuning
        for string in focus.strings:
            if string not in tuning.strings:
                fix = f"Strings: 1, the highest, to {len(tuning.strings)}."
                raise UsageProblem(f"{tuning.title} has no string {string}.", fix)
        shapes = [find_shape(PRACTICAL_KEYS[0], tuning, name, self.neck.capo) for name in focus.shapes]
        return tuple(name for shape in shapes for name in (shape.id, str(shape.number)))

    def _asks(self, focus: Focus) -> bool:
        return any(focus.holds(entry) for entry in self.entries.values())

    def _offer(self, focus: Focus, language: NoteLanguage) -> str:
        """The nearest that can be asked: parts of the focus that find cards alone, a key of the same sound."""
        parts = [
            *((f"string {string}", Focus(strings=(string,))) for string in focus.strings),
            *((key.typed_in(language), Focus(keys=(key,))) for key in focus.keys),
            *((f"“{FAMILIES[name].title}”", Focus(families=(name,))) for name in focus.families),
            *((f"shape {name}", Focus(shapes=(name,))) for name in focus.shapes),
        ]
        found = [text for text, alone in parts if self._asks(alone)]
        if found and len(parts) > 1:
            return f"Alone, there are cards for {' and for '.join(found)}."
        same = (key for key in KEYS for wanted in focus.keys if key != wanted and key.sounds_like(wanted))
        twin = next((key for key in same if self._asks(Focus(keys=(key,)))), None)
        if twin is not None:
            return f"There are cards for {twin.typed_in(language)}, which sounds the same."
        families = dict.fromkeys(FAMILIES[entry.item.family].title for entry in self.entries.values())
        return f"It asks: {', '.join(families)}. Another deck may have it: see the list of decks."


def load_deck(name: str, neck: Neck) -> Deck:
    """A shipped deck by name, or a deck file by path, laid out on the neck (on its own tuning, if it names one).

    Raises `UnknownName` with the nearest names, `BadFile` for the first mistake in the file, or `UsageProblem` where
    this instrument cannot be asked anything of it.
    """
    path = _find(name)
    deck = _read(path, neck)
    if not deck.entries:
        raise UsageProblem(f"The deck “{deck.title}” has nothing to ask on this instrument.", " ".join(deck.left_out))
    return deck


def shipped_decks(neck: Neck) -> tuple[Deck, ...]:
    """Every deck that ships with the program, from a beginner's on, also those that are empty on this instrument."""
    decks = (_read(path, neck) for path in resources.deck_files().values())
    return tuple(sorted(decks, key=lambda deck: deck.stage))


def check_deck(path: Path) -> list[Problem]:
    """Every mistake in a deck file: of form and of names first, then what its instrument cannot be asked.

    Raises `BadFile` if it cannot be read at all.
    """
    file = deck_file.read(path)
    try:
        neck = _neck_for(file, Neck(STANDARD, MOST_FRETS))
    except UnknownName:  # told already: such a tuning is not known
        return list(file.problems)
    told = {problem.field for problem in file.problems}
    return [*file.problems, *_judge_layout(file, neck, told)]


def entry_of(card_id: str) -> tuple[Entry, Neck]:
    """What a card id alone says: enough to judge an old attempt whatever deck is in use now. Raises `UnknownName`."""
    name = read_card_id(card_id)
    neck = Neck(find_tuning(name.tuning), MOST_FRETS, name.capo)
    family, facets = name.family, name.facets
    written = any(each == facets for each in family.spread(scope_of(facets, neck)))
    if not written or family.card_id(facets, neck) != card_id:
        raise no_card(card_id)
    return _entry(card_id, family, facets, neck, 0, family.target_s, ()), neck


def _find(name: str) -> Path:
    shipped = resources.deck_files()
    if name in shipped:
        return shipped[name]
    if name.endswith(".toml") or Path(name).name != name:
        return Path(name)
    near = difflib.get_close_matches(name, shipped, n=2, cutoff=0.4)
    meant = f"Did you mean {' or '.join(near)}? " if near else ""
    raise UnknownName(f"There is no deck “{name[:60]}”.", f"{meant}Decks: {', '.join(shipped)}, or the path of a file.")


def _read(path: Path, neck: Neck) -> Deck:
    file = deck_file.read(path)
    if file.problems:
        first = file.problems[0]
        raise BadFile(str(path), first.field, first.problem, first.fix)
    return _lay_out(path.stem, file, _neck_for(file, neck))


def _judge_layout(file: DeckFile, neck: Neck, told: set[str]) -> Iterator[Problem]:
    """Lay the deck out as it would be asked, part by part, leaving out parts with mistakes that are told already."""
    asked: set[str] = set()
    for number, part in enumerate(file.parts, start=1):
        where = f"part.{number}"
        problems = [*_judge_strings(where, part, neck), *_judge_shapes(where, part, neck)]
        yield from problems
        if not problems and not any(field.startswith(f"{where}.") for field in told):
            yield from _judge_reach(where, part, neck, asked)


def _judge_strings(where: str, part: Part, neck: Neck) -> Iterator[Problem]:
    count = len(neck.tuning.strings)
    for string in part.strings if isinstance(part.strings, list) else ():
        if string not in neck.tuning.strings:
            fix = f"Strings: 1 to {count}. A deck for another instrument names it: {deck_file.EXAMPLES['tuning']}."
            yield Problem(f"{where}.strings", f"{neck.tuning.title} has no string {string}.", fix)


def _judge_shapes(where: str, part: Part, neck: Neck) -> Iterator[Problem]:
    for name in part.shapes if isinstance(part.shapes, list) else ():
        try:
            find_shape(PRACTICAL_KEYS[0], neck.tuning, name)
        except UsageProblem as error:
            yield Problem(f"{where}.shapes", error.message, error.fix)


def _judge_reach(where: str, part: Part, neck: Neck, asked: set[str]) -> Iterator[Problem]:
    """What this part asks that no part before it has asked; `asked` grows by it."""
    before = len(asked)
    scope, reached = _scope(part, neck), False
    for name in part.families:
        try:
            ids = {FAMILIES[name].card_id(facets, neck) for facets in FAMILIES[name].spread(scope)}
        except UsageProblem as error:
            yield Problem(f"{where}.families", f"“{name}” cannot be asked: {error.message}", error.fix)
            continue
        if not ids:
            yield Problem(f"{where}.families", f"“{name}” asks nothing here.", FAMILIES[name].wants)
        asked |= ids
        reached = reached or bool(ids)
    if reached and len(asked) == before:
        yield Problem(where, "asks only what the parts before it ask.", "Leave it out, or widen what it is about.")


def _neck_for(file: DeckFile, neck: Neck) -> Neck:
    """The learner's neck, or the deck's own instrument without a capo."""
    if not file.tuning or file.tuning == neck.tuning.id:
        return neck
    return Neck(find_tuning(file.tuning), neck.frets)


def _scope(part: Part, neck: Neck) -> Scope:
    """What a part covers on a neck. Raises `UsageProblem` for a string the instrument lacks."""
    anchors = neck.tuning.anchor_strings
    strings = {"anchors": anchors, "all": tuple(reversed(neck.tuning.strings))}
    shapes = {"anchors": tuple(f"string-{string}" for string in anchors), "all": ("1", "2", "3", "4", "5")}
    keys = {"everyday": PRACTICAL_KEYS, "all": KEYS}
    wanted = tuple(part.strings) if isinstance(part.strings, list) else strings[part.strings]
    missing = [string for string in wanted if string not in neck.tuning.strings]
    if missing:
        fix = f"Strings: 1 to {len(neck.tuning.strings)}."
        raise UsageProblem(f"{neck.tuning.title} has no string {missing[0]}.", fix)
    return Scope(
        neck=neck,
        strings=wanted,
        frets=(part.frets[0], part.frets[1]),
        naturals_only=part.notes == "naturals",
        keys=tuple(map(parse_key, part.keys)) if isinstance(part.keys, list) else keys[part.keys],
        shapes=tuple(part.shapes) if isinstance(part.shapes, list) else shapes[part.shapes],
        loops=tuple(part.loops),
    )


def _lay_out(deck_id: str, file: DeckFile, neck: Neck) -> Deck:
    entries: dict[str, Entry] = {}
    refused: dict[str, dict[str, None]] = {}
    present = frozenset(name for part in file.parts for name in part.families)
    for part in file.parts:
        try:
            scope = _scope(part, neck)
        except UsageProblem as error:
            refused.setdefault(str(error), {}).update((FAMILIES[name].title, None) for name in part.families)
            continue
        for family in (FAMILIES[name] for name in part.families):
            target_s = file.targets.get(family.id, family.target_s)
            needs = tuple(name for name in family.needs if name in present)
            try:
                for facets in family.spread(scope):
                    card_id = family.card_id(facets, neck)
                    if card_id not in entries:
                        entries[card_id] = _entry(card_id, family, facets, neck, len(entries), target_s, needs)
            except UsageProblem as error:
                refused.setdefault(str(error), {})[family.title] = None
    asked = {entry.item.family for entry in entries.values()}
    told = {title for titles in refused.values() for title in titles}
    missing = [FAMILIES[name].title for part in file.parts for name in part.families if name not in asked]
    if short := [title for title in dict.fromkeys(missing) if title not in told]:
        refused[f"nothing of it fits on {frets_in_words(neck.last_fret)}."] = dict.fromkeys(short)
    left_out = tuple(f"{', '.join(titles)}: {reason}" for reason, titles in refused.items())
    return Deck(deck_id, file.title, file.about, neck, entries, left_out, file.stage)


def _entry(
    card_id: str, family: Family, facets: Facets, neck: Neck, order: int, target_s: float, needs: tuple[str, ...]
) -> Entry:
    facts, groups = family.facts(facets, neck), family.groups(facets, neck)
    return Entry(Item(card_id, family.id, order, target_s, facts, needs, groups), facets)
