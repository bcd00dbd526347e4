"""The state of a card. It has to pass two gates, strength and speed: a card that is known is not yet fluent."""

from __future__ import annotations

from enum import StrEnum

from drill.memory.item import Item
from drill.memory.learner import Learner

TARGET_STRENGTH = 0.8
"""The chance of recall from which a card holds."""


class State(StrEnum):
    """What is known of a card now. A card holds if it is slow or fluent."""

    FRESH = "fresh"
    """Never asked; it may have been shown."""
    FADING = "fading"
    """Its strength is below the target, or it was missed when it was last asked."""
    SLOW = "slow"
    """It holds, but the expected thinking time is longer than the card's target time."""
    FLUENT = "fluent"
    """It holds, and the expected thinking time is within the card's target time."""


def state_of(learner: Learner, item: Item, now_s: float) -> State:
    """The state of a card at `now_s`."""
    if is_fresh(learner, item):
        return State.FRESH
    if not is_holding(learner, item, now_s):
        return State.FADING
    return State.FLUENT if learner.speed(item, now_s) <= item.target_s else State.SLOW


def is_fresh(learner: Learner, item: Item) -> bool:
    """Whether the card was never asked; one that was only shown is fresh."""
    state = learner.cards.get(item.card)
    return state is None or not state.asked


def is_holding(learner: Learner, item: Item, now_s: float) -> bool:
    """Whether the card was met, has come right since it was last missed, and its strength reaches the target."""
    card = learner.cards.get(item.card)
    return card is not None and card.asked > 0 and not card.failed and learner.strength(item, now_s) >= TARGET_STRENGTH
