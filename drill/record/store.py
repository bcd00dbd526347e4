"""The record of one learner: drills, attempts, and the state derived from them.

The log of attempts is the truth; `state` holds what was derived from it and can be thrown away and rebuilt. Every
answer is one transaction and is on the disk when `append` returns. Several programs may use one record at once.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any

from drill.errors import FretsureError, RecordDamaged, UnknownName
from drill.record import backups, opening
from drill.record.check import examine_fully
from drill.record.connection import WAIT_S, immediate, told
from drill.record.rows import (
    ATTEMPT_COLUMNS,
    DRILL_COLUMNS,
    AttemptRow,
    DrillRow,
    attempt_from,
    attempt_values,
    drill_values,
)

PAGE = 1000
"""Rows read at a time: bounds the memory a long log takes, and lets others write in between."""

_BEFORE_ALL = -(2**63)
_ATTEMPT = ", ".join(f'"{column}"' for column in ATTEMPT_COLUMNS)
_DRILL = ", ".join(DRILL_COLUMNS)
_INSERT_ATTEMPT = f"INSERT INTO attempt ({_ATTEMPT}, crc) VALUES ({', '.join('?' * (len(ATTEMPT_COLUMNS) + 1))})"
_INSERT_DRILL = f"INSERT INTO drill ({_DRILL}) VALUES ({', '.join('?' * len(DRILL_COLUMNS))})"
_MERGE_DRILL = f"{_INSERT_DRILL} ON CONFLICT (id) DO UPDATE SET ended_at = coalesce(ended_at, excluded.ended_at)"
_MERGE_ATTEMPT = f"{_INSERT_ATTEMPT} ON CONFLICT (uid) DO NOTHING"
_KEEP_STATE = "INSERT INTO state (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value"


class Record:
    """An open record. Use `Record.open`; close it, or use it in a `with` block. One thread at a time."""

    def __init__(self, path: Path, db: sqlite3.Connection, now: Callable[[], float], notices: list[str]) -> None:
        self.path = path
        self.notices = notices
        """Sentences the learner should see some time: a migration, a backup that failed."""
        self._db, self._now = db, now
        self._backup_due = False

    @classmethod
    def open(cls, path: Path, now: Callable[[], float], *, wait_s: float = WAIT_S) -> Record:
        """Opens the record, or begins a new one where there is no file.

        An older record is backed up, then brought up to date. `wait_s` bounds the wait for other programs, in seconds.
        Raises RecordDamaged (with the last good backup in `.backup`), BadFile (not a record, or of a newer fretsure),
        CannotWrite. When it raises, the file was not changed.
        """
        notices: list[str] = []
        with _offering_a_backup():
            return cls(path, opening.opened(path, now, wait_s, notices), now, notices)

    def close(self) -> None:
        """Closes the record; makes today's backup first when something was written and there is none."""
        try:
            if self._backup_due:
                self._back_up_today()
        finally:
            self._db.close()

    def __enter__(self) -> Record:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def start_drill(self, drill: DrillRow) -> None:
        """Notes that a drill began. Raises CannotWrite, RecordDamaged."""
        with self._told(), immediate(self._db):
            self._db.execute(_INSERT_DRILL, drill_values(drill))

    def end_drill(self, drill: str) -> None:
        """Notes that the drill with this id ended now, and makes today's backup when there is none."""
        with self._told(), immediate(self._db):
            self._db.execute("UPDATE drill SET ended_at = ? WHERE id = ?", (round(self._now() * 1000), drill))
        self._back_up_today()

    def append(self, attempt: AttemptRow, states: Mapping[str, str] | None = None, after: int | None = None) -> int:
        """Keeps one answer and the state derived from it, together or not at all; on the disk when this returns.

        `states` holds JSON text by name; it follows from all attempts up to the id `after` and this one. Gives the
        attempt's id. If that is not the next after `after`, another program has written meanwhile (`appended_after`
        reads what it wrote): then all derived state is thrown away. Raises CannotWrite, RecordDamaged.
        """
        with self._told(), immediate(self._db):
            written = int(self._db.execute(_INSERT_ATTEMPT, attempt_values(attempt)).lastrowid or 0)
            if after is not None and written != after + 1:
                self._db.execute("DELETE FROM state")
            elif states:
                self._db.executemany(_KEEP_STATE, states.items())
        self._backup_due = True
        return written

    def replace_states(self, states: Mapping[str, str]) -> None:
        """Throws the derived state away and keeps this instead."""
        with self._told(), immediate(self._db):
            self._db.execute("DELETE FROM state")
            self._db.executemany(_KEEP_STATE, states.items())

    def merge(self, drills: Iterable[DrillRow], attempts: Iterable[AttemptRow]) -> int:
        """Adds what is not here yet, told apart by uid; all of it or none. Gives the number of attempts added.

        The derived state is thrown away when anything was added, since it no longer follows from the log. Raises
        UnknownName when an attempt names a drill that is neither among `drills` nor here.
        """
        with self._told(), immediate(self._db):
            before = self.attempt_count()
            self._db.executemany(_MERGE_DRILL, map(drill_values, drills))
            known = self._drill_ids()
            self._db.executemany(_MERGE_ATTEMPT, (_values_if_known(attempt, known) for attempt in attempts))
            added = self.attempt_count() - before
            if added:
                self._db.execute("DELETE FROM state")
        self._backup_due = self._backup_due or added > 0
        return added

    def attempts(self, card: str | None = None) -> Iterator[AttemptRow]:
        """The attempts, or those of one card, in the order they were asked.

        They are read a page at a time, so that memory stays bounded.
        """
        where = "(asked_at, uid) > (?, ?)" + ("" if card is None else " AND card = ?")
        wanted = () if card is None else (card,)
        after: tuple[int, str] = (_BEFORE_ALL, "")
        while page := self._page(f"{where} ORDER BY asked_at, uid", (*after, *wanted)):
            yield from page
            after = (page[-1].asked_at, page[-1].uid)

    def appended_after(self, attempt_id: int) -> Iterator[AttemptRow]:
        """The attempts with a higher id than this, in the order they came in: what is news to derived state."""
        while page := self._page("id > ? ORDER BY id", (attempt_id,)):
            yield from page
            attempt_id = page[-1].id

    def _page(self, where: str, values: tuple[str | int, ...]) -> list[AttemptRow]:
        sql = f"SELECT {_ATTEMPT}, id FROM attempt WHERE {where} LIMIT {PAGE}"
        with self._told():
            return [attempt_from(row) for row in self._db.execute(sql, values)]

    def attempt_count(self) -> int:
        """How many attempts there are."""
        return int(self._value("SELECT count(*) FROM attempt"))

    def last_attempt_id(self) -> int:
        """The id of the attempt appended last; 0 when there is none."""
        return int(self._value("SELECT coalesce(max(id), 0) FROM attempt"))

    def drills(self) -> Iterator[DrillRow]:
        """All drills in the order they began."""
        with self._told():
            rows = self._db.execute(f"SELECT {_DRILL} FROM drill ORDER BY started_at, id").fetchall()
        return (DrillRow(*row) for row in rows)

    def states(self) -> dict[str, str]:
        """The derived state: JSON text by name. What is no text comes out as no JSON, and is derived anew."""
        with self._told():
            rows = self._db.execute("SELECT CAST(name AS BLOB), CAST(value AS BLOB) FROM state").fetchall()
        return {name.decode("utf-8", "replace"): value.decode("utf-8", "replace") for name, value in rows}

    def check(self) -> int:
        """Reads the whole record and gives the number of attempts. Raises RecordDamaged."""
        with _offering_a_backup():
            return examine_fully(self.path)

    def backup(self, target: Path) -> None:
        """A whole, checked copy at `target`, where no file may be yet. Raises CannotWrite, RecordDamaged."""
        opening.back_up_to(self.path, target)

    def _back_up_today(self) -> None:
        """Today's backup. A drill is not spoilt when it fails: the learner is told, the record itself is safe."""
        try:
            backups.daily(self.path, self._now())
        except FretsureError as error:
            self.notices.append(f"Today's backup could not be made. {error}")
        self._backup_due = False

    @contextmanager
    def _told(self) -> Iterator[None]:
        with _offering_a_backup(), told(self.path):
            yield

    def _drill_ids(self) -> frozenset[str]:
        return frozenset(name for (name,) in self._db.execute("SELECT id FROM drill"))

    def _value(self, sql: str) -> Any:
        with self._told():
            return self._db.execute(sql).fetchone()[0]


@contextmanager
def _offering_a_backup() -> Iterator[None]:
    try:
        yield
    except RecordDamaged as error:
        raise opening.with_offer(error) from error


def _values_if_known(attempt: AttemptRow, drills: frozenset[str]) -> tuple[Any, ...]:
    if attempt.drill not in drills:
        raise UnknownName(f"The answer {attempt.uid} belongs to the drill {attempt.drill}, which is nowhere.")
    return attempt_values(attempt)
