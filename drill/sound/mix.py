"""What the sound card is given, block by block: a loop with its count-in, or the clicks of a round.

Time is counted in frames from the beginning, one sample each, so that nothing drifts however long it plays.
"""

from __future__ import annotations

from abc import ABC, abstractmethod

import numpy as np

from drill.sound.arrangement import PARTS, Part
from drill.sound.noise import beat_click, clicks, frame_of
from drill.sound.pluck import Samples
from drill.sound.render import PEAK, Rendered
from drill.sound.volume import FIRST_DB, factor
from drill.sound.wav import pcm
from drill.theory.bars import BEATS_IN_A_BAR


class Mix(ABC):
    """Gives the next frames whenever it is called; `volume_db` may be changed at any moment, from any thread."""

    def __init__(self, bpm: int, rate: int, volume_db: int = FIRST_DB) -> None:
        self.bpm, self.rate, self.volume_db = bpm, rate, volume_db
        self.given = 0
        """How many frames have been given."""
        self._loudness = factor(volume_db)

    def __call__(self, frames: int) -> bytes:
        """The next frames, as 16-bit numbers of one channel."""
        before, self._loudness = self._loudness, factor(self.volume_db)
        block = self._block(self.given, frames)
        self.given += frames
        if not block.any():
            return bytes(2 * frames)
        slope = np.linspace(before, self._loudness, frames, dtype=np.float32)  # a step in loudness would crackle
        return pcm(block * slope)

    @abstractmethod
    def _block(self, start: int, frames: int) -> Samples:
        """So many frames from `start` on, the loudest at most PEAK."""


class LoopMix(Mix):
    """A loop, over and over, after one bar of clicks; `playing` may be changed at any moment, from any thread."""

    def __init__(self, rendered: Rendered, bpm: int, volume_db: int = FIRST_DB) -> None:
        super().__init__(bpm, rendered.rate, volume_db)
        self.playing: set[Part] = set(PARTS)
        self._rendered = rendered
        self._count_in = clicks(BEATS_IN_A_BAR, bpm, rendered.rate) * np.float32(PEAK)
        self._heard = dict.fromkeys(PARTS, 1.0)

    def _block(self, start: int, frames: int) -> Samples:
        at = np.arange(start, start + frames) - self._count_in.size
        block = np.zeros(frames, dtype=np.float32)
        counting = at < 0
        block[counting] = self._count_in[at[counting]]  # negative numbers count from the end
        for part, samples in self._rendered.parts.items():
            before, self._heard[part] = self._heard[part], float(part in self.playing)
            slope = np.linspace(before, self._heard[part], frames, dtype=np.float32)
            block += np.where(counting, 0, samples[at % self._rendered.frames] * slope)
        return block


class ClickMix(Mix):
    """A click on every beat, without end, the first of each bar accented."""

    def _block(self, start: int, frames: int) -> Samples:
        block = np.zeros(frames, dtype=np.float32)
        beat = max(0, int(start * self.bpm / (60 * self.rate)) - 1)
        while (at := frame_of(beat, self.bpm, self.rate) - start) < frames:
            click = beat_click(beat, self.rate)
            first, last = max(0, at), min(frames, at + click.size)
            if first < last:
                block[first:last] += click[first - at : last - at] * np.float32(PEAK)
            beat += 1
        return block
