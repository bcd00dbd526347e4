"""Which note sounds in a window of samples.

The normalised square difference of McLeod & Wyvill 2005, "A smarter way to find pitch", Proc. ICMC, 138-141: how alike
a sound is to itself a period later, from -1 to 1, its sums taken from the power spectrum. What rang before the pluck is
subtracted from that spectrum first (Boll 1979, IEEE Trans. ASSP 27(2):113-120).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from drill.listening.events import Samples

Curve = NDArray[np.float64]

PERIODS = 3.2
"""A window holds this many periods of the lowest note, less MARGIN."""
MARGIN = 1.5
"""Semitones beyond the lowest and the highest note that are still read: nobody is in tune to the cent."""
FIRST = 0.9
"""The first peak that is this near to the highest one marks the period (the paper's k)."""
CLEAR = 0.8
"""A sound that repeats itself less well than this is no note."""
DOUBT = 0.65
"""Where half the period, a third or a quarter is as good as this, the octave is in doubt."""
LEFT = 0.5
"""Of steady noise this part is left after the subtraction: the power in a band at one moment, and at another, are
exponentially distributed and independent, and what is left of their difference above zero is half the mean."""
NOISIEST = 0.1
"""Noise of more than this part of the power is not made up for: what is clear cannot be told there."""
FAINT = 0.02
"""With less than this part of the power left after the subtraction there is nothing to read."""


class Reading(NamedTuple):
    """A pitch: MIDI number with its fraction, and how clear it is."""

    pitch: float
    clarity: float

    @property
    def midi(self) -> int:
        return round(self.pitch)

    def against(self, clarity: float) -> Reading:
        """The same, its clarity measured against that of a perfect tone."""
        return Reading(self.pitch, self.clarity / clarity)


def clarity_in_noise(noise: float, level_db: float) -> float:
    """How clear a perfect tone can be read in noise of this mean square, where both together are so loud.

    The clarity of a tone is its part of the power that is read, for noise does not repeat itself.
    """
    return 1 - LEFT * min(NOISIEST, noise / 10 ** (level_db / 10))


class Reader:
    """Reads windows of `size` samples at one rate, for notes from `low` to `high` (MIDI numbers)."""

    def __init__(self, rate: int, low: int, high: int) -> None:
        self.rate = rate
        self.shortest = rate / _hertz(high + MARGIN)
        self.longest = rate / _hertz(low - MARGIN)
        self.size = 2 ** int(np.ceil(np.log2(PERIODS * self.longest)))
        self._lags = int(self.longest) + 3

    def power(self, window: Samples) -> Curve:
        """The power spectrum of a window, fine enough for sums over every shift."""
        return np.abs(np.fft.rfft(window, 2 * self.size)) ** 2

    def read(self, window: Samples, before: Curve) -> Reading | None:
        """The note in a window, less the power that was there before; None where it is not clear."""
        alike = self._likeness(window, before)
        if alike is None:
            return None
        peaks = _peaks(alike)
        inside = peaks[(peaks >= self.shortest) & (peaks <= self.longest)]
        if not inside.size:
            return None
        heights = alike[inside]
        first = int(inside[np.argmax(heights >= FIRST * heights.max())])
        period, clarity = _top(alike, first)
        if clarity < CLEAR or _doubtful(alike, peaks, period):
            return None
        return Reading(69 + 12 * float(np.log2(self.rate / period / 440)), clarity)

    def _likeness(self, window: Samples, before: Curve) -> Curve | None:
        """The normalised square difference for shifts of 0, 1, 2 ... samples."""
        power = self.power(window)
        whole = max(power.sum(), 1e-12)
        left = np.maximum(power - before * min(1.0, whole / max(before.sum(), 1e-12)), 0)
        share = left.sum() / whole
        if share < FAINT:
            return None
        together: Curve = np.fft.irfft(left)[: self._lags]
        alike: Curve = 2 * together / (share * _energies(window, self._lags))
        return alike


def _energies(window: Samples, lags: int) -> Curve:
    """The energy of both parts of a window that lie upon each other, for each shift."""
    running = np.concatenate([[0.0], np.cumsum(np.square(window, dtype=np.float64))])
    shifts = np.arange(lags)
    energies: Curve = running[window.size - shifts] + running[-1] - running[shifts] + 1e-12
    return energies


def _peaks(curve: Curve) -> NDArray[np.intp]:
    """Where a curve is highest within its surroundings, and above zero, after it was first below."""
    below = np.flatnonzero(curve < 0)
    if not below.size:
        return below
    middle = curve[1:-1]
    tops = np.flatnonzero((middle > 0) & (middle >= curve[:-2]) & (middle > curve[2:])) + 1
    later: NDArray[np.intp] = tops[tops > below[0]]
    return later


def _top(curve: Curve, peak: int) -> tuple[float, float]:
    """Where the parabola through a peak and its neighbours is highest, and how high."""
    left, middle, right = curve[peak - 1 : peak + 2]
    bend = left - 2 * middle + right
    shift = 0.5 * (left - right) / bend if bend else 0.0
    return peak + shift, float(middle - 0.25 * (left - right) * shift)


def _doubtful(curve: Curve, peaks: NDArray[np.intp], period: float) -> bool:
    """Whether a part of the period is nearly as good as the whole."""
    for part in (2, 3, 4):
        near = peaks[np.abs(peaks - period / part) <= max(1.5, 0.06 * period / part)]
        if near.size and curve[near].max() >= DOUBT:
            return True
    return False


def _hertz(midi: float) -> float:
    return float(440 * 2 ** ((midi - 69) / 12))
