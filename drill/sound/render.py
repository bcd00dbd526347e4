"""An arrangement as samples: each part of its own, as long as the loop to the sample, without a seam at its end.

What still sounds at the end of the loop sounds on at its beginning.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import NamedTuple

import numpy as np

from drill.sound.arrangement import PARTS, Arrangement, Part, Stroke
from drill.sound.noise import DRUMS, burst, frame_of
from drill.sound.pluck import Samples, pluck

RATE = 44_100
PEAK = 0.5
"""No sample is louder than this, whichever parts play."""
LOUDNESS = 10 ** (-23 / 20)
"""The root mean square of all parts together: -23 dB below full scale, where it does not push a peak over PEAK."""
STRUM_S = 0.012
"""Between one string of a chord and the next."""
DAMP_S = 0.03
"""How long a note takes to die once it is damped."""
BALANCE: Mapping[Part, float] = {"chords": 0.3, "bass": 0.5, "drums": 1.1}


class Rendered(NamedTuple):
    """The samples of a loop by its parts, all of one length."""

    parts: Mapping[Part, Samples]
    rate: int

    @property
    def frames(self) -> int:
        """How long the loop is, in samples."""
        return int(self.parts["drums"].size)

    def mixed(self, playing: Collection[Part] = PARTS) -> Samples:
        """The parts that play, in one."""
        silence = np.zeros(self.frames, dtype=np.float32)
        return sum((self.parts[part] for part in PARTS if part in playing), start=silence)


def render(arrangement: Arrangement, rate: int = RATE) -> Rendered:
    """Render a loop at `rate` samples a second."""
    frames = frame_of(arrangement.beats, arrangement.bpm, rate)
    parts = {part: np.zeros(frames, dtype=np.float32) for part in PARTS}
    for stroke in arrangement.strokes:
        start = frame_of(stroke.beat, arrangement.bpm, rate)
        length = frame_of(stroke.length, arrangement.bpm, rate)
        for number, pitch in enumerate(stroke.pitches):
            note = _note(stroke, pitch, length, rate) * np.float32(stroke.force * BALANCE[stroke.part])
            _add(parts[stroke.part], start + round(number * STRUM_S * rate), note)
    loudness = _loudness(parts)
    return Rendered({part: samples * loudness for part, samples in parts.items()}, rate)


def _note(stroke: Stroke, pitch: int, length: int, rate: int) -> Samples:
    if stroke.part == "drums":
        return burst(DRUMS[pitch], rate)
    damping = round(DAMP_S * rate)
    note = pluck(pitch, length + damping, rate).copy()
    note[length:] *= np.linspace(1, 0, damping, dtype=np.float32)
    return note


def _add(loop: Samples, start: int, note: Samples) -> None:
    """Add a note to a loop; what is beyond its end goes to its beginning."""
    while note.size:
        start %= loop.size
        fitting = min(note.size, loop.size - start)
        loop[start : start + fitting] += note[:fitting]
        start, note = start + fitting, note[fitting:]


def _loudness(parts: Mapping[Part, Samples]) -> np.float32:
    """What to multiply the parts by."""
    together = sum(parts.values(), start=np.zeros(1, dtype=np.float32))
    loud = float(np.sqrt(np.mean(np.square(together, dtype=np.float64))))
    return np.float32(min(LOUDNESS / loud, PEAK * 0.999 / _peak(parts)))


def _peak(parts: Mapping[Part, Samples]) -> float:
    """The loudest sample of any choice of parts: two that play can be louder than all three."""
    chords, bass, drums = (parts[part] for part in PARTS)
    both = chords + bass
    mixes = (chords, bass, drums, both, chords + drums, bass + drums, both + drums)
    return max(float(np.abs(mix).max()) for mix in mixes)
