"""Saves how long a key press takes the learner, so that it can be subtracted from thinking times.

The presses are saved in the log of attempts, as attempts at a card of their own that is only shown and never judged.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate, pairwise

from drill.memory import KEY_PRESS
from drill.practice.attempts import Times, attempt_of, attempt_row, milliseconds
from drill.practice.learner_store import LearnerStore
from drill.record import DrillRow
from drill.system.environment import Environment


def record_key_presses(environment: Environment, store: LearnerStore, seconds: Sequence[float]) -> float:
    """Save key presses that took so many seconds each; returns the learner's key press in seconds, as known now.

    Raises CannotWrite, RecordDamaged.
    """
    card, now_ms = KEY_PRESS.card, milliseconds(environment.now())
    drill = DrillRow(environment.new_uid(), now_ms, now_ms, card, 0, "{}", "", None)
    store.record.start_drill(drill)
    offset_min = environment.utc_offset_minutes(environment.now())
    took_ms = [milliseconds(took_s) for took_s in seconds]
    for pressed_from, pressed_at in pairwise(accumulate(took_ms, initial=now_ms - sum(took_ms))):
        times = Times(pressed_from, pressed_at, offset_min, pressed_at - pressed_from)
        row = attempt_row(environment.new_uid(), drill, card, card, times)
        store.add(row, KEY_PRESS, attempt_of(row))
    return store.learner.key_press_s
