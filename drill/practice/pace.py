"""How many questions the learner answers in a time, by the newest answers in the record."""

from __future__ import annotations

from drill.practice.done_today import drilled_s
from drill.record import Record

NEWEST = 100
"""So many of the newest answers tell the pace: a drill or two."""
LEAST = 20
"""Fewer answers say nothing of it."""
ROUND = 5


def answers_in(seconds: float, record: Record) -> int | None:
    """About how many answers the learner gives in a drill of so many seconds; None where too little is known.

    Verdicts that are read and cards that are shown take their part of the time. Raises RecordDamaged.
    """
    rows = record.page_after(record.last_place(before=NEWEST), record.last_attempt_id(), NEWEST)
    answers, took_s = sum(row.kind == "asked" for row in rows), drilled_s(rows)
    if answers < LEAST or not took_s:
        return None
    return ROUND * max(1, round(answers * seconds / took_s / ROUND))
