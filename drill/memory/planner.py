"""Which card next: a drill of a few minutes, filled where a minute helps most.

In this order:

1. A card missed in this drill comes back after RETURN_S seconds and RETURN_AFTER other questions.
2. A card met before whose strength is below REFRESH_BELOW and that this drill has not asked yet, the one with the
   highest gain per second first (see `worth`).
3. A fresh card, in curriculum order, when what it needs holds and fewer than OPEN_CARDS missed ones wait.
4. Any other, highest gain per second first: known but slow ones have the most to gain.

Never the card just asked; never one that the question before gives away by resting on the same fact, as long as there
is another. Cards alike in family, string or key keep a distance. Nothing here depends on chance or on a clock.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from drill.memory.belief import logistic
from drill.memory.gates import TARGET_STRENGTH, state_of
from drill.memory.item import Attempt, Item
from drill.memory.learner import Learner
from drill.memory.worth import cost_s, rate

RETURN_S = 75.0
RETURN_AFTER = 3
OPEN_CARDS = 4
REFRESH_BELOW = 0.9
"""A card met before is asked again before fresh ones when its strength is below this, well before it fades."""
LEAST_S = 2.0
"""With less time than this left nothing more is asked."""
KNOWN_AT_SIGHT = 0.9
"""A family whose cards come right at first sight this surely lets fresh cards of other families go first."""
ALIKE = 0.8
"""What a card is worth for each thing it has in common with the question before: family, string, key, shape."""
SHORTLIST = 12
REFRESH = 16
"""How many cards are worked out anew before each choice: the likeliest, and a slice of the rest in turn."""


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
    """Plans one drill over `items` (the deck, or what a focus leaves of it), beginning at `now_s`."""

    def __init__(self, learner: Learner, items: Iterable[Item], now_s: float) -> None:
        self._learner = learner
        self._items = {item.card: item for item in sorted(items, key=lambda item: (item.order, item.card))}
        self._requires = {card: self._required(item) for card, item in self._items.items() if item.needs}
        self._by_fact: dict[str, list[Item]] = defaultdict(list)
        for item in self._items.values():
            for fact in item.facts:
                self._by_fact[fact].append(item)
        self._missed: dict[str, tuple[float, int]] = {}
        self._asked: deque[Item] = deque(maxlen=RETURN_AFTER + 1)
        self._count = 0
        self._done: set[str] = set()
        self._strengths: dict[str, float] = {}
        self._rates: dict[str, float] = {}
        self._refresh(self._items.values(), now_s)
        self._turn = deque(self._items.values())

    def preview(self, now_s: float, seconds: float) -> Preview:
        """Cards by state at `now_s`, and about how many answers fit in `seconds`."""
        states = [state_of(self._learner, item, now_s) for item in self._items.values()]
        counts = {state: states.count(state) for state in ("fading", "slow", "fresh", "fluent")}
        ranked = sorted(self._items.values(), key=lambda item: -self._rates[item.card])
        answers, left = 0, seconds
        while ranked and left > 0:
            item = ranked[answers % len(ranked)]
            left -= cost_s(self._learner, item, self._strengths[item.card])
            answers += 1
        return Preview(**counts, answers=answers)

    def next(self, now_s: float, seconds_left: float) -> Choice | None:
        """The card to ask at `now_s`; None when too little time is left, or there is no card at all."""
        if seconds_left < LEAST_S or not self._items:
            return None
        self._refresh((self._turn[0] for _ in self._step()), now_s)
        item = self._due_again(now_s) or self._best(now_s)
        return Choice(item.card, *self._reason(item, now_s))

    def told(self, attempt: Attempt) -> None:
        """Take note of an attempt, after `Learner.observe` has."""
        item = self._items.get(attempt.card)
        if item is None:
            return
        self._count += 1
        self._done.add(item.card)
        self._asked.append(item)
        if attempt.right is False:
            self._missed[item.card] = (attempt.at_s, self._count)
        elif attempt.right:
            self._missed.pop(item.card, None)
        related = [other for fact in item.facts for other in self._by_fact[fact][:SHORTLIST]]
        self._refresh([item, *related], attempt.at_s)

    # -- what is known of the cards -------------------------------------------------------------------------------

    def _step(self) -> Iterable[None]:
        for _ in range(min(REFRESH, len(self._turn))):
            self._turn.rotate(-1)
            yield

    def _refresh(self, items: Iterable[Item], now_s: float) -> None:
        """Work out strength and gain per second of these cards."""
        ticks = self._learner.clock.read(now_s, self._learner.constants)
        for item in items:
            self._strengths[item.card] = logistic(self._learner.log_odds(item, ticks))
            self._rates[item.card] = rate(self._learner, item, ticks)

    def _is_fresh(self, item: Item) -> bool:
        return item.card not in self._learner.cards

    def _holds(self, item: Item) -> bool:
        return not self._is_fresh(item) and self._strengths[item.card] >= TARGET_STRENGTH

    def _required(self, item: Item) -> list[Item]:
        """The cards that must hold before `item` enters: those of the needed families that share a fact with it."""
        return [i for i in self._items.values() if i.family in item.needs and set(i.facts) & set(item.facts)]

    # -- choosing -------------------------------------------------------------------------------------------------

    def _due_again(self, now_s: float) -> Item | None:
        others = min(RETURN_AFTER, len(self._items) - 1)
        for card, (at_s, count) in self._missed.items():
            if now_s - at_s >= RETURN_S and self._count - count >= others and not self._given_away(self._items[card]):
                return self._items[card]
        return None

    def _best(self, now_s: float) -> Item:
        """From the first of these pools that holds any card: fading, fresh, the rest; each once before any twice."""
        for pool in self._pools():
            free = [item for item in pool if item not in self._asked]
            apart = [item for item in free if not self._given_away(item)]
            if apart:
                return self._worthiest(apart, now_s)
        others = [item for item in self._items.values() if not self._is_last(item)]
        return self._worthiest(others, now_s) if others else next(iter(self._items.values()))

    def _pools(self) -> Iterable[list[Item]]:
        met = [item for item in self._items.values() if not self._is_fresh(item) and item.card not in self._missed]
        unasked = [item for item in met if item.card not in self._done]
        yield [item for item in unasked if self._strengths[item.card] < REFRESH_BELOW]
        entering = self._entering() if len(self._missed) < OPEN_CARDS else None
        yield [entering] if entering else []
        yield unasked
        yield met

    def _worthiest(self, pool: Sequence[Item], now_s: float) -> Item:
        shortlist = sorted(pool, key=lambda item: -self._rates[item.card])[:SHORTLIST]
        self._refresh(shortlist, now_s)
        return max(shortlist, key=lambda item: (self._rates[item.card] * self._variety(item), -item.order))

    def _entering(self) -> Item | None:
        """The fresh card to come: the first of the curriculum that may enter and is not surely known already."""
        known = None
        for item in self._items.values():
            if self._is_fresh(item) and not self._given_away(item) and self._may_enter(item):
                if self._strengths[item.card] < KNOWN_AT_SIGHT:
                    return item
                known = known or item
        return known

    def _may_enter(self, item: Item) -> bool:
        return all(self._holds(required) for required in self._requires.get(item.card, ()))

    def _is_last(self, item: Item) -> bool:
        return bool(self._asked) and self._asked[-1] == item

    def _given_away(self, item: Item) -> bool:
        """True when the question before rests on a fact that this one rests on too."""
        return bool(self._asked) and not set(self._asked[-1].facts).isdisjoint(item.facts)

    def _variety(self, item: Item) -> float:
        if not self._asked:
            return 1.0
        before = self._asked[-1]
        return float(ALIKE ** (len(before.groups & item.groups) + (before.family == item.family)))

    def _reason(self, item: Item, now_s: float) -> tuple[str, str]:
        if item.card in self._missed:
            return "missed", "You missed it earlier in this drill."
        state = state_of(self._learner, item, now_s)
        strength, speed = self._learner.strength(item, now_s), self._learner.speed(item, now_s)
        if state == "fresh":
            return "fresh", "It is the next new card of the deck, and what it builds on holds."
        if state == "fading":
            return "fading", f"It is fading: the chance that you still know it is about {strength:.0%}."
        if state == "slow":
            return "slow", f"You know it, but slowly: about {speed:.1f} s where {item.target_s:.1f} s is the target."
        if strength < REFRESH_BELOW:
            return "holding", f"It still holds, at about {strength:.0%}; refreshing it now keeps it from fading."
        return "holding", f"Nothing is more urgent; you know it ({strength:.0%}), and this keeps it so."
