"""How well cards are known now: one by one, and grouped by string, key, shape, family and spot of the neck.

CardStatus   one card: state, strength, speed, how often it was asked
CardGroup    some cards together
GroupRow     the cards of one string, key, shape or family, with the focus that drills them
SpotRow      the cards about one spot of the neck
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from statistics import fmean
from typing import Literal, NamedTuple

from drill.decks import Deck, Entry, Focus
from drill.memory import Item, Learner, State, state_of
from drill.memory.gain import fluent_chance
from drill.present.figures import how_many
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import shape_of
from drill.questions.facts import spot_fact
from drill.questions.wording import named_key, shape_label, string_label
from drill.theory.keys import KEYS, PRACTICAL_KEYS
from drill.theory.names import joined
from drill.theory.neck import Spot
from drill.theory.shapes import Shape, find_shape

Grouping = Literal["string", "key", "shape", "family"]
SPOT = "spot:"
"""Begins the name of every fact about a spot of the neck."""
GROUPINGS: tuple[Grouping, ...] = ("string", "key", "shape", "family")


class CardStatus(NamedTuple):
    """One card now. `strength` and `fluent_chance` are chances from 0 to 1, `speed_s` and `target_s` seconds.

    Strength is the chance to name it now, and nothing else: the figure of a card, the mean of a group, the cell of a
    map. A card that was asked and has never come right counts nothing, for that its miss was corrected shows only at a
    later answer. Of a fresh card, strength is the chance at first sight and speed a guess from cards like it.
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
    is_touched: bool = False
    """Whether it was asked, or cards that rest on its facts were; to be shown one solved does not count."""

    @classmethod
    def of(cls, entry: Entry, learner: Learner, now_s: float) -> CardStatus:
        item = entry.item
        answers = learner.cards.get(item.card)
        is_wrong = answers is not None and answers.asked > 0 and not answers.right
        strength = 0.0 if is_wrong else learner.strength(item, now_s)
        return cls(
            entry=entry,
            state=state_of(learner, item, now_s),
            strength=strength,
            speed_s=learner.speed(item, now_s),
            fluent_chance=fluent_chance(learner, item, strength),
            asked=answers.asked if answers else 0,
            right=answers.right if answers else 0,
            first_s=answers.first_s if answers else None,
            last_s=answers.last_s if answers else None,
            is_touched=all(fact in learner.facts and learner.facts[fact].asked for fact in item.facts),
        )

    @property
    def item(self) -> Item:
        return self.entry.item

    @property
    def card(self) -> str:
        return self.entry.item.card

    @property
    def seen(self) -> bool:
        return self.state is not State.FRESH

    @property
    def never_right(self) -> bool:
        """Whether it was asked and has not come right yet: nothing is known that could fade."""
        return self.seen and not self.right


class CardGroup:
    """Some cards together. Means are over the cards seen, and None while there are none.

    `strength` and `fluent_chance` are chances from 0 to 1, `speed_s` and `target_s` seconds. A card seen is `fluent`,
    `slow`, `fading` or, as long as nothing is known that could fade, `never_right`; `lagging` counts all but the first.
    """

    def __init__(self, statuses: Iterable[CardStatus]) -> None:
        self.statuses = tuple(statuses)
        asked = [status for status in self.statuses if status.seen]
        states = Counter(status.state for status in asked)
        self.cards, self.seen = len(self.statuses), len(asked)
        self.slow, self.fluent = states[State.SLOW], states[State.FLUENT]
        self.never_right = sum(status.never_right for status in asked)
        self.fading = states[State.FADING] - self.never_right
        self.lagging = self.seen - self.fluent
        self.strength = _mean([status.strength for status in asked])
        self.speed_s = _mean([status.speed_s for status in asked])
        self.target_s = _mean([status.item.target_s for status in asked])
        self.fluent_chance = _mean([status.fluent_chance for status in asked])

    @property
    def lagging_words(self) -> str:
        """Those that are not fluent: '3 are fading, 2 are slow and 1 is not right yet'."""
        states = ((self.fading, "fading"), (self.slow, "slow"), (self.never_right, "not right yet"))
        parts = [how_many(count, f"is {word}", f"are {word}") for count, word in states if count]
        return joined(parts, "and")


def _mean(values: Sequence[float]) -> float | None:
    return fmean(values) if values else None


class GroupRow(CardGroup):
    """One row of a table. `label` is a sentence with marked notes (see `wording`), `focus` drills just these cards."""

    def __init__(self, name: str, label: str, focus: Focus, statuses: Iterable[CardStatus]) -> None:
        super().__init__(statuses)
        self.name, self.label, self.focus = name, label, focus


class SpotRow(CardGroup):
    """The cards about one spot of the neck: its note from its fret, its fret from its note, and whole tasks on it."""

    def __init__(self, spot: Spot, statuses: Iterable[CardStatus]) -> None:
        super().__init__(statuses)
        self.spot = spot

    @property
    def recall(self) -> float | None:
        """Its strength; before its own cards are asked, what whole tasks that rest on the spot tell of it."""
        return self.strength if self.seen else _mean([each.strength for each in self.statuses if each.is_touched])

    @property
    def focus(self) -> Focus:
        """No focus is a single spot; this one is its string with the families that ask about it."""
        families = dict.fromkeys(status.item.family for status in self.statuses)
        return Focus(strings=(self.spot.string,), families=tuple(families))


def group_rows(by: Grouping, deck: Deck, statuses: Sequence[CardStatus]) -> tuple[GroupRow, ...]:
    """The cards grouped one way, in the order a guitarist expects; groups without a card are left out."""
    rows = (
        GroupRow(name, label, focus, (s for s in statuses if focus.holds(s.entry)))
        for name, label, focus in _GROUPS[by](deck)
    )
    return tuple(row for row in rows if row.cards)


def spot_rows(deck: Deck, statuses: Sequence[CardStatus]) -> dict[Spot, SpotRow]:
    """Every spot of the neck that a card of the deck is about; a spot twelve frets up has the same cards.

    A whole task, such as an index fret, tells of its spot once it was asked; before then it is about more than a spot.
    """
    by_fact: dict[str, list[CardStatus]] = {}
    for status in statuses:
        about = [fact for fact in status.item.facts if fact.startswith(SPOT)]
        if len(about) == 1 and (status.seen or len(status.item.facts) == 1):
            by_fact.setdefault(about[0], []).append(status)
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
    for shape, aliases in names.items():
        yield aliases[0], shape_label(shape, deck.neck.tuning), Focus(shapes=tuple(aliases))


def _families(deck: Deck) -> Iterator[tuple[str, str, Focus]]:
    for family in FAMILIES.values():
        yield family.id, family.title, Focus(families=(family.id,))


_GROUPS = {"string": _strings, "key": _keys, "shape": _shapes, "family": _families}
