"""A microphone for tests: it hears a script as a clock moved by hand goes on, and can be unplugged, busy or forbidden.

shop = MicrophoneShop(clock, plucks=[(1.0, 45), (3.5, 52)])      # second of the stream, MIDI number
environment._replace(open_duplex=shop)
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np

from drill.errors import NoSound
from drill.sound.pluck import Samples, pluck
from drill.system.audio import Source
from drill.system.duplex import SYSTEM_CHOICE, Chosen, Duplex
from tests.support.worlds import HandClock

BLOCK = 882
"""What a sound card hands over at a time: a fiftieth of a second at 44,100 samples a second."""
HISS = 1e-4
"""The noise of a quiet room; without it a microphone counts as forbidden."""
RINGS_S = 0.8
DAMPED_S = 0.03
LOUDEST = 0.3


class FakeDuplex:
    """Hears a script: plucks as (second of the stream, MIDI number), and whatever else is added to `script`.

    `heard` collects what was played; `leak` is how much of it comes back in, after `path` samples.
    """

    def __init__(
        self, clock: HandClock, rate: int, plucks: Iterable[tuple[float, int]] = (), hiss: float = HISS
    ) -> None:
        self.rate, self.lost, self.overruns, self.is_open = rate, False, 0, False
        self.heard, self.leak, self.path = bytearray(), 0.0, 0
        self.starts = 0
        self.script: dict[int, Samples] = {}
        """What comes in, by the sample at which it begins."""
        self._clock, self._hiss = clock, hiss
        self._source: Source | None = None
        self._given, self._start_s = 0, 0.0
        self._unread: list[Samples] = []
        for second, midi in plucks:
            self.pluck_at(round(second * rate), midi)

    def pluck_at(self, sample: int, midi: int) -> None:
        """Let a string be plucked at a sample of the stream."""
        note = (LOUDEST * pluck(midi, round(RINGS_S * self.rate), self.rate)).astype(np.float32)
        damping = round(DAMPED_S * self.rate)
        note[-damping:] *= np.linspace(1, 0, damping, dtype=np.float32)
        self.script[sample] = note

    def pluck_now(self, midi: int) -> None:
        """Let a string be plucked at this moment."""
        self.pluck_at(self._due(), midi)

    def play_in(self, seconds: float, samples: Samples) -> None:
        """Let something sound so many seconds from now."""
        self.script[self._due() + round(seconds * self.rate)] = samples

    def start(self, source: Source | None) -> None:
        if self.lost:
            raise NoSound("The microphone cannot be opened.")
        self._source, self._start_s, self.is_open = source, self._clock.monotonic_s - self._given / self.rate, True
        self.starts += 1

    def read(self) -> list[Samples]:
        blocks, self._unread = self._unread, []
        while self.is_open and not self.lost and self._due() - self._given >= BLOCK:
            blocks.append(self._block(self._given))
            self._given += BLOCK
        return blocks

    def stop(self) -> None:
        self._unread, self.is_open = self.read(), False

    def unplug(self) -> None:
        """As when the cable is pulled out: nothing comes any more."""
        self.lost = True

    def _due(self) -> int:
        return round((self._clock.monotonic_s - self._start_s) * self.rate)

    def _block(self, start: int) -> Samples:
        if self._source is not None:
            self.heard += self._source(BLOCK)
        block = self._hiss * np.random.default_rng(start).standard_normal(BLOCK).astype(np.float32)
        for begins, samples in self.script.items():
            first, last = max(start, begins), min(start + BLOCK, begins + samples.size)
            if first < last:
                block[first - start : last - start] += samples[first - begins : last - begins]
        return block + self._leaking(start) if self.leak else block

    def _leaking(self, start: int) -> Samples:
        """What was played `path` samples ago."""
        first = start - self.path
        played = np.frombuffer(self.heard[2 * max(0, first) : 2 * max(0, first + BLOCK)], dtype="<i2")
        leaking = np.zeros(BLOCK, dtype=np.float32)
        leaking[BLOCK - played.size :] = played * np.float32(self.leak / 32768)
        return leaking


class MicrophoneShop:
    """Opens fake microphones that all hear the same script; the last one opened is `duplex`, its devices `chosen`."""

    def __init__(self, clock: HandClock, plucks: Iterable[tuple[float, int]] = (), hiss: float = HISS) -> None:
        self.clock, self.plucks, self.hiss = clock, tuple(plucks), hiss
        self.duplex: FakeDuplex | None = None
        self.chosen = SYSTEM_CHOICE

    def __call__(self, rate: int, monotonic: Callable[[], float], chosen: Chosen = SYSTEM_CHOICE) -> Duplex:
        self.duplex, self.chosen = FakeDuplex(self.clock, rate, self.plucks, self.hiss), chosen
        return self.duplex
