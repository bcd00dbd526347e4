"""A round of keys: one key after another is called over a click, and the guitarist lands on its tonic.

After a bar of clicks the first key is called at a bar line. Its tonic is to be landed on before the next bar line; then
the neck shows where it was, until the next key is called. Everything is counted in beats from the first click, so that
no error adds up.

Round       the keys in the order in which they are called, and what is called when
Moment      what holds at one moment of a round
call_order  the weakest keys first, never the same twice in a row while there is another
Landings    writes down what was said or heard to be landed on
"""

from __future__ import annotations

import json
import random
from collections.abc import Sequence
from typing import NamedTuple

from drill.decks import Focus
from drill.errors import UsageProblem
from drill.practice.attempts import milliseconds
from drill.present.rounds import Judged
from drill.record import DrillRow, LandingRow, Record
from drill.system.environment import Environment
from drill.theory.bars import BEATS_IN_A_BAR, bar_seconds, beat_seconds, beats_over
from drill.theory.keys import Key

USUAL_BARS = 2
REACTION_BEATS = 2
"""Whoever says "had it" so soon after a new key was called means the one before."""


class Moment(NamedTuple):
    """What holds at one moment: the beat of the bar, the key that is called, and the key whose places are shown.

    `number` counts the calls from 0; it is -1 while the count-in lasts.
    """

    number: int
    beat: int
    called: Key | None
    shown: Key | None


class Round(NamedTuple):
    """The keys in the order in which they are called, each for so many bars."""

    keys: tuple[Key, ...]
    bpm: int
    bars: int

    @property
    def beats_a_call(self) -> int:
        """How many beats lie between one call and the next."""
        return self.bars * BEATS_IN_A_BAR

    @property
    def end_s(self) -> float:
        """When the round is over, in seconds from the first click of the count-in."""
        return self.call_s(len(self.keys))

    def call_s(self, number: int) -> float:
        """When a key is called, in seconds from the first click; calls count from 0."""
        return self._seconds(BEATS_IN_A_BAR + number * self.beats_a_call)

    def bar_line_s(self, number: int) -> float:
        """Before this moment the tonic of a call is to be landed on."""
        return self._seconds(2 * BEATS_IN_A_BAR + number * self.beats_a_call)

    def _seconds(self, beats: int) -> float:
        return beats * beat_seconds(self.bpm)

    def at(self, elapsed_s: float) -> Moment:
        """What holds so many seconds after the first click."""
        beats = beats_over(elapsed_s, self.bpm)
        number = (beats - BEATS_IN_A_BAR) // self.beats_a_call
        to_show = number if beats >= BEATS_IN_A_BAR * 2 + number * self.beats_a_call else number - 1
        show_nothing = self.bars > 1 and to_show < number
        return Moment(
            number,
            beats % BEATS_IN_A_BAR,
            self._key(number),
            None if show_nothing else self._key(to_show),
        )

    def checked_at(self, elapsed_s: float) -> int | None:
        """The call that "had it" is about at this moment; None before the first."""
        beats = beats_over(elapsed_s, self.bpm)
        number = (beats - BEATS_IN_A_BAR) // self.beats_a_call
        if beats - BEATS_IN_A_BAR - number * self.beats_a_call < REACTION_BEATS:
            number -= 1
        return number if 0 <= number < len(self.keys) else None

    def _key(self, number: int) -> Key | None:
        return self.keys[number] if 0 <= number < len(self.keys) else None


def plan_round(weakest_first: Sequence[Key], bpm: int, bars: int, minutes: float, chance: random.Random) -> Round:
    """A round of about so many minutes, of at least one call. Raises UsageProblem without a key."""
    calls = max(1, round(60 * minutes / (bars * bar_seconds(bpm))))
    return Round(call_order(weakest_first, calls, chance), bpm, bars)


def call_order(weakest_first: Sequence[Key], calls: int, chance: random.Random) -> tuple[Key, ...]:
    """Every key in turn, the weakest first; later turns in an order that nobody foresees.

    No two keys that follow each other sound alike, unless all of them do: one key is called again and again. Raises
    UsageProblem without a key.
    """
    keys = _sounds(weakest_first)
    if not keys:
        raise UsageProblem("A round needs a key to call.", "Example: fretsure round --key Am")
    if len(keys) == 1:
        return tuple(keys * calls)
    called = list(keys)
    while len(called) < calls:
        turn = chance.sample(keys, len(keys))
        if turn[0] == called[-1]:
            turn = turn[1:] + turn[:1]
        called += turn
    return tuple(called[:calls])


def _sounds(keys: Sequence[Key]) -> list[Key]:
    """The keys, each sound once."""
    found: list[Key] = []
    for key in keys:
        if not any(key.sounds_like(other) for other in found):
            found.append(key)
    return found


class Landings:
    """Writes the landings of one round into the record; the round itself is written with the first of them.

    They are what the guitarist says, or what was heard. Nothing is learnt from them: strength and speed stay as they
    are.
    """

    def __init__(self, environment: Environment, record: Record, deck: str, minutes: int, focus: Focus) -> None:
        self._environment, self._record = environment, record
        self._drill = DrillRow(environment.new_uid(), 0, None, deck, minutes, json.dumps(focus.as_names()), "", None)
        self._begun = False
        self._written: set[int] = set()
        self.count = 0
        """How many keys were landed on, as the guitarist says."""

    def had_it(self, called: Round, number: int, elapsed_s: float) -> bool:
        """Write that a call was landed on; False if it was said before. Raises CannotWrite, RecordDamaged."""
        if number in self._written:
            return False
        self._write(called, number, elapsed_s, LandingRow("", "", "", 0, "self-checked", True, None, None, None))
        self.count += 1
        return True

    def heard(self, called: Round, judged: Judged, elapsed_s: float) -> None:
        """Write what was heard at a call. Raises CannotWrite, RecordDamaged."""
        note = judged.note.name if judged.note else None
        row = LandingRow("", "", "", 0, "heard", judged.landed, judged.late_ms, note, judged.path_ms)
        self._write(called, judged.number, elapsed_s, row)

    def _write(self, called: Round, number: int, elapsed_s: float, row: LandingRow) -> None:
        """Write a landing, with the names and the moment that it lacks."""
        began_s = self._environment.now() - elapsed_s
        if not self._begun:
            self._drill = self._drill._replace(started_at=milliseconds(began_s))
            self._record.start_drill(self._drill)
            self._begun = True
        asked_at = milliseconds(began_s + called.call_s(number))
        uid, key = self._environment.new_uid(), called.keys[number].name
        self._record.append_landing(row._replace(uid=uid, drill=self._drill.id, key=key, asked_at=asked_at))
        self._written.add(number)

    def end(self) -> None:
        """The round is over. Raises CannotWrite, RecordDamaged."""
        if self._begun:
            self._record.end_drill(self._drill.id)
