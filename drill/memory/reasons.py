"""Why the planner chooses a card: a kind of reason, and the figures that go with it. Faces put it into words."""

from enum import StrEnum
from typing import NamedTuple


class ReasonKind(StrEnum):
    """What a card is chosen for."""

    MISSED = "missed"
    """It was missed earlier in this drill."""
    PART = "part"
    """A card that rests on it was missed in this drill, and this may be the part that failed."""
    FAILED_PART = "failed part"
    """A card that rests on it was missed in this drill, and the mix-up says that this is the part that failed."""
    FRESH = "fresh"
    SHOWN = "shown"
    """It was shown solved, and is asked for the first time."""
    EXAMPLE = "example"
    """It is shown solved: its kind was met before, but no question of it has come right yet."""
    REMINDER = "reminder"
    """It is shown solved again: it was shown on an earlier day and never asked."""
    NEVER_RIGHT = "never right"
    FAILED = "failed"
    """It was missed when it was last asked, in an earlier drill."""
    FADING = "fading"
    SLOW = "slow"
    UNTRIED = "untried"
    """It was not asked for longer than it has ever been tested."""
    SETTLING = "settling"
    """It came right earlier in this drill, but does not come surely and in time yet."""
    AGAIN = "again"
    """Nothing is more urgent, and it came right in this drill, but would have faded a little by tomorrow."""
    INSTEAD = "instead"
    """As `AGAIN` or `HOLDING`, while a card that goes badly, or a kind of card, rests until tomorrow."""
    REFRESH = "refresh"
    """It still holds, but will soon fade."""
    HOLDING = "holding"
    PROVED = "proved"
    """It is not asked: a card that rests on the same facts keeps proving it."""
    LATER = "later"
    """It is not asked yet: it is new, and others come first."""


class Reason(NamedTuple):
    """Why a card is chosen.

    `strength` is the chance of recall, 0 to 1; `speed_s` the expected thinking time, `target_s` the card's target and
    `idle_s` the time since the card was last asked, in seconds. `other` is another card that the reason speaks of: the
    whole that failed, or the card that proves this one.
    """

    kind: ReasonKind
    strength: float
    speed_s: float
    target_s: float
    idle_s: float
    other: str | None = None


class Ending(StrEnum):
    """Why a drill holds no further question."""

    TIME = "time"
    """The time is up, or too short for another answer."""
    KNOWN = "known"
    """Every card is known and will be tomorrow; what is left of the time is better spent on something else."""
    IN_TIME = "in time"
    """Every card that needed a question came right in time today; only another day shows whether it lasts."""
    EMPTY = "empty"
    """There are no cards that may be asked."""
