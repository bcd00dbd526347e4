"""Chords that come to rest, then a phrase of single notes: what is heard before a question that is heard.

Times are in seconds from the beginning.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from drill.sound.arrangement import bass_note, voicing
from drill.sound.mix import Mix
from drill.sound.pluck import Samples, pluck
from drill.sound.render import DAMP_S, LOUDNESS, PEAK, RATE, STRUM_S
from drill.theory.chords import Chord
from drill.theory.pitch import Note

CHORD_S = 0.5
REST_S = 0.9
"""How long the last chord sounds; the phrase follows when it is over."""
NOTE_S = 0.28
LAST_NOTE_S = 0.6
LOWEST_NOTE = 64
"""E4: the phrase lies above the chords."""


class Struck(NamedTuple):
    """A note of the whole: when it begins, how long it sounds, and its MIDI number."""

    at_s: float
    seconds: float
    midi: int


def phrase_strokes(chords: Sequence[Chord], notes: Sequence[Note]) -> Iterator[Struck]:
    """Every note: the chords strummed from the bass up, then the phrase, each note in the octave above LOWEST_NOTE."""
    at_s = 0.0
    for number, chord in enumerate(chords):
        seconds = REST_S if number == len(chords) - 1 else CHORD_S
        for string, midi in enumerate((bass_note(chord), *voicing(chord))):
            yield Struck(at_s + string * STRUM_S, seconds - string * STRUM_S, midi)
        at_s += seconds
    for number, note in enumerate(notes):
        seconds = LAST_NOTE_S if number == len(notes) - 1 else NOTE_S
        yield Struck(at_s, seconds, LOWEST_NOTE + (note.pitch_class - LOWEST_NOTE) % 12)
        at_s += seconds


def phrase(chords: Sequence[Chord], notes: Sequence[Note], rate: int = RATE) -> Samples:
    """The samples of it, as loud as a loop."""
    strokes = tuple(phrase_strokes(chords, notes))
    end_s = max(stroke.at_s + stroke.seconds for stroke in strokes)
    samples = np.zeros(round(end_s * rate), dtype=np.float32)
    for stroke in strokes:
        start, length = round(stroke.at_s * rate), round(stroke.seconds * rate)
        note = pluck(stroke.midi, length, rate).copy()
        damping = min(length, round(DAMP_S * rate))
        note[length - damping :] *= np.linspace(1, 0, damping, dtype=np.float32)
        fitting = samples[start : start + length]
        fitting += note[: fitting.size]
    loud = float(np.sqrt(np.mean(np.square(samples, dtype=np.float64))))
    return samples * np.float32(min(LOUDNESS / loud, PEAK * 0.999 / float(np.abs(samples).max())))


class OnceMix(Mix):
    """Samples once, then silence."""

    def __init__(self, samples: Samples, rate: int, volume_db: int) -> None:
        super().__init__(60, rate, volume_db)
        self._samples = samples

    def _block(self, start: int, frames: int) -> Samples:
        block = np.zeros(frames, dtype=np.float32)
        heard = self._samples[start : start + frames]
        block[: heard.size] = heard
        return block
