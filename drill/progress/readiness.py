"""How ready a learner is for a key: the chance of recalling every fact that it takes, each within one bar.

Playing in a key in both shapes takes its relative, the finger on the tonic, and the index fret of each shape. Every
fact counts once: a card is left out if other cards already cover its facts. A rule of all keys that was asked in one is
known in each. Readiness is the product of the chances that these cards are answered right, each within one bar of four
beats at the learner's tempo of today, by somebody who sits down a day after the latest drill (now, if that was longer
ago) and is asked them first. Cards that the deck does not ask count too; their chance follows from the facts they rest
on. Before anything was asked of a key itself, its readiness is a guess that nobody measured: it is planned by, and not
shown.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from drill.decks import Deck, Entry, Focus, entry_of
from drill.errors import UsageProblem
from drill.memory import Learner, Settled, Sitting, is_fresh, readiness
from drill.progress.card_status import CardStatus
from drill.progress.landings import AsPlayed
from drill.questions.catalogue import FAMILIES
from drill.questions.scope import Scope
from drill.theory.keys import PRACTICAL_KEYS, Key
from drill.theory.neck import Neck
from drill.theory.shapes import ShapeId

NEEDED = ("relative-minor", "relative-major", "tonic-finger", "shape-anchor")
RULES = ("tonic-finger",)
"""What holds in every key alike; to know it says nothing of one key."""
HELD_BACK_BELOW = 0.9
"""A card less likely than this to come right within the bar holds its key back."""


class Needed(NamedTuple):
    """A card that a key takes, the chance (0 to 1) of a right answer within the bar, and whether the deck asks it."""

    status: CardStatus
    in_time: float
    asked_by_deck: bool
    is_reached: bool = True
    """Whether the deck asks about all its facts, by this card or by others."""

    @property
    def is_measured(self) -> bool:
        """Whether the card was asked, or a card that rests on all its facts."""
        return self.status.seen or self.status.is_touched

    @property
    def holds_back(self) -> bool:
        """Whether it is unlikely enough to hold its key back."""
        return self.in_time < HELD_BACK_BELOW


class KeyReadiness(NamedTuple):
    """A key, the chance (0 to 1) that all it takes comes right within a bar, and what that rests on, weakest first."""

    key: Key
    readiness: float
    needed: tuple[Needed, ...]
    played: AsPlayed | None = None
    """How it was landed on in rounds that were heard; None where that was not measured, or not asked for."""

    @property
    def seen(self) -> int:
        """How many of the needed cards were ever asked."""
        return sum(needed.status.seen for needed in self.needed)

    @property
    def asked(self) -> bool:
        """Whether a card about this very key was ever asked."""
        return any(needed.status.seen and needed.status.item.family not in RULES for needed in self.needed)

    @property
    def measured(self) -> float | None:
        """Its readiness, None as long as it is a guess."""
        return self.readiness if self.asked else None

    @property
    def parts(self) -> tuple[int, int]:
        """Of the needed cards whose facts the deck asks about, how many are measured, and how many there are."""
        reached = [needed for needed in self.needed if needed.is_reached]
        return sum(needed.is_measured for needed in reached), len(reached)

    @property
    def in_part(self) -> bool:
        """Whether only a part of what it takes is measured: its readiness then rests on guesses, and is not shown."""
        measured, all_of_them = self.parts
        return self.asked and measured < all_of_them

    @property
    def shown(self) -> float | None:
        """Its readiness as faces show it: None before all it takes, as far as the deck asks it, is measured."""
        return None if self.in_part else self.measured

    @property
    def held_back_by(self) -> tuple[Needed, ...]:
        """The needed cards that hold the key back, weakest first; no mere guess at what no card asks."""
        return tuple(each for each in self.needed if each.holds_back and (each.asked_by_deck or each.is_measured))

    @property
    def focus(self) -> Focus:
        """A drill of this key."""
        return Focus(keys=(self.key,))


def key_readiness(
    deck: Deck, learner: Learner, now_s: float, bar_s: float, sitting: Sitting | None = None
) -> tuple[KeyReadiness, ...]:
    """The 24 everyday keys in teaching order, each major key followed by its relative minor.

    Keys whose shapes do not fit on this neck are left out. `bar_s` is the length of a bar in seconds. With a `sitting`,
    what it did not ask is shown as it was before (see `memory.sitting`).
    """
    settled = Settled(learner, sitting)
    facts = {fact for entry in deck.entries.values() for fact in entry.item.facts}

    def in_time(entry: Entry) -> float:
        return readiness(settled.of(entry.item), [entry.item], now_s, bar_s)

    def need(entry: Entry) -> Needed:
        best = max(_where_asked(entry, deck, learner), key=in_time)
        status, known = (CardStatus.of(each, settled.of(each.item), now_s) for each in (entry, best))
        reached = facts.issuperset(entry.item.facts)
        return Needed(_as_known(status, known), in_time(best), entry.item.card in deck.entries, reached)

    def row(key: Key, entries: list[Entry]) -> KeyReadiness:
        needed = sorted(map(need, entries), key=lambda each: each.in_time)
        return KeyReadiness(key, math.prod(each.in_time for each in needed), tuple(needed))

    found = ((key, needed_entries(key, deck)) for key in PRACTICAL_KEYS)
    return tuple(row(key, entries) for key, entries in found if entries)


def _where_asked(entry: Entry, deck: Deck, learner: Learner) -> list[Entry]:
    """The card itself; for a rule not asked in this key yet, the cards of the deck that asked it in others."""
    if entry.item.family not in RULES or not is_fresh(learner, entry.item):
        return [entry]
    same = (each for each in deck.entries.values() if each.item.family == entry.item.family)
    asked = [each for each in same if each.item.facts == entry.item.facts and not is_fresh(learner, each.item)]
    return asked or [entry]


def _as_known(status: CardStatus, known: CardStatus) -> CardStatus:
    """The status of a card that is as well known as another."""
    return status._replace(strength=known.strength, speed_s=known.speed_s, fluent_chance=known.fluent_chance)


def needed_entries(key: Key, deck: Deck) -> list[Entry]:
    """The cards a key takes on the deck's neck: each fact once, through a card of the deck where possible.

    None where the key's shapes do not fit on the neck.
    """
    entries = [deck.entries.get(card) or entry_of(card)[0] for card in _cards(key, deck.neck)]
    entries.sort(key=lambda entry: (NEEDED.index(entry.item.family), entry.item.card not in deck.entries))
    covered: set[str] = set()
    taken = []
    for entry in entries:
        if not covered.issuperset(entry.item.facts):
            covered.update(entry.item.facts)
            taken.append(entry)
    return taken


@lru_cache(maxsize=64)
def _cards(key: Key, neck: Neck) -> tuple[str, ...]:
    """The ids of all cards about it, in the order of the curriculum."""
    strings = neck.tuning.anchor_strings
    scope = Scope(neck, strings, keys=(key,), shapes=tuple(map(ShapeId.on, strings)))
    try:
        return tuple(_spread(key, scope))
    except UsageProblem:
        return ()


def _spread(key: Key, scope: Scope) -> Iterator[str]:
    for name in NEEDED:
        family = FAMILIES[name]
        for facets in family.spread(scope):
            if facets.key == key:  # the families of relatives offer the key's partner too
                yield family.card_id(facets, scope.neck)
