"""The learner's key press, measured and kept, so that thinking time can be told from the hand's.

The moments stand in the log of attempts like everything else that is known of a learner: cards of their own that are
only shown, never judged.
"""

from __future__ import annotations

from collections.abc import Sequence

from drill.memory import KEY_PRESS, Attempt
from drill.practice.learner_store import LearnerStore
from drill.record import AttemptRow, DrillRow, Record
from drill.system.environment import Environment


def record_key_presses(
    environment: Environment, record: Record, seconds: Sequence[float], store: LearnerStore | None = None
) -> float:
    """Keep how long key presses took, in seconds each; returns the learner's key press as it is known now."""
    store, now_ms = store or LearnerStore.begin(record, environment.monotonic), round(environment.now() * 1000)
    drill = DrillRow(environment.new_uid(), now_ms, now_ms, KEY_PRESS.card, 0, "{}", "", None)
    record.start_drill(drill)
    took_ms = [round(took_s * 1000) for took_s in seconds]
    for place, thinking_ms in enumerate(took_ms):
        row = AttemptRow(
            uid=environment.new_uid(),
            drill=drill.id,
            card=KEY_PRESS.card,
            family=KEY_PRESS.card,
            deck=KEY_PRESS.card,
            kind="shown",
            asked_at=now_ms - sum(took_ms[place:]),
            answered_at=now_ms - sum(took_ms[place + 1 :]),
            utc_offset_min=environment.utc_offset_minutes(now_ms / 1000),
            given="",
            right=None,
            mixup=None,
            thinking_ms=thinking_ms,
            target_ms=0,
        )
        store.add(row, KEY_PRESS, Attempt(KEY_PRESS.card, row.answered_at / 1000, None, thinking_ms / 1000))
    return store.learner.key_press_s
