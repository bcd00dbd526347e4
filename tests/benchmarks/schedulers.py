"""The rivals of the planner: simple rules that many a practice diary follows, each given its strongest plain form.

All are told the same answers, may show a missed card again in the same drill after a minute, and never ask the card
just asked while there is another. None knows the made-up learner's state.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from typing import Protocol

from drill.memory import Attempt, Item, Learner, Planner, readiness

DAY_S = 86_400.0
AGAIN_S = 60.0


class Scheduler(Protocol):
    """Chooses cards; `shows` says that the card just chosen is shown with its answer, and not asked."""

    shows: bool

    def begin(self, now_s: float) -> None:
        """A drill begins."""

    def next(self, now_s: float, seconds_left: float) -> Item | None:
        """The card to ask."""

    def told(self, item: Item, attempt: Attempt) -> None:
        """The answer it got."""

    def ready(self, keys: Iterable[tuple[Item, ...]], now_s: float, bar_s: float, at_least: float) -> int | None:
        """How many keys it says are ready; None if it knows nothing of readiness."""


class Fretsure:
    """The program's own memory and planner."""

    def __init__(self, items: Sequence[Item], source: random.Random) -> None:
        self._items = {item.card: item for item in items}
        self._learner = Learner()
        self._planner: Planner | None = None
        self.shows = False

    def begin(self, now_s: float) -> None:
        self._planner = Planner(self._learner, list(self._items.values()), now_s)

    def next(self, now_s: float, seconds_left: float) -> Item | None:
        assert self._planner is not None
        choice = self._planner.next(now_s, seconds_left)
        self.shows = bool(choice and getattr(choice, "solved", False))
        return self._items[choice.card] if choice else None

    def told(self, item: Item, attempt: Attempt) -> None:
        assert self._planner is not None
        self._learner.observe(item, attempt)
        self._planner.observe(attempt)

    def ready(self, keys: Iterable[tuple[Item, ...]], now_s: float, bar_s: float, at_least: float) -> int | None:
        limit_s = self._learner.net_thinking(bar_s)  # the table counts raw times, the memory takes the key press off
        return sum(readiness(self._learner, needed, now_s, limit_s) >= at_least for needed in keys)


class Rule:
    """Common to the rivals: the deck in order, and when each card is due (never asked: absent)."""

    shows = False

    def __init__(self, items: Sequence[Item], source: random.Random) -> None:
        self.items = list(items)
        self.source = source
        self.last: Item | None = None
        self.due: dict[str, float] = {}

    def begin(self, now_s: float) -> None:
        self.last = None

    def next(self, now_s: float, seconds_left: float) -> Item | None:
        if seconds_left <= 0:
            return None
        return self.choose([item for item in self.items if item != self.last], now_s)

    def choose(self, items: list[Item], now_s: float) -> Item:
        """Cards that are due, longest overdue first; then fresh ones in order; then the one due soonest."""
        due = [item for item in items if self.due.get(item.card, now_s + 1) <= now_s]
        if due:
            return min(due, key=lambda item: self.due[item.card])
        fresh = [item for item in items if item.card not in self.due]
        return fresh[0] if fresh else min(items, key=lambda item: self.due[item.card])

    def told(self, item: Item, attempt: Attempt) -> None:
        self.last = item

    def ready(self, keys: Iterable[tuple[Item, ...]], now_s: float, bar_s: float, at_least: float) -> int | None:
        return None


class RandomChoice(Rule):
    """Any card, each as likely as the next."""

    def choose(self, items: list[Item], now_s: float) -> Item:
        return self.source.choice(items)


class Doubling(Rule):
    """Due after one day, then two, four, eight ... as long as it comes right; a miss starts over."""

    def __init__(self, items: Sequence[Item], source: random.Random) -> None:
        super().__init__(items, source)
        self.days: dict[str, float] = {}

    def told(self, item: Item, attempt: Attempt) -> None:
        super().told(item, attempt)
        if attempt.right:
            self.days[item.card] = 2 * self.days.get(item.card, 0.5)
            self.due[item.card] = attempt.at_s + self.days[item.card] * DAY_S - 3600
        else:
            self.days.pop(item.card, None)
            self.due[item.card] = attempt.at_s + AGAIN_S


class FiveBoxes(Rule):
    """Five boxes, visited every 1, 2, 4, 8 and 16 days; right moves a card one up, wrong back to the first."""

    def __init__(self, items: Sequence[Item], source: random.Random) -> None:
        super().__init__(items, source)
        self.box: dict[str, int] = {}

    def told(self, item: Item, attempt: Attempt) -> None:
        super().told(item, attempt)
        box = min(self.box.get(item.card, 0) + 1, 5) if attempt.right else 1
        self.box[item.card] = box
        self.due[item.card] = attempt.at_s + (2 ** (box - 1) * DAY_S - 3600 if attempt.right else AGAIN_S)


class WorstFirst(Rule):
    """The card with the lowest share of right answers; cards never asked count as half right."""

    def __init__(self, items: Sequence[Item], source: random.Random) -> None:
        super().__init__(items, source)
        self.tally: dict[str, tuple[int, int]] = {}

    def choose(self, items: list[Item], now_s: float) -> Item:
        def share(item: Item) -> float:
            right, asked = self.tally.get(item.card, (0, 0))
            return (right + 0.5) / (asked + 1)

        return min(items, key=share)

    def told(self, item: Item, attempt: Attempt) -> None:
        super().told(item, attempt)
        right, asked = self.tally.get(item.card, (0, 0))
        self.tally[item.card] = (right + bool(attempt.right), asked + 1)


OURS = "fretsure"
OLD_ORDER = "old order"
ALL: dict[str, type[Fretsure] | type[Rule]] = {
    OURS: Fretsure,
    OLD_ORDER: Fretsure,
    "doubling": Doubling,
    "five boxes": FiveBoxes,
    "random": RandomChoice,
    "worst first": WorstFirst,
}
"""By name. The old order is the same planner over the deck as it was, all notes before the first key."""
