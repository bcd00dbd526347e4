"""A plucked string.

Karplus & Strong 1983 (Computer Music Journal 7(2):43-55): a burst of noise runs round a delay line as long as the
period and loses its overtones by averaging neighbours. Here each period is made from the one before in one step, and
the whole string is then stretched by less than a hundredth, to be in tune although a period is a whole number of
samples.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]

SOFTNESS = 1.6
"""The nth overtone of the burst is n to this power weaker: a fingertip, not a plectrum."""
ATTACK_S = 0.002
"""How long a note takes to begin: shorter would click."""
HALF_LIFE_S = 0.9
"""In this time the string loses half of its loudness, beside the overtones that die sooner."""


def frequency(pitch: int) -> float:
    """The frequency of a MIDI number in hertz; A4 (69) is 440 (ISO 16)."""
    return float(440 * 2 ** ((pitch - 69) / 12))


@lru_cache(maxsize=256)
def pluck(pitch: int, length: int, rate: int) -> Samples:
    """`length` samples of a string plucked at a MIDI pitch, the loudest at 1. Never write into what this returns."""
    wanted = rate / frequency(pitch)
    period = round(wanted - 0.5)  # averaging neighbours delays by half a sample
    stretch = wanted / (period + 0.5)
    rows = int(length / stretch) // period + 2
    string = _string(pitch, period, rows, 0.5 ** (wanted / (HALF_LIFE_S * rate)))
    at = np.arange(length, dtype=np.float64) / stretch
    samples = np.interp(at, np.arange(string.size), string).astype(np.float32)
    attack = round(ATTACK_S * rate)
    samples[:attack] *= np.arange(attack, dtype=np.float32) / np.float32(attack)
    samples /= np.abs(samples).max()
    samples.flags.writeable = False
    return samples


def _string(pitch: int, period: int, rows: int, loss: float) -> Samples:
    """`rows` periods of a string, one after the other; each loses to `loss` of its loudness."""
    string = np.empty((rows, period), dtype=np.float32)
    string[0] = _burst(pitch, period)
    before = np.empty(period + 1, dtype=np.float32)
    before[0] = 0
    for row in range(1, rows):
        before[1:] = string[row - 1]
        np.add(before[1:], before[:-1], out=string[row])
        string[row] *= np.float32(loss / 2)
        before[0] = before[-1]
    return string.reshape(-1)


def _burst(pitch: int, period: int) -> Samples:
    """One period of noise whose overtones are the weaker the higher they are."""
    chance = np.random.default_rng(pitch)
    overtones = np.arange(1, period // 2 + 1)
    spectrum = np.exp(2j * np.pi * chance.random(overtones.size)) / overtones**SOFTNESS
    return np.fft.irfft([0, *spectrum], period).astype(np.float32)
