"""Samples in, notes out."""

from __future__ import annotations

import numpy as np

from drill.listening.events import Event, Missed, Samples
from drill.listening.naming import APART_S, Naming
from drill.listening.noise import Noise
from drill.listening.pitch import Curve, Reader
from drill.listening.plucks import Bands, PluckFinder, steepest

HOPS_AT_ONCE = 8
"""So many frames are looked at together: fewer would take longer, and more would need more memory."""


class Listener:
    """Names plucked notes in one channel of samples, as they come."""

    def __init__(self, rate: int, low: int, high: int) -> None:
        """`rate` is in samples a second, `low` and `high` are the MIDI numbers of the lowest and the highest note."""
        self._rate = rate
        self._reader = Reader(rate, low, high)
        self._finder = PluckFinder(rate)
        self._hop = self._finder.hop
        self._noise = Noise(rate, self._finder.size, self._hop)
        self._past = np.zeros(2 * self._reader.size + 4 * self._finder.size, dtype=np.float32)
        self._waiting = np.zeros(0, dtype=np.float32)
        self._position = 0
        self._naming: Naming | None = None
        self._before = self._reader.power(self._window(0))
        self._interrupted: tuple[Naming, Curve] | None = None
        """The pluck upon which the last one came, and what had rung before it."""

    def feed(self, samples: Samples) -> list[Event]:
        """What the next samples tell. The events are the same for blocks of any length."""
        fresh = np.concatenate([self._waiting, np.asarray(samples, dtype=np.float32)])
        if not np.isfinite(fresh).all():
            fresh = np.nan_to_num(fresh)
        whole = fresh.size - fresh.size % self._hop
        self._waiting = fresh[whole:].copy()
        events: list[Event] = []
        for start in range(0, whole, HOPS_AT_ONCE * self._hop):
            frames = self._frames(fresh[start : min(whole, start + HOPS_AT_ONCE * self._hop)])
            for frame, bands in zip(frames, self._finder.bands(frames), strict=True):
                self._take(frame)
                events += self._look(frame, bands)
        return events

    def _frames(self, samples: Samples) -> Samples:
        """The frames that end with each hop of the samples."""
        stream = np.concatenate([self._past[self._hop - self._finder.size :], samples])
        return np.lib.stride_tricks.sliding_window_view(stream, self._finder.size)[:: self._hop]

    def _take(self, frame: Samples) -> None:
        self._past[: -self._hop] = self._past[self._hop :]
        self._past[-self._hop :] = frame[-self._hop :]
        self._position += self._hop

    def _look(self, frame: Samples, bands: Bands) -> list[Event]:
        self._noise.take(frame)
        missed = self._begin() if self._finder.look(bands) and self._apart() else []
        return missed + (self._listen(self._naming) if self._naming else [])

    def _apart(self) -> bool:
        return self._naming is None or self._position - self._naming.onset > APART_S * self._rate

    def _begin(self) -> list[Event]:
        """Listen to a new pluck, and no more to the one before."""
        old = self._naming
        self._interrupted = (old, self._before) if old else None
        ago = steepest(self._past[-2 * self._finder.size :], self._hop // 4)
        self._before = self._reader.power(self._window(ago + self._hop // 2))
        onset = max(0, self._position - ago)
        self._naming = Naming(onset, onset + self._reader.size, self._rate, self._noise.power)
        return [Missed(old.onset, self._position)] if old and old.told is None else []

    def _listen(self, naming: Naming) -> list[Event]:
        if self._position - naming.onset < self._reader.size:
            return []
        window = self._window(0)
        power = float(np.dot(window, window)) / window.size + 1e-12
        level_db = 10 * float(np.log10(power))
        reading = None if self._finder.is_quiet else self._reader.read(window, self._before)
        events = naming.take(reading, level_db, self._position)
        if naming.done:
            self._naming = None
            events += self._outlasted(window, level_db)
        return events

    def _outlasted(self, window: Samples, level_db: float) -> list[Event]:
        """What is told of the pluck before, upon which a click or a knock may have come."""
        if self._interrupted is None:
            return []
        (naming, before), self._interrupted = self._interrupted, None
        return naming.outlasts(self._reader.read(window, before), level_db, self._position)

    def _window(self, ago: int) -> Samples:
        """The window that ended so many samples ago."""
        end = self._past.size - ago
        return self._past[end - self._reader.size : end]


def listen(samples: Samples, rate: int, low: int, high: int) -> list[Event]:
    """Every note and every miss in a recording of one channel, its loudest at most 1."""
    return Listener(rate, low, high).feed(samples)
