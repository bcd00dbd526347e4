"""What the listener tells."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]


class Heard(NamedTuple):
    """A plucked note, named. Times are samples, counted from the first that was ever fed."""

    midi: int
    """The nearest note at A4 = 440 Hz."""
    cents: float
    """By how much it is off, -50 to 50 hundredths of a semitone."""
    onset: int
    """When it was plucked."""
    decided: int
    """When it was named."""
    clarity: float
    """How well the sound repeats itself after one period, against what a perfect tone would do in the same noise."""
    held: bool
    """False when it is first named, and when it becomes clear only after that. A note that holds is told once more with
    True, and with the pitch it settled at."""
    sudden: bool = True
    """Whether it was loudest at once, as a plucked string is. What has grown counts only once it has held."""


class Missed(NamedTuple):
    """A pluck that could not be named: a hand on the strings, a chord, a note too short or too faint."""

    onset: int
    decided: int


Event = Heard | Missed
