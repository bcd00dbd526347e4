"""Samples in, notes out."""

from __future__ import annotations

import numpy as np

from drill.listening.events import Event, Heard, Missed, Samples
from drill.listening.pitch import Curve, Reader, Reading
from drill.listening.plucks import PluckFinder

PATIENCE_S = 0.35
"""A pluck that has no name after this time gets none."""
HOLD_S = 0.12
"""A note that is the same for so long holds."""
APART_S = 0.05
"""What follows a pluck sooner than this belongs to it."""
SAME = 0.6
"""Semitones within which two readings are the same note; a hard pluck begins sharp."""
AGREEING = 2
"""So many readings in a row must be the same note before it is named."""


class _Pluck:
    """A pluck that is being listened to."""

    def __init__(self, onset: int, before: Curve) -> None:
        self.onset = onset
        self.before = before
        self.readings: list[Reading] = []
        self.named: Heard | None = None
        """The note that is being held against its readings."""
        self.told: Heard | None = None
        """The note told last."""


class Listener:
    """Names plucked notes from `low` to `high` (MIDI numbers) in one channel of samples at `rate`."""

    def __init__(self, rate: int, low: int, high: int) -> None:
        self._rate = rate
        self._reader = Reader(rate, low, high)
        self._finder = PluckFinder(rate)
        self._hop = self._finder.hop
        self._past = np.zeros(2 * self._reader.size + 4 * self._finder.size, dtype=np.float32)
        self._waiting = np.zeros(0, dtype=np.float32)
        self._position = 0
        self._pluck: _Pluck | None = None

    def feed(self, samples: Samples) -> list[Event]:
        """What the next samples tell; the same for blocks of any length."""
        fresh = np.concatenate([self._waiting, np.nan_to_num(np.asarray(samples, dtype=np.float32))])
        whole = fresh.size - fresh.size % self._hop
        self._waiting = fresh[whole:].copy()
        events: list[Event] = []
        for start in range(0, whole, self._hop):
            self._take(fresh[start : start + self._hop])
            events += self._look()
        return events

    def _take(self, samples: Samples) -> None:
        self._past[: -self._hop] = self._past[self._hop :]
        self._past[-self._hop :] = samples
        self._position += self._hop

    def _look(self) -> list[Event]:
        events: list[Event] = []
        if self._finder.look(self._past[-self._finder.size :]) and self._apart():
            if self._pluck and not self._pluck.told:
                events.append(Missed(self._pluck.onset, self._position))
            self._begin()
        if self._pluck:
            events += self._listen(self._pluck)
        return events

    def _apart(self) -> bool:
        return self._pluck is None or self._position - self._pluck.onset > APART_S * self._rate

    def _begin(self) -> None:
        onset = self._position - self._onset_ago()
        end = self._past.size - (self._position - onset) - self._hop // 2
        before = self._past[end - self._reader.size : end]
        self._pluck = _Pluck(onset, self._reader.power(before))

    def _onset_ago(self) -> int:
        """How many samples ago the loudness rose most."""
        step = self._hop // 4
        edges = np.diff(self._past[-2 * self._finder.size - 1 :])
        energy = np.square(edges, dtype=np.float64).reshape(-1, step).sum(axis=1) + 1e-9
        sums = np.concatenate([[0.0], np.cumsum(energy)])
        width = 6
        at = np.arange(width, energy.size - 1)
        after = (sums[np.minimum(at + 4, energy.size)] - sums[at]) / (np.minimum(at + 4, energy.size) - at)
        before = (sums[at] - sums[at - width]) / width
        best = at[np.argmax(np.log(after / before))]
        return int((energy.size - best) * step)

    def _listen(self, pluck: _Pluck) -> list[Event]:
        since = self._position - pluck.onset
        if since < self._reader.size:
            return []
        if pluck.named is None:
            return self._name(pluck, since)
        return self._hold(pluck, pluck.named)

    def _read(self, pluck: _Pluck) -> Reading | None:
        return self._reader.read(self._past[-self._reader.size :], pluck.before)

    def _name(self, pluck: _Pluck, since: int) -> list[Event]:
        reading = self._read(pluck)
        if reading is None or (pluck.readings and abs(pluck.readings[-1].pitch - reading.pitch) > SAME):
            pluck.readings.clear()
        if reading:
            pluck.readings.append(reading)
        if reading and len(pluck.readings) >= AGREEING:
            told = pluck.told
            pluck.named = pluck.told = self._heard(pluck, reading, held=False)
            return [pluck.named] if told is None or told.midi != pluck.named.midi else []
        if since > max(PATIENCE_S * self._rate, self._reader.size + HOLD_S * self._rate):
            self._pluck = None
            return [] if pluck.told else [Missed(pluck.onset, self._position)]
        return []

    def _hold(self, pluck: _Pluck, named: Heard) -> list[Event]:
        reading = self._read(pluck)
        if reading is None or abs(reading.pitch - named.midi - named.cents / 100) > SAME:
            pluck.named = None
            pluck.readings.clear()
            return []
        if self._position - named.decided < HOLD_S * self._rate:
            return []
        self._pluck = None
        return [self._heard(pluck, reading, held=True)]

    def _heard(self, pluck: _Pluck, reading: Reading, held: bool) -> Heard:
        cents = 100 * (reading.pitch - reading.midi)
        return Heard(reading.midi, cents, pluck.onset, self._position, reading.clarity, held)


def listen(samples: Samples, rate: int, low: int, high: int) -> list[Event]:
    """Every note and every miss in a recording of one channel."""
    return Listener(rate, low, high).feed(samples)
