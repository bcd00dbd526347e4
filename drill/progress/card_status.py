"""Where cards stand now, one by one and gathered by string, key, shape, family and spot of the neck.

CardStatus     one card: state, strength, speed, how often it was asked
Row          some cards together, with the focus that drills them
SpotRow      the cards about one spot of the neck
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from statistics import fmean
from typing import Literal, NamedTuple

from drill.decks import Deck, Entry, Focus
from drill.memory import Item, Learner, State, state_of
from drill.memory.gain import fluent_chance
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import shape_of
from drill.questions.facts import spot_fact
from drill.questions.wording import named_key, shape_label, string_label
from drill.theory.keys import KEYS, PRACTICAL_KEYS
from drill.theory.neck import Spot
from drill.theory.shapes import Shape, find_shape

Kind = Literal["string", "key", "shape", "family"]
KINDS: tuple[Kind, ...] = ("string", "key", "shape", "family")
NOT_HOLDING_BACK = (State.FRESH, State.FLUENT)


class CardStatus(NamedTuple):
    """One card now. `strength` and `fluent_chance` are chances from 0 to 1, `speed_s` and `target_s` seconds.

    Of a fresh card, strength is the chance at first sight and speed a guess from cards like it.
    """

    entry: Entry
    state: State
    strength: float
    speed_s: float
    fluent_chance: float
    """Chance that it comes right within its target time."""
    asked: int
    right: int
    first_s: float | None
    last_s: float | None

    @classmethod
    def of(cls, entry: Entry, learner: Learner, now_s: float) -> CardStatus:
        item = entry.item
        strength = learner.strength(item, now_s)
        met = learner.cards.get(item.card)
        return cls(
            entry=entry,
            state=state_of(learner, item, now_s),
            strength=strength,
            speed_s=learner.speed(item, now_s),
            fluent_chance=fluent_chance(learner, item, strength),
            asked=met.asked if met else 0,
            right=met.right if met else 0,
            first_s=met.first_s if met else None,
            last_s=met.last_s if met else None,
        )

    @property
    def item(self) -> Item:
        return self.entry.item

    @property
    def card(self) -> str:
        return self.entry.item.card

    @property
    def met(self) -> bool:
        return self.state is not State.FRESH


class Group:
    """Some cards together. Means are over the cards that were met, and None while none was."""

    def __init__(self, standings: Iterable[CardStatus]) -> None:
        self.standings = tuple(standings)
        self._met = [standing for standing in self.standings if standing.met]

    @property
    def cards(self) -> int:
        return len(self.standings)

    @property
    def met(self) -> int:
        return len(self._met)

    def count(self, state: str) -> int:
        """How many are in this state."""
        return sum(standing.state == state for standing in self.standings)

    @cached_property
    def strength(self) -> float | None:
        """Mean chance of recall now, 0 to 1."""
        return fmean(standing.strength for standing in self._met) if self._met else None

    @cached_property
    def speed_s(self) -> float | None:
        """Mean expected thinking time in seconds."""
        return fmean(standing.speed_s for standing in self._met) if self._met else None

    @cached_property
    def target_s(self) -> float | None:
        """Mean target time in seconds, to hold the speed against."""
        return fmean(standing.item.target_s for standing in self._met) if self._met else None

    @cached_property
    def fluent_chance(self) -> float | None:
        """Mean chance that a card comes right within its target time, 0 to 1."""
        return fmean(standing.fluent_chance for standing in self._met) if self._met else None

    @property
    def lagging(self) -> int:
        """How many were met and are not fluent: fading or slow."""
        return sum(standing.state not in NOT_HOLDING_BACK for standing in self.standings)


class Row(Group):
    """One line of a table. `label` is a sentence with marked notes (see `wording`), `focus` drills just these cards."""

    def __init__(self, kind: Kind, name: str, label: str, focus: Focus, standings: Iterable[CardStatus]) -> None:
        super().__init__(standings)
        self.kind, self.name, self.label, self.focus = kind, name, label, focus


class SpotRow(Group):
    """What rests on one spot of the neck alone: its note from its fret, and its fret from its note."""

    def __init__(self, spot: Spot, standings: Iterable[CardStatus]) -> None:
        super().__init__(standings)
        self.spot = spot

    @property
    def focus(self) -> Focus:
        """The nearest there is to drilling the spot: its string, and the families that ask for it."""
        families = dict.fromkeys(standing.item.family for standing in self.standings)
        return Focus(strings=(self.spot.string,), families=tuple(families))


def rows(kind: Kind, deck: Deck, standings: Sequence[CardStatus]) -> tuple[Row, ...]:
    """The table of one kind, in the order a guitarist expects; what the deck does not ask is left out."""
    made = (
        Row(kind, name, label, focus, (s for s in standings if focus.holds(s.entry)))
        for name, label, focus in _PLACES[kind](deck)
    )
    return tuple(row for row in made if row.cards)


def spot_rows(deck: Deck, standings: Sequence[CardStatus]) -> dict[Spot, SpotRow]:
    """Every spot of the neck that a card of the deck is about; twelve frets up, the same cards count."""
    by_fact: dict[str, list[CardStatus]] = {}
    for standing in standings:
        if len(standing.item.facts) == 1:
            by_fact.setdefault(standing.item.facts[0], []).append(standing)
    spots = (Spot(string, fret) for string in deck.neck.tuning.strings for fret in range(deck.neck.last_fret + 1))
    return {spot: SpotRow(spot, by_fact[fact]) for spot in spots if (fact := spot_fact(deck.neck, spot)) in by_fact}


def _strings(deck: Deck) -> Iterator[tuple[str, str, Focus]]:
    for string in reversed(deck.neck.tuning.strings):
        yield str(string), string_label(deck.neck.tuning, string), Focus(strings=(string,))


def _keys(deck: Deck) -> Iterator[tuple[str, str, Focus]]:
    for key in dict.fromkeys((*PRACTICAL_KEYS, *KEYS)):
        yield key.name, named_key(key), Focus(keys=(key,))


def _shapes(deck: Deck) -> Iterator[tuple[str, str, Focus]]:
    """A shape is one row, whether the cards name it by its string or by its number."""
    names: dict[Shape, list[str]] = {}
    for name in dict.fromkeys(filter(None, (shape_of(entry.facets) for entry in deck.entries.values()))):
        names.setdefault(find_shape(PRACTICAL_KEYS[0], deck.neck.tuning, name, deck.neck.capo), []).append(name)
    for shape, called in names.items():
        yield called[0], shape_label(shape, deck.neck.tuning), Focus(shapes=tuple(called))


def _families(deck: Deck) -> Iterator[tuple[str, str, Focus]]:
    for family in FAMILIES.values():
        yield family.id, family.title, Focus(families=(family.id,))


_PLACES = {"string": _strings, "key": _keys, "shape": _shapes, "family": _families}
