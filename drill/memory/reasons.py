"""Why the planner chooses a card: a kind of reason, and the figures that go with it."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple


class ReasonKind(StrEnum):
    """What a card is chosen for."""

    MISSED = "missed"
    """It was missed earlier in this drill."""
    FRESH = "fresh"
    NEVER_RIGHT = "never right"
    FAILED = "failed"
    """It was missed when it was last asked, in an earlier drill."""
    FADING = "fading"
    SLOW = "slow"
    UNTRIED = "untried"
    """It was not asked for longer than it has ever been tested."""
    REFRESH = "refresh"
    """It still holds, but will soon fade."""
    HOLDING = "holding"


class Reason(NamedTuple):
    """Why a card is chosen.

    `strength` is the chance of recall, 0 to 1; `speed_s` the expected thinking time, `target_s` the card's target and
    `idle_s` the time since the card was last asked, in seconds.
    """

    kind: ReasonKind
    strength: float
    speed_s: float
    target_s: float
    idle_s: float
