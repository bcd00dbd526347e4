"""Looking back and ahead: is the prediction honest, what fades when, how ready is a key, what is known of a card.

All pure data; whoever shows it puts it into words.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from typing import NamedTuple

from drill.memory.gain import fluent_chance, within_target
from drill.memory.item import Item
from drill.memory.learner import Learner
from drill.memory.states import TARGET_STRENGTH, is_fresh, is_holding, state_of

DAY_S = 86_400.0
FAR_DAYS = 3650.0


def fades_at(learner: Learner, item: Item, now_s: float, target: float = TARGET_STRENGTH) -> float | None:
    """When (epoch seconds) the card drops below the target if it is not asked; now when it has, None when fresh."""
    if is_fresh(learner, item):
        return None
    low, high = now_s, now_s + FAR_DAYS * DAY_S
    if learner.strength(item, low) < target:
        return now_s
    if learner.strength(item, high) >= target:
        return high
    while high - low > 60:
        middle = (low + high) / 2
        low, high = (middle, high) if learner.strength(item, middle) >= target else (low, middle)
    return high


def forecast(
    learner: Learner, items: Iterable[Item], now_s: float, days: int = 14, target: float = TARGET_STRENGTH
) -> tuple[int, ...]:
    """How many cards that hold now fade within each coming day: index 0 is the next 24 hours."""
    counts = [0] * days
    for item in items:
        if is_holding(learner, item, now_s, target):

            def has_faded(day: int, item: Item = item) -> bool:
                return learner.strength(item, now_s + (day + 1) * DAY_S) < target

            day = bisect_left(range(days), True, key=has_faded)
            if day < days:
                counts[day] += 1
    return tuple(counts)


def readiness(learner: Learner, items: Iterable[Item], now_s: float, bar_s: float | None = None) -> float:
    """Chance that all `items` come right, each within one bar of `bar_s` seconds (its own target when None).

    A product of independent chances; a card never met counts with its chance at first sight.
    """
    product = 1.0
    for item in items:
        strength = learner.strength(item, now_s)
        product *= strength * within_target(learner, item, strength, bar_s)
    return product


class Explanation(NamedTuple):
    """What is known of one card. `asked` to `fades_at_s` are 0 or None while it is fresh."""

    card: str
    state: str
    """"fresh", "fading", "slow" (holds, not yet fluent) or "fluent"."""
    strength: float
    speed_s: float
    target_s: float
    fluent_chance: float
    asked: int
    right: int
    first_s: float | None
    last_s: float | None
    fades_at_s: float | None
    weakest_fact: str | None
    """The fact it rests on that is remembered worst, when it rests on more than one."""


def explain(learner: Learner, item: Item, now_s: float, target: float = TARGET_STRENGTH) -> Explanation:
    """All that is known of one card at `now_s`."""
    strength = learner.strength(item, now_s)
    state = learner.cards.get(item.card)
    return Explanation(
        item.card,
        state_of(learner, item, now_s, target),
        strength,
        learner.speed(item, now_s),
        item.target_s,
        fluent_chance(learner, item, strength),
        state.asked if state else 0,
        state.right if state else 0,
        state.first_s if state else None,
        state.last_s if state else None,
        fades_at(learner, item, now_s, target),
        learner.weakest_fact(item, now_s),
    )
