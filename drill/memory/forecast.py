"""Predictions over a longer time: when a card fades, how many fade on each of the coming days, how ready a key is."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable

from drill.memory.constants import DAY_S
from drill.memory.gain import within_target
from drill.memory.item import Item
from drill.memory.learner import Learner
from drill.memory.states import TARGET_STRENGTH, is_fresh, is_holding

FAR_DAYS = 3650.0
"""A card that holds for longer than this is said to fade then."""


def fades_at(learner: Learner, item: Item, now_s: float) -> float | None:
    """When (epoch seconds) an unasked card drops below the target; `now_s` if it does not hold, None if it is fresh."""
    if is_fresh(learner, item):
        return None
    low, high = now_s, now_s + FAR_DAYS * DAY_S
    if not is_holding(learner, item, now_s):
        return now_s
    if learner.strength(item, high) >= TARGET_STRENGTH:
        return high
    while high - low > 60:
        middle = (low + high) / 2
        low, high = (middle, high) if learner.strength(item, middle) >= TARGET_STRENGTH else (low, middle)
    return high


def forecast(learner: Learner, items: Iterable[Item], now_s: float, days: int) -> tuple[int, ...]:
    """How many of the cards that hold now fade on each coming day; index 0 is the next 24 hours."""
    holding = (item for item in items if is_holding(learner, item, now_s))
    fading = Counter(_whole_days(learner, item, now_s, days) for item in holding)
    return tuple(fading[day] for day in range(days))


def _whole_days(learner: Learner, item: Item, now_s: float, most: int) -> int:
    """For how many whole days from now the card holds, `most` at most."""

    def has_faded(day: int) -> bool:
        return learner.strength(item, now_s + (day + 1) * DAY_S) < TARGET_STRENGTH

    return bisect_left(range(most), True, key=has_faded)


def readiness(learner: Learner, items: Iterable[Item], now_s: float, bar_s: float | None = None) -> float:
    """Chance, 0 to 1, that all `items` come right, each within one bar of `bar_s` seconds (its own target if None).

    A product of independent chances; a card that was never met counts with its chance at first sight. It is what holds
    a day after the latest answer, or at `now_s` if that is later: what came right a minute ago says little of tomorrow.
    """
    last_s = learner.clock.last_s
    at_s = now_s if last_s is None else max(now_s, last_s + DAY_S)
    product = 1.0
    for item in items:
        strength = learner.strength(item, at_s)
        product *= strength * within_target(learner, item, strength, bar_s)
    return product
