"""A guitar for tests: strings plucked one after the other, and what disturbs them. Made of numbers, no recording.

Each function gives float32 samples of one channel. Levels are in decibels against the root mean square of the notes'
first third of a second; chance is seeded.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from drill.sound.pluck import Samples, pluck

RATE = 44_100
LOUDEST = 0.3
RINGS_S = 3.0
DAMPED_S = 0.03


def played(notes: Iterable[tuple[float, int]], seconds: float, rate: int = RATE, *, ringing: bool = False) -> Samples:
    """Notes as (second, MIDI number). Each is damped when the next is plucked, unless the strings are left ringing."""
    line = sorted(notes)
    ends = [at for at, _ in line[1:]] + [seconds]
    samples = np.zeros(round(seconds * rate), dtype=np.float32)
    for (at, midi), end in zip(line, ends, strict=True):
        start = round(at * rate)
        note = note_of(midi, RINGS_S if ringing else min(end - at, RINGS_S), rate)[: samples.size - start]
        samples[start : start + note.size] += note
    return samples


def note_of(midi: int, seconds: float, rate: int = RATE) -> Samples:
    """One plucked note, damped at its end."""
    note = LOUDEST * pluck(midi, round(seconds * rate), rate)
    damping = min(note.size, round(DAMPED_S * rate))
    note[note.size - damping :] *= np.linspace(1, 0, damping, dtype=np.float32)
    return note.astype(np.float32)


def sung(hertz: float, seconds: float, grows_s: float, rate: int = RATE) -> Samples:
    """A tone that begins softly and grows for a while, as a voice does and no plucked string."""
    at = np.arange(round(seconds * rate)) / rate
    wave = sum(np.sin(2 * np.pi * hertz * times * at + times) / times for times in range(1, 9))
    return (LOUDEST / 3 * wave * np.minimum(1, at / grows_s) * np.minimum(1, (seconds - at) / 0.05)).astype(np.float32)


def detuned(samples: Samples, cents: float) -> Samples:
    """The same, played faster or slower, so that it sounds so many cents sharp."""
    at = np.arange(0, samples.size - 1, 2 ** (cents / 1200))
    return np.interp(at, np.arange(samples.size), samples).astype(np.float32)


def noise(seconds: float, rate: int = RATE, *, db: float = -20, seed: int = 1) -> Samples:
    """Hiss, so loud against a note of this module."""
    hiss = np.random.default_rng(seed).standard_normal(round(seconds * rate))
    return (hiss * _level(db)).astype(np.float32)


def hum(seconds: float, rate: int = RATE, *, hertz: float = 50, db: float = -10) -> Samples:
    """The hum of the mains with its overtones, so loud against a note of this module."""
    at = np.arange(round(seconds * rate)) / rate
    wave = sum(np.sin(2 * np.pi * hertz * times * at + times) / times for times in (1, 2, 3, 5))
    return (wave / np.sqrt(np.mean(np.square(wave))) * _level(db)).astype(np.float32)


def knock(rate: int = RATE, *, seed: int = 1) -> Samples:
    """A hand on damped strings: a thump and a rustle without a pitch, a fifth of a second long."""
    count = rate // 5
    chance = np.random.default_rng(seed)
    fades = np.exp(-np.arange(count) / rate / 0.02)
    spectrum = np.fft.rfft(chance.standard_normal(count) * fades)
    spectrum *= 1 / (1 + np.fft.rfftfreq(count, 1 / rate) / 400)
    thump = np.fft.irfft(spectrum, count)
    return (LOUDEST * thump / np.abs(thump).max()).astype(np.float32)


def together(*layers: Samples) -> Samples:
    """Several at once, from the same beginning; as long as the longest."""
    samples = np.zeros(max(layer.size for layer in layers), dtype=np.float32)
    for layer in layers:
        samples[: layer.size] += layer
    return samples


def after(seconds: float, samples: Samples, rate: int = RATE) -> Samples:
    """The same after a silence."""
    return np.concatenate([np.zeros(round(seconds * rate), dtype=np.float32), samples])


def _level(db: float) -> float:
    reference = note_of(57, 0.3, RATE)
    return float(np.sqrt(np.mean(np.square(reference, dtype=np.float64)))) * 10 ** (db / 20)
