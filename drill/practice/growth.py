"""Growth against oneself: how many cards of a neck come in time now, and how many did a week ago.

A card came in time if its newest answer by then was right and within the target it was asked with. Answers that were
played are left out: they take longer for the same thinking.
"""

from __future__ import annotations

from drill.memory.constants import DAY_S
from drill.practice.attempts import milliseconds
from drill.practice.learner_store import LearnerStore
from drill.present.summaries import Growth
from drill.questions.catalogue import FAMILIES
from drill.questions.ids import split
from drill.record import AttemptRow
from drill.theory.neck import Neck

WEEK_S = 7 * DAY_S


def growth(store: LearnerStore, neck: Neck, now_s: float) -> Growth:
    """The cards in time at `now_s`, seconds since the epoch, and a week before; those right. Raises RecordDamaged.

    Those of another tuning or capo are not counted, but those that are about no neck are.
    """
    before = store.record.last_answers(milliseconds(now_s - WEEK_S), "typed")
    now = store.record.last_answers(how="typed")
    before, now = ([row for row in rows if _is_asked_on(neck, row)] for rows in (before, now))
    right = sum(bool(row.correct) for row in now)
    return Growth(_in_time(store, now), _in_time(store, before) if before else None, right)


def _is_asked_on(neck: Neck, row: AttemptRow) -> bool:
    card, family = split(row.card), FAMILIES.get(row.family)
    return (family is not None and not family.about_the_neck) or (card.tuning, card.capo) == (neck.tuning.id, neck.capo)


def _in_time(store: LearnerStore, rows: list[AttemptRow]) -> int:
    return sum(_came_in_time(store, row) for row in rows)


def _came_in_time(store: LearnerStore, row: AttemptRow) -> bool:
    if not row.correct or row.thinking_ms is None:
        return False
    net_s = store.net_thinking_s(row.family, row.thinking_ms / 1000)
    return net_s is not None and milliseconds(net_s) <= row.target_ms
