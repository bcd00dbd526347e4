"""Drums and clicks, made of noise: a click with a pitch would be taken for a note of the guitar.

The noise is the same each time, from fixed seeds, so that the same loop gives the same file.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

import numpy as np

from drill.sound.arrangement import HAT, KICK, SNARE
from drill.sound.pluck import Samples

CLICK_S = 0.03
ATTACK_S = 0.001


class Burst(NamedTuple):
    """Noise of a band, dying away."""

    low_hz: float
    high_hz: float
    seconds: float
    loudness: float


DRUMS = {KICK: Burst(40, 140, 0.18, 1.0), SNARE: Burst(180, 7000, 0.14, 0.5), HAT: Burst(7000, 16000, 0.05, 0.35)}
CLICK, ACCENT = Burst(800, 8000, CLICK_S, 0.6), Burst(1500, 12000, CLICK_S, 1.0)
"""The click of a beat, and of the first beat of a bar."""


@lru_cache(maxsize=32)
def burst(kind: Burst, rate: int) -> Samples:
    """The samples of a burst, its loudest at its loudness. Never write into what this returns."""
    count = round(kind.seconds * rate)
    spectrum = np.fft.rfft(np.random.default_rng(count).standard_normal(count))
    hertz = np.fft.rfftfreq(count, 1 / rate)
    inside = 1 / (1 + (kind.low_hz / np.maximum(hertz, 1)) ** 6) / (1 + (hertz / kind.high_hz) ** 6)
    frames = np.arange(count)
    samples = np.fft.irfft(spectrum * inside, count) * np.exp(-6 * frames / count)
    samples *= np.minimum(1, frames / (ATTACK_S * rate))
    scaled: Samples = (samples * kind.loudness / np.abs(samples).max()).astype(np.float32)
    scaled.flags.writeable = False
    return scaled


def clicks(beats: int, bpm: int, rate: int) -> Samples:
    """The clicks of some bars, the first beat of each accented; as long as the beats, to the sample."""
    samples = np.zeros(frame_of(beats, bpm, rate), dtype=np.float32)
    for beat in range(beats):
        click = beat_click(beat, rate)
        start = frame_of(beat, bpm, rate)
        samples[start : start + click.size] += click
    return samples


def beat_click(beat: int, rate: int) -> Samples:
    """The click of a beat, counted from a bar line."""
    return burst(ACCENT if beat % 4 == 0 else CLICK, rate)


def frame_of(beat: float, bpm: int, rate: int) -> int:
    """The sample at which a beat begins. It is counted from the beginning, so that no error adds up."""
    return round(beat * 60 * rate / bpm)
