"""What was landed on in rounds is counted key by key, and moves nothing else."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from drill.progress import Progress
from drill.progress.columns import progress_object
from drill.progress.landings import landed_keys
from drill.progress.lines import Lines
from tests.progress.conftest import AT_MS, LANDINGS
from tests.progress.test_attempt_log import Copied


def test_landings_are_counted_by_key_and_by_how_they_are_known() -> None:
    found = [(row.key.name, row.how, row.times, row.last_at_ms) for row in landed_keys(LANDINGS)]
    assert found == [("F minor", "self-checked", 2, AT_MS + 7000), ("B minor", "heard", 1, AT_MS + 1000)]
    assert landed_keys([LANDINGS[0]._replace(key="H sharp dorian")]) == ()


def test_without_the_landings_all_else_stays_as_it_is(progress: Progress) -> None:
    without = replace(progress, log=Copied(list(progress.log.attempts())))
    told, told_without = progress_object(progress), progress_object(without)
    assert len(told.pop("landings")) == 2
    assert told_without.pop("landings") == []
    assert told == told_without


def test_people_read_them_apart(progress: Progress) -> None:
    lines = list(Lines(progress, lambda at_s: datetime.fromtimestamp(at_s, UTC)).all())
    at = lines.index("Landed on in rounds of keys; this stands apart and moves no strength.")
    assert [line.split() for line in lines[at + 2 : at + 4]] == [
        ["F", "minor", "2", "self-checked"],
        ["B", "minor", "1", "heard"],
    ]
