"""Recordings of real guitars, and notes played one after the other from them.

A recording is told by its kind (strat: electric; flat: electric with flatwound strings; nylon; bass). A strat's file
begins some milliseconds before its string is plucked, so a note says itself where its attack is.
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


class Note(NamedTuple):
    """One recorded note."""

    kind: str
    midi: int
    samples: Samples

    @property
    def loudness(self) -> float:
        """The root mean square of its first third of a second."""
        return rms(self.samples[: RATE // 3])

    @property
    def attack(self) -> int:
        """The sample at which it is plucked: the first that is louder than a tenth of the loudest."""
        return int(np.argmax(np.abs(self.samples) > 0.1 * np.abs(self.samples).max()))

    @property
    def octaves(self) -> set[int]:
        """Its MIDI number in every octave: what has its name."""
        return {midi for midi in range(128) if midi % 12 == self.midi % 12}


class Recordings(NamedTuple):
    """Notes, and noises that hands make on strings."""

    notes: list[Note]
    hands: list[Samples]

    def of(self, *kinds: str) -> Recordings:
        """Only the notes of some kinds of guitar."""
        return self._replace(notes=[note for note in self.notes if note.kind in kinds])


def load(folder: Path) -> Recordings:
    """Every recording that the folder's manifest names; one without a MIDI number is a noise of the hand."""
    with (folder / "manifest.csv").open(newline="", encoding="utf-8") as stream:
        rows = [(row["file"], row["midi"]) for row in csv.DictReader(stream)]
    notes = [Note(file.split("_")[0], int(midi), _read(folder / file)) for file, midi in rows if midi]
    return Recordings(notes, [_read(folder / file) for file, midi in rows if not midi])


def _read(path: Path) -> Samples:
    with wave.open(str(path)) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE), path
        return np.frombuffer(file.readframes(file.getnframes()), "<i2").astype(np.float32) / 32_768


def rms(samples: Samples) -> float:
    return float(np.sqrt(np.mean(np.square(samples, dtype=np.float64))))


def silence(seconds: float) -> Samples:
    return np.zeros(round(seconds * RATE), dtype=np.float32)


def alone(samples: Samples) -> Samples:
    """A note with silence before and after."""
    return np.concatenate([silence(LEAD_S), samples, silence(TAIL_S)])


def add(samples: Samples, other: Samples, start: int) -> None:
    """Let another sound in at a sample; what reaches beyond the end is cut."""
    part = other[: max(0, samples.size - start)]
    samples[start : start + part.size] += part


def resampled(samples: Samples, ratio: float) -> Samples:
    """As many times as many samples, by way of the spectrum: another rate, or another pitch."""
    count = round(samples.size * ratio)
    return (np.fft.irfft(np.fft.rfft(samples), count) * count / samples.size).astype(np.float32)


def damped(samples: Samples, length: int) -> Samples:
    """The beginning of a note, ended within 20 ms."""
    part = samples[:length].copy()
    fade = min(part.size, RATE // 50)
    part[part.size - fade :] *= np.linspace(1, 0, fade, dtype=np.float32)
    return part


def phrase(notes: Iterable[Note], every_s: float, *, rings: bool) -> Samples:
    """Notes one after the other from LEAD_S on, each damped at the next, or all left ringing for two seconds."""
    line = list(notes)
    step = round(every_s * RATE)
    samples = silence(LEAD_S + every_s * len(line) + 1)
    for number, note in enumerate(line):
        sound = ringing(note, 2) if rings else damped(note.samples, step)
        add(samples, sound, round(LEAD_S * RATE) + number * step)
    return samples


def ringing(note: Note, seconds: float) -> Samples:
    """A note that rings on beyond its recording: its overtones go on fading as they did before it was faded out."""
    length = RATE // 10
    body = note.samples[:-length]
    last, before = body[-length:], body[-3 * length : -2 * length]
    hertz = _overtones(note.midi, body)
    at = np.arange(round(seconds * RATE) - body.size + length) / RATE
    waves = np.exp(2j * np.pi * np.outer(at[:length], hertz))
    basis = np.hstack([waves.real, waves.imag])
    now, then = (np.linalg.lstsq(basis, part, rcond=None)[0] for part in (last, before))
    size_now, size_then = (np.hypot(*np.split(part, 2)) for part in (now, then))
    fading = np.log(np.clip(size_then / (size_now + 1e-9), 1.02, 10)) / (2 * length / RATE)
    turning = np.exp(np.outer(at, 2j * np.pi * hertz - fading))
    tail = (turning.real @ now[: hertz.size] + turning.imag @ now[hertz.size :]).astype(np.float32)
    blend = np.linspace(0, 1, length, dtype=np.float32)
    return np.concatenate([body[:-length], last * (1 - blend) + tail[:length] * blend, tail[length:]])


def _overtones(midi: int, body: Samples) -> NDArray[np.float64]:
    """The frequencies of a note's first twelve overtones, as its last third of a second has them."""
    part, size = body[-RATE // 3 :], 2**16
    spectrum = np.abs(np.fft.rfft(part * np.hanning(part.size), size))
    base = 440 * 2 ** ((midi - 69) / 12)
    found = []
    for times in range(1, min(12, int(8000 / base)) + 1):
        low, high = (int(base * times * 2 ** (cents / 1200) * size / RATE) for cents in (-60, 60))
        found.append((low + int(np.argmax(spectrum[low : high + 1]))) * RATE / size)
    return np.array(found)
