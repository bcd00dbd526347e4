"""Sample rows, and hands that do to a record's file what no fretsure would."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path
from typing import Any

from drill.record import AttemptRow, DrillRow, LandingRow, Record

VERSIONS = Path(__file__).parents[1] / "record" / "versions"
"""Records and a log as every earlier release left them."""
START_MS = 1_767_600_000_000  # 2026-01-05 08:00:00 UTC

_DRILL = DrillRow("drill-1", START_MS, None, "two-shapes", 5, '{"string": [6]}', "standard", 42)
_ATTEMPT = AttemptRow(
    uid="",
    drill="drill-1",
    card="note-at-fret:string=6:fret=8",
    family="note-at-fret",
    deck="two-shapes",
    kind="asked",
    asked_at=START_MS,
    answered_at=START_MS + 2100,
    utc_offset_min=60,
    given="C",
    correct=True,
    mixup=None,
    thinking_ms=1400,
    target_ms=2400,
    learner="ana",
)


HEARD = LandingRow("landing-1", "drill-1", "Bb", START_MS + 60_000, "heard", True, -35, "Bb3", 12, "ana")
SELF_CHECKED = LandingRow(
    "landing-2", "drill-1", "F#m", START_MS + 64_000, "self-checked", False, None, None, None, "ana"
)
NOT_HEARD = LandingRow("landing-3", "drill-1", "F#m", START_MS + 64_000, "heard", None, None, None, 12, None)


def drill(**changes: Any) -> DrillRow:
    """A drill; name only what matters to the test."""
    return _DRILL._replace(**changes)


def attempt(number: int, **changes: Any) -> AttemptRow:
    """The attempt with this number: asked three seconds after the one before, with a uid of its own."""
    asked = START_MS + 3000 * number
    usual: dict[str, Any] = {"uid": f"uid-{number:04}", "asked_at": asked, "answered_at": asked + 2100}
    return _ATTEMPT._replace(**(usual | changes))


def without_ids(attempts: Iterable[AttemptRow]) -> list[AttemptRow]:
    """The attempts as they were before a record gave them a place."""
    return [attempt._replace(id=0) for attempt in attempts]


def make_earlier(path: Path, version: int) -> Path:
    """A record at `path` as this version of the tables left it, with three answers."""
    sql = (VERSIONS / f"{version}.sql").read_text(encoding="utf-8")
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(sql)
    return path


def raw(path: Path, *statements: str) -> None:
    """Runs SQL on the file behind fretsure's back."""
    with closing(sqlite3.connect(path)) as connection:
        for statement in statements:
            connection.execute(statement)
        connection.commit()


def open_at(path: Path, wait_s: float = 0.1) -> Record:
    """Opens the record by the real clock; hardly waits for other programs unless told to."""
    return Record.open(path, time.time, wait_s=wait_s)
