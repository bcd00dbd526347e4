"""Which card next: a drill of a few minutes, filled where a minute helps most."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from drill.memory.belief import logistic
from drill.memory.gates import TARGET_STRENGTH, is_fading, is_fluent, is_fresh, is_holding
from drill.memory.item import Attempt, Item
from drill.memory.learner import Learner
from drill.memory.worth import cost_s, rate

RETURN_S = 75.0
"""A missed card comes back after at least this many seconds ..."""
RETURN_AFTER = 3
"""... and at least this many other questions."""
OPEN_CARDS = 5
"""At most this many cards missed and not yet answered right again while fresh ones come in."""
LEAST_S = 2.0
"""With less time than this left nothing more is asked."""
REFRESH = 64
SHORTLIST = 24


class Generator(Protocol):
    """What the planner needs of a source of chance, when it is given one: `random.Random` has it."""

    def random(self) -> float:
        """A number in [0, 1)."""


@dataclass(frozen=True, slots=True)
class Choice:
    """The next card, the sort of reason it was chosen for, and that reason as a sentence.

    `sort` is one of "missed", "fading", "slow", "fresh", "holding".
    """

    card: str
    sort: str
    why: str


@dataclass(frozen=True, slots=True)
class Preview:
    """What a drill will hold: cards by state, and about how many answers fit."""

    fading: int
    slow: int
    fresh: int
    fluent: int
    answers: int


class Planner:
    """Plans one drill over `items` (the deck, or what a focus leaves of it)."""

    def __init__(self, learner: Learner, items: Sequence[Item], now_s: float, chance: Generator | None = None) -> None:
        self._learner = learner
        self._items = {item.card: item for item in sorted(items, key=lambda item: item.order)}
        self._chance = chance
        self._recent: deque[Item] = deque(maxlen=max(0, min(RETURN_AFTER, len(self._items) - 1)))
        self._missed: dict[str, tuple[float, int]] = {}
        self._asked = 0
        self._started_s = now_s
        ticks = learner.clock.read(now_s, learner.constants)
        self._rates = {card: self._rate(item, ticks) for card, item in self._items.items()}
        self._turn: deque[str] = deque(self._items)

    def preview(self, now_s: float, seconds: float) -> Preview:
        """Cards by state at `now_s`, and about how many answers fit in `seconds`."""
        items = list(self._items.values())
        fresh = sum(is_fresh(self._learner, i) for i in items)
        fading = sum(is_fading(self._learner, i, now_s) for i in items)
        fluent = sum(is_fluent(self._learner, i, now_s) for i in items)
        costs = [cost_s(self._learner, i, self._learner.strength(i, now_s)) for i in items]
        answers = round(seconds * len(costs) / sum(costs)) if costs else 0
        return Preview(fading, len(items) - fresh - fading - fluent, fresh, fluent, answers)

    def next(self, now_s: float, seconds_left: float) -> Choice | None:
        """The card to ask now; None when the time left is too short for any, or there is no card at all."""
        if seconds_left < LEAST_S or not self._items:
            return None
        ticks = self._learner.clock.read(now_s, self._learner.constants)
        self._refresh(ticks)
        missed = self._due_again(now_s)
        item = missed or self._best(now_s, ticks)
        return Choice(item.card, *self._reason(item, now_s))

    def told(self, attempt: Attempt) -> None:
        """Take note of an answer (after `Learner.observe`), so that a missed card comes back."""
        item = self._items.get(attempt.card)
        if item is None:
            return
        self._asked += 1
        self._recent.append(item)
        if attempt.right is False:
            self._missed[attempt.card] = (attempt.at_s, self._asked)
        elif attempt.right:
            self._missed.pop(attempt.card, None)

    # -- choosing -------------------------------------------------------------------------------------------------

    def _rate(self, item: Item, ticks: float) -> float:
        return rate(self._learner, item, ticks)

    def _refresh(self, ticks: float) -> None:
        """Work out anew what a slice of the cards is worth: all get their turn, none costs the learner a wait."""
        for _ in range(min(REFRESH, len(self._turn))):
            card = self._turn[0]
            self._turn.rotate(-1)
            self._rates[card] = self._rate(self._items[card], ticks)

    def _due_again(self, now_s: float) -> Item | None:
        for card, (at_s, asked) in self._missed.items():
            others = min(RETURN_AFTER, len(self._items) - 1)
            if now_s - at_s >= RETURN_S and self._asked - asked >= others and not self._gives_away(self._items[card]):
                return self._items[card]
        return None

    def _best(self, now_s: float, ticks: float) -> Item:
        fresh_allowed = len(self._missed) < OPEN_CARDS
        ranked = sorted(self._rates, key=lambda card: -self._rates[card])
        entering = self._entering(now_s) if fresh_allowed else None
        tiers: list[list[Item]] = [[], [], []]
        for card in ranked:
            item = self._items[card]
            if item in self._recent or card in self._missed:
                tiers[2].append(item)
            elif is_fresh(self._learner, item):
                if item is not entering:
                    continue
                tiers[0].append(item)
            else:
                tiers[1 if self._gives_away(item) else 0].append(item)
            if len(tiers[0]) >= SHORTLIST:
                break
        pool = tiers[0] or tiers[1] or tiers[2] or list(self._items.values())
        return max(pool[:SHORTLIST], key=lambda item: (self._rate(item, ticks) * self._variety(item), -item.order))

    def _entering(self, now_s: float) -> Item | None:
        """The first fresh card of the curriculum whose prerequisites hold."""
        for item in self._items.values():
            if is_fresh(self._learner, item) and not self._gives_away(item) and self._may_enter(item, now_s):
                return item
        return None

    def _may_enter(self, item: Item, now_s: float) -> bool:
        for family in item.needs:
            cards = [i for i in self._items.values() if i.family == family and set(i.facts) & set(item.facts)]
            if any(not is_holding(self._learner, i, now_s) for i in cards):
                return False
        return True

    def _gives_away(self, item: Item) -> bool:
        """True when the question before rests on a fact that this one rests on too."""
        return bool(self._recent) and bool(set(self._recent[-1].facts) & set(item.facts))

    def _variety(self, item: Item) -> float:
        """Interleaving: a card worth a fifth less for each thing it has in common with the question before."""
        if not self._recent:
            return 1.0
        before = self._recent[-1]
        return float(0.8 ** (len(before.groups & item.groups) + (before.family == item.family)))

    def _reason(self, item: Item, now_s: float) -> tuple[str, str]:
        if item.card in self._missed:
            return "missed", "You missed it earlier in this drill."
        if is_fresh(self._learner, item):
            return "fresh", "It is the next new card in the deck, and what it builds on holds."
        strength = logistic(self._learner.log_odds(item, self._learner.clock.read(now_s, self._learner.constants)))
        if strength < TARGET_STRENGTH:
            return "fading", f"It is fading: the chance that you still know it is about {strength:.0%}."
        speed = self._learner.speed(item, now_s)
        if speed > item.target_s:
            return "slow", f"You know it but slowly: about {speed:.1f} s, and the target is {item.target_s:.1f} s."
        return "holding", f"Nothing is more urgent: you know it at about {strength:.0%}, and this keeps it so."
