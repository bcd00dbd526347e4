"""The learner's own last time, to compare a new one with."""

from __future__ import annotations

from drill.record import Record


def last_time_s(record: Record, card: str) -> float | None:
    """Seconds of thinking before the latest right answer to a card whose time is known; None if there is none."""
    times = [row.thinking_ms for row in record.attempts(card) if row.correct and row.thinking_ms is not None]
    return times[-1] / 1000 if times else None
