"""Recordings of real guitars for a benchmark, and what is done to them: noise, hum, hands, strings that ring on.

A recording is told by its kind (strat: electric; flat: electric with flatwound strings; nylon; bass). Levels are in
decibels against the root mean square of a note's first third of a second. Chance comes from a generator that is given.
"""

from __future__ import annotations

import csv
import wave
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]

RATE = 22_050
LEAD_S, TAIL_S = 0.5, 0.3
RANGES: Mapping[str, tuple[int, int]] = {"strat": (40, 86), "flat": (40, 86), "nylon": (40, 86), "bass": (25, 63)}
OPEN = {40, 45, 50, 55, 59, 60, 64, 28, 33, 39}
"""Open strings, and the notes recorded nearest to them."""


class Note(NamedTuple):
    """One recorded note."""

    kind: str
    midi: int
    samples: Samples

    @property
    def loudness(self) -> float:
        return rms(self.samples[: RATE // 3])


class Recordings(NamedTuple):
    notes: list[Note]
    hands: list[Samples]

    def of(self, kind: str) -> list[Note]:
        return [note for note in self.notes if note.kind == kind]


def load(folder: Path) -> Recordings:
    """Every recording that the folder's manifest names; one without a MIDI number is a noise of the hand."""
    with (folder / "manifest.csv").open(newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    notes = [Note(row["file"].split("_")[0], int(row["midi"]), _read(folder / row["file"])) for row in rows if row["midi"]]
    return Recordings(notes, [_read(folder / row["file"]) for row in rows if not row["midi"]])


def _read(path: Path) -> Samples:
    with wave.open(str(path)) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE)
        return np.frombuffer(file.readframes(file.getnframes()), "<i2").astype(np.float32) / 32_768


def rms(samples: Samples) -> float:
    return float(np.sqrt(np.mean(np.square(samples, dtype=np.float64))))


def alone(samples: Samples) -> Samples:
    """A note with silence before and after."""
    return np.concatenate([silence(LEAD_S), samples, silence(TAIL_S)])


def silence(seconds: float) -> Samples:
    return np.zeros(round(seconds * RATE), dtype=np.float32)


def add(samples: Samples, other: Samples, start: int) -> None:
    """Let another sound in at a sample; what reaches beyond the end is cut."""
    part = other[: max(0, samples.size - start)]
    samples[start : start + part.size] += part


def hiss(count: int, loudness: float, chance: np.random.Generator) -> Samples:
    return (chance.standard_normal(count) * loudness).astype(np.float32)


def hum(count: int, hertz: float, loudness: float, chance: np.random.Generator) -> Samples:
    """The mains, with its second, third and fifth overtones."""
    at = np.arange(count) / RATE
    waves = [np.sin(2 * np.pi * hertz * times * at + chance.uniform(0, 6.28)) / times for times in (1, 2, 3, 5)]
    together = np.sum(waves, axis=0).astype(np.float32)
    return together * np.float32(loudness / rms(together))


def resampled(samples: Samples, ratio: float) -> Samples:
    """As many times as many samples, by way of the spectrum: another rate, or another pitch."""
    count = round(samples.size * ratio)
    return (np.fft.irfft(np.fft.rfft(samples), count) * count / samples.size).astype(np.float32)


def ringing(note: Note, seconds: float) -> Samples:
    """A note that rings on beyond its recording: the overtones of its last tenth of a second go on dying as they did."""
    length = RATE // 10
    last, before = note.samples[-length:], note.samples[-3 * length : -2 * length]
    hertz = _overtones(note)
    at = np.arange(round(seconds * RATE) - note.samples.size + length) / RATE
    rays = np.exp(2j * np.pi * np.outer(at[:length], hertz))
    basis = np.hstack([rays.real, rays.imag])
    now, then = (np.linalg.lstsq(basis, part, rcond=None)[0] for part in (last, before))
    size_now, size_then = (np.hypot(*np.split(part, 2)) for part in (now, then))
    rates = np.log(np.clip(size_then / (size_now + 1e-9), 1.02, 10)) / (2 * length / RATE)
    turning = np.exp(np.outer(at, 2j * np.pi * hertz - rates))
    tail = (turning.real @ now[: hertz.size] + turning.imag @ now[hertz.size :]).astype(np.float32)
    fade = np.linspace(0, 1, length, dtype=np.float32)
    joint = last * (1 - fade) + tail[:length] * fade
    return np.concatenate([note.samples[:-length], joint, tail[length:]])


def _overtones(note: Note) -> NDArray[np.float64]:
    """The frequencies of the overtones in the last third of a second, as they are."""
    part = note.samples[-RATE // 3 :]
    size = 2**16
    spectrum = np.abs(np.fft.rfft(part * np.hanning(part.size), size))
    base = 440 * 2 ** ((note.midi - 69) / 12)
    found = []
    for times in range(1, min(12, int(8000 / base)) + 1):
        low, high = (int(base * times * 2 ** (cents / 1200) * size / RATE) for cents in (-60, 60))
        found.append((low + int(np.argmax(spectrum[low : high + 1]))) * RATE / size)
    return np.array(found)


def phrase(notes: Iterable[Note], every_s: float, *, rings: bool) -> Samples:
    """Notes one after the other from LEAD_S on, each damped at the next, or all left ringing for two seconds."""
    line = list(notes)
    step = round(every_s * RATE)
    samples = silence(LEAD_S + every_s * len(line) + 1)
    for number, note in enumerate(line):
        sound = ringing(note, 2) if rings else damped(note.samples, step)
        add(samples, sound, round(LEAD_S * RATE) + number * step)
    return samples


def damped(samples: Samples, length: int) -> Samples:
    """The beginning of a note, ended within 20 ms."""
    part = samples[:length].copy()
    fade = min(part.size, RATE // 50)
    part[part.size - fade :] *= np.linspace(1, 0, fade, dtype=np.float32)
    return part
