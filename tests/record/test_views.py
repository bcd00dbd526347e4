"""The views of a record, for whoever opens it with SQL: all that the log says, its moments as ISO 8601 writes them."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta

import pytest

from drill.present.dates import iso_utc
from drill.record import AttemptRow, Record
from drill.record.rows import ATTEMPT_COLUMNS, DRILL_COLUMNS, EARLIEST_MS, LANDING_COLUMNS, LATEST_MS
from tests.support.records import HEARD, START_MS, attempt, drill

VIEWS = {"drills": DRILL_COLUMNS, "answers": ATTEMPT_COLUMNS, "landings": LANDING_COLUMNS}
LEFT_OUT = {"seed", "utc_offset_min"}
"""Columns that say nothing to a reader: the second is in the day."""


@pytest.fixture
def begun(record: Record) -> Record:
    record.append(attempt(1))
    record.append_landing(HEARD)
    return record


def read(record: Record, sql: str) -> list[dict[str, object]]:
    """What a program that knows nothing of ours reads."""
    with closing(sqlite3.connect(f"file:{record.path}?mode=ro", uri=True)) as db:
        db.row_factory = sqlite3.Row
        return [dict(row) for row in db.execute(sql)]


@pytest.mark.parametrize("view", VIEWS)
def test_a_view_has_every_column_of_the_log(view: str, begun: Record) -> None:
    [row] = read(begun, f"SELECT * FROM {view}")
    assert row.keys() - {"day"} == set(VIEWS[view]) - LEFT_OUT


def test_a_moment_is_exact_to_the_millisecond(record: Record) -> None:
    moments = sorted([*range(START_MS, START_MS + 1000, 7), 0, -1, -86_399_999, EARLIEST_MS, LATEST_MS])
    for number, at_ms in enumerate(moments):
        record.append(attempt(number, asked_at=at_ms, answered_at=at_ms, utc_offset_min=0))
    told = read(record, "SELECT asked_at, day FROM answers ORDER BY uid")
    uids = [attempt(number).uid for number in range(len(moments))]
    for (_, at_ms), row in zip(sorted(zip(uids, moments, strict=True)), told, strict=True):
        assert row["asked_at"] == iso_utc(at_ms / 1000)
        assert row["day"] == str(row["asked_at"])[:10]


@pytest.mark.parametrize("offset_min", [-720, -1, 0, 330, 840])
def test_the_day_is_that_of_the_learners_calendar(offset_min: int, record: Record) -> None:
    for number, hour in enumerate((0, 9, 14, 23)):
        at_ms = START_MS - 8 * 3_600_000 + hour * 3_600_000
        record.append(attempt(number, asked_at=at_ms, answered_at=at_ms, utc_offset_min=offset_min))
    moments = [datetime.fromtimestamp(row.asked_at / 1000, UTC) for row in record.attempts()]
    days = [str((moment + timedelta(minutes=offset_min)).date()) for moment in moments]
    assert [row["day"] for row in read(record, "SELECT day FROM answers")] == days


def test_views_follow_the_log_in_its_order(begun: Record) -> None:
    begun.append(attempt(0))
    rows: list[AttemptRow] = list(begun.attempts())
    assert [row["uid"] for row in read(begun, "SELECT uid FROM answers")] == [row.uid for row in rows]
    begun.start_drill(drill(id="drill-0", started_at=START_MS - 1))
    assert [row["id"] for row in read(begun, "SELECT id FROM drills")] == ["drill-0", "drill-1"]


def test_sql_counts_what_a_teacher_asks(begun: Record) -> None:
    begun.append(attempt(2, given="B", correct=False))
    counts = "SELECT day, family, count(*) AS n, avg(correct) AS share FROM answers"
    assert read(begun, f"{counts} WHERE kind = 'asked' GROUP BY day, family") == [
        {"day": "2026-01-05", "family": "note-at-fret", "n": 2, "share": 0.5}
    ]
