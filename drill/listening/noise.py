"""How loud the steady noise of a room is: as loud as its quietest moment of late.

After Martin 2001, "Noise power spectral density estimation based on optimal smoothing and minimum statistics", IEEE
Trans. Speech and Audio Processing 9(5):504-512. Between syllables and between plucks the noise alone is left, so the
quiet room in which somebody talks is still told for a quiet one.
"""

from __future__ import annotations

import numpy as np

from drill.listening.events import Samples

LATELY_S = 1.0
"""A second is longer than any syllable."""


class Noise:
    """Follows the power of frames of `size` samples, each a hop after the last."""

    def __init__(self, rate: int, size: int, hop: int) -> None:
        self._powers = np.full(round(LATELY_S * rate / hop), np.inf)
        self._next = 0
        self._unfilled = size // hop - 1
        """So many frames hold silence from before the stream began."""

    def take(self, frame: Samples) -> None:
        """Follow one more frame."""
        if self._unfilled:
            self._unfilled -= 1
        else:
            self._powers[self._next] = float(np.dot(frame, frame)) / frame.size
            self._next = (self._next + 1) % self._powers.size

    @property
    def power(self) -> float:
        """The mean square of the noise; 0 while nothing is known."""
        least = float(self._powers.min())
        return least if np.isfinite(least) else 0.0
