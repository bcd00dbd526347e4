"""When a string is plucked.

Spectral flux in bands of a third of an octave (Bello et al. 2005, "A tutorial on onset detection in music signals",
IEEE Trans. SAP 13(5):1035-1047), above a floor of noise that is learned as it goes; the rise of the whole counts too.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from drill.listening.events import Samples

Bands = NDArray[np.float64]

HOP_S = 0.0058
HOPS_A_FRAME = 4
LOWEST_HZ, HIGHEST_HZ = 60.0, 9000.0
BANDS_AN_OCTAVE = 3
PAST = 4
"""A band has risen where it is louder than in each of so many frames before, the overlapping one left out."""
ABOVE_FLOOR_DB = 6.0
FLUX_DB = 3.0
"""How much the bands must rise on average."""
LEVEL_DB = 4.0
"""Or how much the whole; half of the one and half of the other do as well."""
QUIETEST_DB = -75.0
FLOOR_RISES_DB_S = 3.0
QUIET_DB = 3.0
"""Where all together is no louder than this above the floor, half of it or more is noise, and no note can be clear."""
STEPS_BEFORE, STEPS_AFTER = 6, 4
"""Steps, a quarter of a hop each, that are compared to find the very beginning of a pluck."""


def hop_size(rate: int) -> int:
    """Samples from one look to the next: a power of two, about six milliseconds."""
    return int(2 ** round(np.log2(HOP_S * rate)))


class PluckFinder:
    """Looks at frames that follow each other by a hop, and tells when a string is plucked."""

    def __init__(self, rate: int) -> None:
        self.hop = hop_size(rate)
        self.size = HOPS_A_FRAME * self.hop
        self._window = np.hanning(self.size + 1)[:-1]
        self._scale = 4.0 / float(np.sum(self._window)) ** 2
        octaves = np.log2(min(HIGHEST_HZ, 0.45 * rate) / LOWEST_HZ)
        edges = LOWEST_HZ * 2 ** np.linspace(0, octaves, int(octaves * BANDS_AN_OCTAVE) + 1)
        self._edges = np.unique(np.ceil(edges * self.size / rate).astype(int))
        self._rise = FLOOR_RISES_DB_S * self.hop / rate
        quiet = np.full(self._edges.size, QUIETEST_DB)
        self._floor = quiet.copy()
        self.is_quiet = True
        """Whether nothing sounds but the room."""
        self._past = np.tile(quiet, (PAST + 1, 1))

    def look(self, bands: Bands) -> bool:
        """Whether something was plucked just now, by the bands of the frame that has just ended."""
        least = np.maximum(self._past[:-1].max(axis=0), self._floor + ABOVE_FLOOR_DB)
        risen = np.maximum(bands, least) - least
        self.is_quiet = bool(bands[-1] <= self._floor[-1] + QUIET_DB)
        self._floor = np.maximum(np.minimum(self._floor + self._rise, bands), QUIETEST_DB)
        self._past[:-1] = self._past[1:]
        self._past[-1] = bands
        flux = risen[:-1].sum() / (risen.size - 1)
        return bool(flux / FLUX_DB + risen[-1] / LEVEL_DB >= 1)

    def bands(self, frames: Samples) -> Bands:
        """The loudness of each band and, last, of all, in decibels, for many frames at once, which is quick."""
        power = np.abs(np.fft.rfft(frames * self._window)[:, : self._edges[-1]]) ** 2 * self._scale
        bands = np.empty((len(frames), self._edges.size))
        bands[:, :-1] = np.add.reduceat(power, self._edges[:-1], axis=1)
        bands[:, -1] = bands[:, :-1].sum(axis=1)
        return 10 * np.log10(bands + 1e-10)


def steepest(samples: Samples, step: int) -> int:
    """How many samples ago the loudness rose most, by steps. What is high counts most: there a pluck begins."""
    energy = np.square(np.diff(samples, prepend=samples[:1]), dtype=np.float64).reshape(-1, step).sum(axis=1) + 1e-9
    before = np.convolve(energy, np.ones(STEPS_BEFORE) / STEPS_BEFORE, "valid")[:-STEPS_AFTER]
    after = np.convolve(energy, np.ones(STEPS_AFTER) / STEPS_AFTER, "valid")[STEPS_BEFORE:]
    best = STEPS_BEFORE + int(np.argmax(after / before))
    return int(energy.size - best) * step
