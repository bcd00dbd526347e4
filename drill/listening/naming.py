"""From the readings of one pluck to its name: two must agree, and the name holds if nothing gainsays it.

A name comes at once, so that a right answer does not wait, and once more if it becomes clear only then. Whoever would
charge another note waits until it has held: the moment after a pluck is full of overtones, and a hand that mutes a
string leaves a note that is gone at once.

Two things tell a string from a voice. A string gets its whole energy when it is plucked and only loses it afterwards
(Fletcher & Rossing 1998, The Physics of Musical Instruments, chapter 9), while a syllable grows. And a string keeps its
pitch, while a voice glides.
"""

from __future__ import annotations

from drill.listening.events import Event, Heard, Missed
from drill.listening.pitch import Reading, clarity_in_noise

APART_S = 0.05
"""What follows a pluck sooner than this belongs to it: a pick touches the string before it lets go."""
PATIENCE_S = 0.35
"""A pluck that has no name after this time gets none."""
HOLD_S = 0.12
"""A note that is the same for so long holds,"""
FADES_DB = 16.0
"""unless it has become so much quieter meanwhile: a string left alone loses up to 11 dB, a muted one 25 or more."""
GROWS_DB = 1.0
"""What becomes louder than this was not plucked just then; a string whose overtones beat may seem to grow by less."""
SURE = 0.95
"""A note that is as clear as this in the end holds. Two strings at once can seem a third note, which is less clear."""
STEADY, STEADY_CENTS = 0.9, 25
"""A note that is only so clear, noise and all, holds if it has moved no further: a voice glides."""
BENDS_CENTS = 35
"""No note that has moved further holds: a hard pluck begins up to 30 cents sharp."""
SAME = 0.6
"""Semitones within which two readings are the same note; a hard pluck begins sharp."""
AGREEING = 2
"""So many readings in a row must be the same note before it is named."""
STEADY_DB = 0.5
"""What sounded when the stream began may be a hum: it is named only once its level has changed by so much."""


class Naming:
    """One pluck that is being listened to. `shortest` is the sample from which a whole window lies behind its onset.

    `noise` is the mean square of the steady noise that was there before: it takes from the clarity of any note.
    """

    def __init__(self, onset: int, shortest: int, rate: int, noise: float = 0.0) -> None:
        self.onset = onset
        self._gives_up = max(onset + round(PATIENCE_S * rate), shortest + round(HOLD_S * rate))
        self._plucked_by = shortest + round(APART_S * rate)
        self._hold = round(HOLD_S * rate)
        self._noise, self._perfect = noise, 1.0
        self._last: Reading | None = None
        self._agreeing = 0
        self._name: Heard | None = None
        self._since = 0
        self._named_db = 0.0
        """When the hold began, and how loud it was then."""
        self._first_db: float | None = None
        """How loud it was when it might have been named first."""
        self._reference_db: float | None = None
        """What is louder than this by GROWS_DB has grown."""
        self._is_sudden, self._is_string, self._is_clear = True, True, False
        self.told: float | None = None
        """The pitch told last."""
        self.done = False

    def take(self, reading: Reading | None, level_db: float, position: int) -> list[Event]:
        """What the reading of the window that ends at `position` tells, and the loudness of that window."""
        self._follow_level(level_db, position)
        reading = self._measured(reading, level_db)
        if reading and self._last and abs(reading.pitch - self._last.pitch) <= SAME:
            self._agreeing += 1
        else:
            self._agreeing, self._name = int(reading is not None), None
        self._last = reading
        if reading and self._name:
            return self._confirm(reading, self._name, level_db, position)
        if reading and self._agreeing >= AGREEING and not self._may_hum(level_db):
            return self._begin(reading, level_db, position)
        return self._give_up(position) if position > self._gives_up else []

    def outlasts(self, reading: Reading | None, level_db: float, position: int) -> list[Event]:
        """The same after something came upon the pluck: its note holds if it sounds still."""
        reading = self._measured(reading, level_db)
        return self._confirm(reading, self._name, level_db, position) if reading and self._name else []

    def _measured(self, reading: Reading | None, level_db: float) -> Reading | None:
        self._perfect = clarity_in_noise(self._noise, level_db)
        return reading.against(self._perfect) if reading else None

    def _follow_level(self, level_db: float, position: int) -> None:
        """Begin the hold anew where a pluck comes only now; what grows even later is no string."""
        if self._reference_db is None:
            self._reference_db = level_db
        if level_db > self._reference_db + GROWS_DB:
            self._is_sudden, self._is_string = False, position <= self._plucked_by
            self._reference_db = self._named_db = level_db
            self._since = position

    def _begin(self, reading: Reading, level_db: float, position: int) -> list[Event]:
        self._name = self._heard(reading, position, held=False)
        self._since, self._named_db = position, level_db
        if self.told is not None and abs(self.told - reading.pitch) <= SAME:
            return []
        return self._tell(self._name)

    def _tell(self, name: Heard) -> list[Event]:
        self.told, self._is_clear = name.midi + name.cents / 100, name.sudden and name.clarity >= SURE
        return [name]

    def _confirm(self, reading: Reading, name: Heard, level_db: float, position: int) -> list[Event]:
        """Tell that the note holds, or that it has become clear."""
        moved = abs(100 * (reading.pitch - name.midi) - name.cents)
        if position - self._since >= self._hold:
            self.done = True
            holds = self._is_string and moved <= BENDS_CENTS and self._named_db - level_db <= FADES_DB
            is_steady = moved <= STEADY_CENTS and reading.clarity * self._perfect >= STEADY
            is_clear = is_steady or reading.clarity >= SURE
            return [self._heard(reading, position, held=True)] if holds and is_clear else []
        becomes_clear = reading.clarity >= SURE and moved <= STEADY_CENTS and self._is_sudden and not self._is_clear
        return self._tell(self._heard(reading, position, held=False)) if becomes_clear else []

    def _give_up(self, position: int) -> list[Event]:
        self.done = True
        return [] if self.told is not None else [Missed(self.onset, position)]

    def _may_hum(self, level_db: float) -> bool:
        if self._first_db is None:
            self._first_db = level_db
        return self.onset <= 0 and abs(level_db - self._first_db) < STEADY_DB

    def _heard(self, reading: Reading, position: int, held: bool) -> Heard:
        cents = 100 * (reading.pitch - reading.midi)
        return Heard(reading.midi, cents, self.onset, position, min(1.0, reading.clarity), held, self._is_sudden)
