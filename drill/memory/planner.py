"""Plans a drill: each card is chosen where a minute of practice gains most.

The planner looks into these pools in order and chooses from the first that holds a card which may be asked now:

1. Cards missed in this drill: they return after RETURN_S seconds and RETURN_AFTER other questions, at most RETURNS
   times.
2. Cards that fade or soon will (strength below FIRST_BELOW), unless a fresh card gains HOPELESS times as much in the
   same time.
3. Cards that were not asked for more than STRETCH times the longest gap after which they came right (at least a day):
   no model can be trusted far beyond what was tested.
4. Cards that will not hold for long (below REFRESH_BELOW) or are slow, and the next fresh card of the curriculum at
   FRESH_SHARE of its gain, since it will need practice later that the gain of one answer leaves out. A fresh card
   enters if the cards it builds on hold and fewer than OPEN_CARDS missed cards wait.
5. All other cards that this drill has not asked yet, then any card, then a missed one before its time.

Within a pool the card with the highest gain per second wins (see `gain`). A card counts for more if many others rest on
its facts, and for less if it resembles the question before. The planner never chooses a card asked just before, nor one
that rests on a fact of the question before and would be given away by it, as long as there is another. Nothing depends
on chance.
"""

from __future__ import annotations

import math
from collections import defaultdict, deque
from collections.abc import Callable, Iterable, Iterator
from itertools import chain
from typing import Literal, NamedTuple

from drill.memory.belief import logistic
from drill.memory.constants import DAY_S
from drill.memory.gain import cost_s, rate
from drill.memory.item import Attempt, Item
from drill.memory.learner import Learner
from drill.memory.reasons import Reason, ReasonKind
from drill.memory.states import TARGET_STRENGTH, State, is_fresh, state_of

RETURN_S = 75.0
RETURN_AFTER = 3
RETURNS = 3
OPEN_CARDS = 6
FIRST_BELOW = 0.85
REFRESH_BELOW = 0.95
STRETCH = 2.0
FRESH_SHARE = 0.5
HOPELESS = 5.0
KNOWN_AT_SIGHT = 0.9
"""Fresh cards that come right at first sight as surely as this let those of other families go first."""
ALIKE = 0.8
"""Factor for each thing that a card has in common with the question before: family, string, key, shape."""
LEAST_S = 2.0
"""With less time left than this, nothing more is asked."""
TIGHT_S = 20.0
"""With less time left than this, a card is asked only if its answer is expected in time."""
SHORTLIST = 8
SLICE = 8
"""Before each choice the planner updates the prospects of so many of the likeliest cards, and of the rest in turn."""


class Choice(NamedTuple):
    """The next card, and why it was chosen."""

    card: str
    reason: Reason
    solved: bool = False
    """Whether the card is to be shown with its answer and its reason, and not to be asked."""


Start = Literal["notes", "shapes", "speed"]
"""Where a learner begins: without the names of the notes, without the shapes, or only to become faster."""


class Preview(NamedTuple):
    """What a drill will hold: the number of cards in each state, and about how many answers fit."""

    fading: int
    slow: int
    fresh: int
    fluent: int
    answers: int


class Prospect(NamedTuple):
    """What the choice of a card depends on: strength, expected thinking time, and gain per second of asking it."""

    strength: float
    speed_s: float
    rate: float


class Planner:
    """Plans one drill over `items` (a deck, or the part of it that a focus leaves), beginning at `now_s`."""

    def __init__(self, learner: Learner, items: Iterable[Item], now_s: float, start: Start | None = None) -> None:
        self._start = start
        self._items = {item.card: item for item in sorted(items, key=lambda item: (item.order, item.card))}
        self._by_fact: dict[str, list[Item]] = defaultdict(list)
        for item in self._items.values():
            for fact in item.facts:
                self._by_fact[fact].append(item)
        self._requires = self._groundwork()
        self._carries = {card: self._carried(item) for card, item in self._items.items()}
        self._missed: dict[str, tuple[float, int]] = {}
        self._returns: dict[str, int] = defaultdict(int)
        self._failed: set[str] = set()
        self._done: dict[str, Item] = {}
        self._asked: deque[Item] = deque(maxlen=RETURN_AFTER + 1)
        self._count = 0
        self._touched: list[Item] = []
        """Cards whose prospects have changed since the last choice."""
        self._prospects: dict[str, Prospect] = {}
        self.renew(learner, now_s)
        self._turn = deque(self._items.values())

    def renew(self, learner: Learner, now_s: float) -> None:
        """Use another `Learner` from now on: the same person, of whom more attempts have been read."""
        self.learner = learner
        waiting = {card: item for card, item in self._items.items() if card not in self._done}
        self._fresh = {card: item for card, item in waiting.items() if is_fresh(learner, item)}
        self._unasked = {card: item for card, item in waiting.items() if card not in self._fresh}
        self._update(self._items.values(), now_s)

    def preview(self, now_s: float, seconds: float) -> Preview:
        """Cards in each state at `now_s`, and about how many answers fit in `seconds`."""
        states = [state_of(self.learner, item, now_s) for item in self._items.values()]
        counts = {state.value: states.count(state) for state in State}
        likely = sorted(self._items.values(), key=lambda item: -self._prospects[item.card].rate)
        answers, left = 0, seconds
        while likely and left > 0:
            item = likely[answers % len(likely)]
            left -= cost_s(self.learner, item, self._prospects[item.card].strength)
            answers += 1
        return Preview(**counts, answers=answers)

    def next(self, now_s: float, seconds_left: float) -> Choice | None:
        """The card to ask at `now_s`; None if no card can be answered in the time left, or the deck is empty."""
        if seconds_left < LEAST_S:
            return None
        self._update(chain(self._touched, self._slice()), now_s)
        self._touched.clear()
        item = self._pick(now_s, seconds_left)
        return Choice(item.card, self._reason(item, now_s)) if item else None

    def observe(self, attempt: Attempt) -> None:
        """Take an attempt into account, after `Learner.observe` has."""
        item = self._items.get(attempt.card)
        if item is None:
            return
        self._count += 1
        if attempt.right is None:  # it was shown and stays fresh
            self._asked.append(item)
            self._touched.append(item)
            return
        self._done[item.card] = item
        self._fresh.pop(item.card, None)
        self._unasked.pop(item.card, None)
        self._asked.append(item)
        self._missed.pop(item.card, None)
        self._failed.discard(item.card)
        if attempt.right is False:
            self._failed.add(item.card)
            if self._returns[item.card] < RETURNS:
                self._returns[item.card] += 1
                self._missed[item.card] = (attempt.at_s, self._count)
        self._touched.append(item)
        self._touched += (other for fact in item.facts for other in self._by_fact[fact][:SHORTLIST])

    # -- what is known of the cards -------------------------------------------------------------------------------

    def _update(self, items: Iterable[Item], now_s: float) -> None:
        """Update the prospects of these cards."""
        learner = self.learner
        ticks = learner.clock.read(now_s, learner.constants)
        for item in items:
            strength = logistic(learner.log_odds(item, ticks))
            speed_s = math.exp(learner.ln_speed(item, strength))
            gain_per_s = rate(learner, item, ticks) * self._carries[item.card]
            self._prospects[item.card] = Prospect(strength, speed_s, gain_per_s)

    def _slice(self) -> Iterator[Item]:
        for _ in range(min(SLICE, len(self._turn))):
            self._turn.rotate(-1)
            yield self._turn[0]

    def _groundwork(self) -> dict[str, list[list[Item]]]:
        """For each card, what must hold before it enters: any card of each family it needs about each of its facts."""
        teaching: dict[tuple[str, str], list[Item]] = defaultdict(list)
        for item in self._items.values():
            for fact in item.facts:
                teaching[item.family, fact].append(item)
        return {
            card: [teaching[family, fact] for family in item.needs for fact in item.facts if (family, fact) in teaching]
            for card, item in self._items.items()
        }

    def _carried(self, item: Item) -> float:
        """How far the card helps others: the square root of the mean number of cards that rest on one of its facts."""
        cards = [len(self._by_fact[fact]) for fact in item.facts]
        return math.sqrt(sum(cards) / len(cards)) if cards else 1.0

    def _holds(self, item: Item) -> bool:
        """Whether the card is strong, and not only because a miss was corrected a moment ago."""
        strong = self._prospects[item.card].strength >= TARGET_STRENGTH
        return strong and item.card not in self._fresh and item.card not in self._failed

    # -- choosing -------------------------------------------------------------------------------------------------

    def _pick(self, now_s: float, seconds_left: float) -> Item | None:
        """The best card, chosen as far from the questions before as the size of the deck allows."""
        recent = {item.card for item in self._asked}
        given_away = set(self._asked[-1].facts) if self._asked else set()
        tight = seconds_left < TIGHT_S

        def fits(item: Item) -> bool:
            return not tight or self._prospects[item.card].speed_s <= seconds_left

        def rested(item: Item) -> bool:
            return item.card not in recent and fits(item)

        def apart(item: Item) -> bool:
            return rested(item) and given_away.isdisjoint(item.facts)

        for may in (apart, rested):
            for pool in self._pools(now_s, may):
                if pool:
                    return self._worthiest(pool, now_s)
        return self._of_a_tiny_deck(fits)

    def _pools(self, now_s: float, may: Callable[[Item], bool]) -> Iterator[list[Item]]:
        """The pools of the module's docstring, each reduced to the cards that may be asked now."""
        known = self._prospects
        yield [item for item in self._due_again(now_s) if may(item)][:1]
        fresh = self._entering(may) if len(self._missed) < OPEN_CARDS else []
        least = max((known[item.card].rate for item in fresh), default=0.0) / HOPELESS
        weak = [i for i in self._unasked.values() if known[i.card].strength < REFRESH_BELOW]
        yield [i for i in weak if known[i.card].strength < FIRST_BELOW and known[i.card].rate >= least and may(i)]
        yield [item for item in self._unasked.values() if self._is_untried(item, now_s) and may(item)]
        sure = [i for i in self._unasked.values() if known[i.card].strength >= REFRESH_BELOW]
        slow = [i for i in sure if known[i.card].speed_s > i.target_s]
        yield [item for item in (*weak, *slow) if may(item)] + fresh
        yield [item for item in self._unasked.values() if may(item)]
        yield [item for item in self._done.values() if item.card not in self._missed and may(item)]
        yield [item for item in self._waiting() if may(item)][:1]

    def _is_untried(self, item: Item, now_s: float) -> bool:
        """Whether the card was not asked for so long that its past answers say little, whatever the model predicts."""
        state = self.learner.cards[item.card]
        return now_s - state.last_s > STRETCH * max(state.proven_s, DAY_S)

    def _waiting(self) -> Iterator[Item]:
        """Cards missed in this drill, the one missed longest ago first."""
        return (self._items[card] for card in self._missed)

    def _due_again(self, now_s: float) -> Iterator[Item]:
        others = min(RETURN_AFTER, len(self._items) - 1)
        for card, (at_s, count) in self._missed.items():
            if now_s - at_s >= RETURN_S and self._count - count >= others:
                yield self._items[card]

    def _entering(self, may: Callable[[Item], bool]) -> list[Item]:
        """The next fresh card, if any: the first of the curriculum that may enter and is not surely known already."""
        sight: dict[str, float] = {}
        known: list[Item] = []
        for item in self._fresh.values():
            if not may(item) or not self._groundwork_holds(item):
                continue
            if item.family not in sight:
                sight[item.family] = logistic(self.learner.first_sight_log_odds(item.family))
            if sight[item.family] < KNOWN_AT_SIGHT:
                return [item]
            known = known or [item]
        return known

    def _groundwork_holds(self, item: Item) -> bool:
        return all(any(map(self._holds, taught)) for taught in self._requires[item.card])

    def _worthiest(self, pool: list[Item], now_s: float) -> Item:
        shortlist = sorted(pool, key=self._worth, reverse=True)[:SHORTLIST]
        self._update(shortlist, now_s)
        return max(shortlist, key=lambda item: (self._worth(item) * self._variety(item), -item.order))

    def _worth(self, item: Item) -> float:
        gain_per_s = self._prospects[item.card].rate
        return gain_per_s * FRESH_SHARE if item.card in self._fresh else gain_per_s

    def _variety(self, item: Item) -> float:
        if not self._asked:
            return 1.0
        before = self._asked[-1]
        return math.pow(ALIKE, len(before.groups & item.groups) + (before.family == item.family))

    def _of_a_tiny_deck(self, fits: Callable[[Item], bool]) -> Item | None:
        """If all cards were asked just now: the one asked longest ago."""
        latest = list({item.card: item for item in reversed(self._asked)}.values())[::-1]
        return next((item for item in latest if fits(item)), None)

    def _reason(self, item: Item, now_s: float) -> Reason:
        known = self._prospects[item.card]
        idle_s = now_s - self.learner.cards[item.card].last_s if item.card in self.learner.cards else 0.0
        return Reason(self._reason_kind(item, now_s), known.strength, known.speed_s, item.target_s, idle_s)

    def _reason_kind(self, item: Item, now_s: float) -> ReasonKind:
        if item.card in self._missed:
            return ReasonKind.MISSED
        state = state_of(self.learner, item, now_s)
        if state is State.FRESH:
            return ReasonKind.FRESH
        if not self.learner.cards[item.card].right:
            return ReasonKind.NEVER_RIGHT
        if item.card in self._failed:
            return ReasonKind.FAILED
        if state in (State.FADING, State.SLOW):
            return ReasonKind(state.value)
        if item.card in self._unasked and self._is_untried(item, now_s):
            return ReasonKind.UNTRIED
        refresh = self._prospects[item.card].strength < REFRESH_BELOW
        return ReasonKind.REFRESH if refresh else ReasonKind.HOLDING
