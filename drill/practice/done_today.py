"""What was drilled today, by the answers in the record, and for how long: whether today's minutes are done."""

from __future__ import annotations

from collections.abc import Iterable

from drill.present.dates import local
from drill.record import AttemptRow, Record
from drill.system.environment import Environment

LONGEST_S = 45.0
"""A question with its verdict counts for no longer: one that is left alone pauses after half a minute."""
ALMOST = 0.9
"""The share of the minutes that is all of them: a drill ends when no answer fits into the rest of its time."""
MOST = 2000
"""So many of the day's answers are looked at: more than anybody gives in an hour, the longest drill there is."""


def is_done(rows: Iterable[AttemptRow], minutes: float) -> bool:
    """Whether answering these took so many minutes."""
    return drilled_s(rows) >= ALMOST * 60 * minutes


def of_today(record: Record, environment: Environment) -> list[AttemptRow]:
    """The attempts since midnight on the learner's calendar. Raises RecordDamaged."""
    midnight_s = _midnight_s(environment.now(), environment)
    return record.page_after((round(midnight_s * 1000), ""), record.last_attempt_id(), MOST)


def _midnight_s(now_s: float, environment: Environment) -> float:
    """When the learner's day began, in seconds since the epoch; a day on which the clocks change has 23 or 25 hours."""
    clock = local(now_s, environment)
    early_s = now_s - 3600 * clock.hour - 60 * clock.minute - clock.second
    changed = environment.utc_offset_minutes(now_s) - environment.utc_offset_minutes(early_s)
    return early_s + 60 * changed


def drilled_s(rows: Iterable[AttemptRow]) -> float:
    """How long these questions took, in seconds, from each answer of a drill to the next; pauses count for little."""
    took_s, last = 0.0, None
    for row in rows:
        began = last.answered_at if last and last.drill == row.drill else row.asked_at
        took_s += min(max(row.answered_at - began, 0) / 1000, LONGEST_S)
        last = row
    return took_s
