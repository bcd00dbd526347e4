"""From the readings of one pluck to its name: two must agree, and the name holds if nothing gainsays it.

A name comes at once, so that a right answer does not wait. Whoever would charge another note waits until it has held:
the moment after a pluck is full of overtones, and a hand that mutes a string leaves a note that is gone at once.
"""

from __future__ import annotations

from drill.listening.events import Event, Heard, Missed
from drill.listening.pitch import Reading

PATIENCE_S = 0.35
"""A pluck that has no name after this time gets none."""
HOLD_S = 0.12
"""A note that is the same for so long holds,"""
FADES_DB = 16.0
"""unless it has become so much quieter meanwhile: a string left alone loses up to 11 dB, a muted one 25 or more."""
SURE = 0.95
"""A note that is as clear as this in the end holds. Two strings at once can seem a third note, which is less clear."""
STEADY, STEADY_CENTS = 0.9, 25
"""A note that is only so clear holds if it has moved no further: noise blurs a string, and a voice glides."""
SAME = 0.6
"""Semitones within which two readings are the same note; a hard pluck begins sharp."""
AGREEING = 2
"""So many readings in a row must be the same note before it is named."""
STEADY_DB = 0.5
"""What sounded when the stream began may be a hum: it is named only once its level has changed by so much."""


class Naming:
    """One pluck that is being listened to. `shortest` is the sample from which a whole window lies behind its onset."""

    def __init__(self, onset: int, shortest: int, rate: int) -> None:
        self.onset = onset
        self._gives_up = max(onset + round(PATIENCE_S * rate), shortest + round(HOLD_S * rate))
        self._hold = round(HOLD_S * rate)
        self._last: Reading | None = None
        self._agreeing = 0
        self._named: tuple[Heard, float] | None = None
        self._first_db: float | None = None
        self.told: float | None = None
        """The pitch told last."""
        self.done = False

    def take(self, reading: Reading | None, level_db: float, position: int) -> list[Event]:
        """What the reading of the window that ends at `position` tells, and the loudness of that window."""
        if reading and self._last and abs(reading.pitch - self._last.pitch) <= SAME:
            self._agreeing += 1
        else:
            self._agreeing, self._named = int(reading is not None), None
        self._last = reading
        if reading and self._named and position - self._named[0].decided >= self._hold:
            return self._settle(reading, level_db, position)
        if reading and not self._named and self._agreeing >= AGREEING and not self._may_hum(level_db):
            return self._name(reading, level_db, position)
        if position > self._gives_up and not self._named:
            return self._give_up(position)
        return []

    def _name(self, reading: Reading, level_db: float, position: int) -> list[Event]:
        name = self._heard(reading, position, held=False)
        self._named = name, level_db
        if self.told is not None and abs(self.told - reading.pitch) <= SAME:
            return []
        self.told = reading.pitch
        return [name]

    def _settle(self, reading: Reading, level_db: float, position: int) -> list[Event]:
        self.done = True
        assert self._named
        name, name_db = self._named
        moved = abs(100 * (reading.pitch - name.midi) - name.cents)
        holds = reading.clarity >= (STEADY if moved <= STEADY_CENTS else SURE) and name_db - level_db <= FADES_DB
        return [self._heard(reading, position, held=True)] if holds else []

    def _give_up(self, position: int) -> list[Event]:
        self.done = True
        return [] if self.told is not None else [Missed(self.onset, position)]

    def _may_hum(self, level_db: float) -> bool:
        if self._first_db is None:
            self._first_db = level_db
        return self.onset <= 0 and abs(level_db - self._first_db) < STEADY_DB

    def _heard(self, reading: Reading, position: int, held: bool) -> Heard:
        cents = 100 * (reading.pitch - reading.midi)
        return Heard(reading.midi, cents, self.onset, position, min(1.0, reading.clarity), held)
