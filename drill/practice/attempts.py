"""An attempt in its two forms: a row of the log, and what the memory learns from it."""

from typing import NamedTuple

from drill.memory import Attempt
from drill.questions.card import Judgement
from drill.record import AttemptRow, DrillRow, How

PASSED = Judgement("", False)
"""The learner passed: that counts as not known, and the log has no answer for it."""


WORDING = "-w2"
"""Ends the name of every answer since questions have been asked in their present, short wording. Those of before took
longer to read; by the name the log tells them apart, whatever machine an answer comes from."""


class Times(NamedTuple):
    """The times of one attempt as the log stores them: milliseconds, moments since the epoch, the offset in minutes.

    `thinking_ms` is None if it could not be measured, `target_ms` 0 if there is no target.
    """

    asked_at: int
    answered_at: int
    utc_offset_min: int
    thinking_ms: int | None
    target_ms: int = 0


def attempt_row(
    uid: str,
    drill: DrillRow,
    card: str,
    family: str,
    times: Times,
    judgement: Judgement | None = None,
    how: How = "typed",
) -> AttemptRow:
    """An answer with its judgement, or, without one, a card that was only shown."""
    return AttemptRow(
        uid=uid + WORDING if judgement else uid,
        drill=drill.id,
        card=card,
        family=family,
        deck=drill.deck,
        kind="asked" if judgement else "shown",
        asked_at=times.asked_at,
        answered_at=times.answered_at,
        utc_offset_min=times.utc_offset_min,
        given=judgement.given if judgement else "",
        correct=judgement.right if judgement else None,
        mixup=judgement.mixup.name if judgement and judgement.mixup else None,
        thinking_ms=times.thinking_ms,
        target_ms=times.target_ms,
        how=how,
    )


def attempt_of(row: AttemptRow, mixed_fact: str | None = None) -> Attempt:
    """What the memory learns from a row; `mixed_fact` is the fact that its mix-up points at.

    A drill and a replay both learn from the row, so that they learn from the very same numbers.
    """
    thinking_s = None if row.thinking_ms is None else row.thinking_ms / 1000
    return Attempt(
        row.card,
        row.answered_at / 1000,
        row.correct,
        thinking_s,
        mixed_fact,
        present_wording=row.uid.endswith(WORDING),
        played=row.how == "played",
    )


def milliseconds(seconds: float) -> int:
    """Seconds in the unit of the log."""
    return round(seconds * 1000)
