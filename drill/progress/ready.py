"""How ready a key is: the chance that all it takes to play in it comes right, each thing within one bar.

To play in a key in both shapes it takes its relative, the index fret of each shape, and the finger on the tonic in
each shape: five answers. Readiness is the product of their chances, each within one bar of four beats at the learner's
tempo. Cards a deck does not ask count too, at what the facts they rest on promise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drill.decks import Deck, Focus, entry_of
from drill.errors import UsageProblem
from drill.memory import Learner, readiness
from drill.progress.standing import Standing
from drill.questions.catalogue import FAMILIES
from drill.questions.scope import Scope
from drill.theory.keys import PRACTICAL_KEYS, Key
from drill.theory.neck import Neck

NEEDED = ("relative-minor", "relative-major", "tonic-finger", "shape-anchor")
BEATS_IN_A_BAR = 4
HELD_BACK_BELOW = 0.9
"""A card less likely than this to come right within the bar holds its key back."""


def bar_seconds(tempo_bpm: float) -> float:
    """How long a bar of four beats lasts."""
    return BEATS_IN_A_BAR * 60.0 / tempo_bpm


@dataclass(frozen=True, slots=True)
class Needed:
    """One answer a key takes: where its card stands, the chance that it comes right within the bar, and whether the
    deck asks it."""

    standing: Standing
    in_time: float
    asked_by_deck: bool


@dataclass(frozen=True, slots=True)
class KeyReadiness:
    """A key, the chance (0 to 1) that all it takes comes right within a bar, and what that rests on, weakest first."""

    key: Key
    readiness: float
    needed: tuple[Needed, ...]

    @property
    def met(self) -> int:
        """How many of the needed cards were ever met."""
        return sum(needed.standing.met for needed in self.needed)

    @property
    def held_back_by(self) -> tuple[Needed, ...]:
        """The needed cards that hold the key back, weakest first."""
        return tuple(needed for needed in self.needed if needed.in_time < HELD_BACK_BELOW)

    @property
    def focus(self) -> Focus:
        """A drill of this key."""
        return Focus(keys=(self.key,))


def key_readiness(deck: Deck, learner: Learner, now_s: float, bar_s: float) -> tuple[KeyReadiness, ...]:
    """The 24 everyday keys in teaching order, each major key followed by its relative minor; keys whose shapes this
    neck does not hold are left out. `bar_s` is the length of a bar in seconds."""
    found = ((key, needed_cards(key, deck.neck)) for key in PRACTICAL_KEYS)
    return tuple(_of(key, cards, deck, learner, now_s, bar_s) for key, cards in found if cards)


def needed_cards(key: Key, neck: Neck) -> tuple[str, ...]:
    """The ids of the cards a key takes on this neck, in the order of the curriculum; none if it has no such shape."""
    strings = neck.tuning.anchor_strings
    scope = Scope(neck, strings, keys=(key,), shapes=tuple(f"string-{string}" for string in strings))
    try:
        return tuple(_spread(key, scope))
    except UsageProblem:
        return ()


def _spread(key: Key, scope: Scope) -> Iterator[str]:
    for name in NEEDED:
        family = FAMILIES[name]
        for facets in family.spread(scope):
            if facets["key"] == key.name:  # the families of relatives offer the key's partner too
                yield family.card_id(facets, scope.neck)


def _of(key: Key, cards: tuple[str, ...], deck: Deck, learner: Learner, now_s: float, bar_s: float) -> KeyReadiness:
    entries = [deck.entries.get(card) or entry_of(card)[0] for card in cards]
    needed = [
        Needed(
            Standing.of(entry, learner, now_s),
            readiness(learner, [entry.item], now_s, bar_s),
            entry.item.card in deck.entries,
        )
        for entry in entries
    ]
    chance = readiness(learner, [entry.item for entry in entries], now_s, bar_s)
    return KeyReadiness(key, chance, tuple(sorted(needed, key=lambda each: each.in_time)))
