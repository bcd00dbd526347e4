"""Beats and bars: how long they last at a tempo. A bar has four beats.

>>> beat_seconds(80), bar_seconds(80)
(0.75, 3.0)
"""

from __future__ import annotations

import math

BEATS_IN_A_BAR = 4
SLOWEST_BPM, FASTEST_BPM = 40, 240
"""Tempos that can be set, called and played, in beats per minute."""


def beat_seconds(bpm: float) -> float:
    """How long a beat lasts at so many beats per minute, in seconds."""
    return 60.0 / bpm


def bar_seconds(bpm: float) -> float:
    """How long a bar lasts at so many beats per minute, in seconds."""
    return BEATS_IN_A_BAR * 60.0 / bpm


def beats_begun(time_s: float, beat_s: float) -> int:
    """How many beats of `beat_s` seconds have begun after a time, the first at once.

    >>> beats_begun(0.0, 0.75), beats_begun(1.2, 0.75), beats_begun(3.0, 0.75), beats_begun(3.1, 0.75)
    (1, 2, 4, 5)
    """
    return max(math.ceil(round(time_s / beat_s, 6)), 1)


def beats_over(time_s: float, bpm: float) -> int:
    """How many beats are over after a time, at so many beats per minute.

    >>> beats_over(0.0, 80), beats_over(0.7, 80), beats_over(0.75, 80), beats_over(3.0, 80)
    (0, 0, 1, 4)
    """
    return int(time_s * bpm / 60 + 1e-6)  # a beat that ends just now is over, however the time was rounded
