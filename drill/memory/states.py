"""Known is not fluent: the two gates, and the four states they make.

fresh: never met · fading: met, strength below the target · holding: strength at or above it · fluent: holding, and
the expected thinking time within the card's target. Every fluent card also holds.
"""

from __future__ import annotations

from drill.memory.item import Item
from drill.memory.learner import Learner

TARGET_STRENGTH = 0.8


def is_fresh(learner: Learner, item: Item) -> bool:
    """True when the card was never met."""
    return item.card not in learner.cards


def is_holding(learner: Learner, item: Item, now_s: float, target: float = TARGET_STRENGTH) -> bool:
    """True when the card was met and its strength reaches the target."""
    return not is_fresh(learner, item) and learner.strength(item, now_s) >= target


def is_fading(learner: Learner, item: Item, now_s: float, target: float = TARGET_STRENGTH) -> bool:
    """True when the card was met and its strength has dropped below the target."""
    return not is_fresh(learner, item) and learner.strength(item, now_s) < target


def is_fluent(learner: Learner, item: Item, now_s: float, target: float = TARGET_STRENGTH) -> bool:
    """True when the card holds and its expected thinking time is within the card's target time."""
    return is_holding(learner, item, now_s, target) and learner.speed(item, now_s) <= item.target_s


def state_of(learner: Learner, item: Item, now_s: float, target: float = TARGET_STRENGTH) -> str:
    """ "fresh", "fading", "slow" (holds, not yet fluent) or "fluent"."""
    if is_fresh(learner, item):
        return "fresh"
    if learner.strength(item, now_s) < target:
        return "fading"
    return "fluent" if is_fluent(learner, item, now_s, target) else "slow"
