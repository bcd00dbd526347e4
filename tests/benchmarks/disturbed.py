"""What disturbs a listener: noise, hum, other strings, hands, a guitar out of tune. Levels are against the note's own.

Each change takes a note, all recordings and a generator of chance, and gives the note with half a second before it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

import guitars
import numpy as np
from guitars import LEAD_S, RATE, Note, Recordings, Samples

Change = Callable[[Note, Recordings, np.random.Generator], Samples]

OPEN = {40, 45, 50, 55, 59, 60, 64, 28, 33, 39}
"""Open strings of a guitar and a bass, and the notes recorded nearest to them."""
HAND_GAP_S = 0.05
"""From the end of a hand's noise to the pluck."""


def clean(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
    """The note alone."""
    return guitars.alone(note.samples)


def noisy(db: float) -> Change:
    """White noise, so many decibels over the note."""

    def change(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
        samples = guitars.alone(note.samples)
        return samples + hiss(samples.size, note.loudness * 10 ** (db / 20), chance)

    return change


def humming(hertz: float, db: float) -> Change:
    """The mains."""

    def change(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
        samples = guitars.alone(note.samples)
        return samples + hum(samples.size, hertz, note.loudness * 10 ** (db / 20), chance)

    return change


def over_an_open_string(db: float) -> Change:
    """Another open string rings since four tenths of a second."""

    def change(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
        others = [each for each in recordings.of(note.kind).notes if each.midi in OPEN and each.midi != note.midi]
        other = others[int(chance.integers(len(others)))]
        samples = guitars.alone(note.samples)
        level = np.float32(10 ** (db / 20) * note.loudness / other.loudness)
        guitars.add(samples, guitars.ringing(other, 1.5) * level, round((LEAD_S - 0.4) * RATE))
        return samples

    return change


def detuned(cents: float) -> Change:
    """The whole guitar out of tune."""

    def change(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
        return guitars.alone(guitars.resampled(note.samples, 2 ** (-cents / 1200)))

    return change


def after_a_hand(note: Note, recordings: Recordings, chance: np.random.Generator) -> Samples:
    """A hand on the strings just before, as loud as the note."""
    hand = recordings.hands[int(chance.integers(len(recordings.hands)))]
    noise = guitars.damped(hand, round(0.35 * RATE)) * np.float32(note.loudness / guitars.rms(hand))
    samples = guitars.alone(note.samples)
    guitars.add(samples, noise, round((LEAD_S - HAND_GAP_S) * RATE) - noise.size)
    return samples


def hiss(count: int, loudness: float, chance: np.random.Generator) -> Samples:
    return (chance.standard_normal(count) * loudness).astype(np.float32)


def hum(count: int, hertz: float, loudness: float, chance: np.random.Generator) -> Samples:
    """The mains, with its second, third and fifth overtones."""
    at = np.arange(count) / RATE
    waves = [np.sin(2 * np.pi * hertz * times * at + chance.uniform(0, 6.28)) / times for times in (1, 2, 3, 5)]
    together = np.sum(waves, axis=0).astype(np.float32)
    return together * np.float32(loudness / guitars.rms(together))


CONDITIONS: Mapping[str, Change] = {
    "noise 20 dB under": noisy(-20),
    "noise 10 dB under": noisy(-10),
    "hum of 50 Hz 10 dB under": humming(50, -10),
    "hum of 60 Hz 10 dB under": humming(60, -10),
    "another open string 12 dB under": over_an_open_string(-12),
    "30 cents flat": detuned(-30),
    "30 cents sharp": detuned(30),
    "a hand on the strings before": after_a_hand,
}
