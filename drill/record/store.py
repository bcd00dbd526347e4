"""The record of one learner: drills, attempts, and the state derived from them.

The log of attempts is the truth; `state` holds what was derived from it and can be deleted and rebuilt. It has two
snapshots: LATEST follows from all attempts up to the id in its row POSITION; BASE follows from those of an earlier
time, and a replay can go on from there. Every answer is one transaction and is on the disk when `append` returns.
Several programs may use one record at once.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any, TypeVar

from drill.errors import FretsureError, RecordDamaged, UnknownName
from drill.record import backups, opening, statements
from drill.record.check import examine_fully
from drill.record.connection import WAIT_S, explaining_errors, immediate
from drill.record.ownership import identities_in, owner_in
from drill.record.rows import (
    ATTEMPT_COLUMNS,
    BEFORE_ALL,
    DRILL_COLUMNS,
    LANDING_COLUMNS,
    LATEST_MS,
    AttemptRow,
    DrillRow,
    How,
    LandingRow,
    LearnerRow,
    Place,
    attempt_from,
    landing_from,
    values_of,
)

Row = TypeVar("Row", AttemptRow, LandingRow)

PAGE = 1000
"""Rows read at a time: bounds the memory a long log takes, and lets others write in between."""

LATEST, BASE = "", "base:"
"""The snapshots of derived state; the name of a snapshot begins the names of its rows."""
POSITION, PLACE = "position", "place"
"""Rows that say up to which attempt the others were derived: its id, and its place where that is kept."""

_ON_BASE = f"name >= '{BASE}' AND name < 'base;'"  # every name that begins with "base:", by the index


class Record:
    """An open record. Use `Record.open`; close it, or use it in a `with` block. One thread at a time."""

    def __init__(self, path: Path, db: sqlite3.Connection, now: Callable[[], float], notices: list[str]) -> None:
        self.path = path
        self.notices = notices
        """Sentences to show the learner at some point: a migration, a backup that failed."""
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
        with _offering_backup():
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
        """Saves that a drill began. Raises CannotWrite, RecordDamaged."""
        with self._explaining_errors(), immediate(self._db):
            self._db.execute(statements.INSERT_DRILL, drill)

    def end_drill(self, drill: str) -> None:
        """Saves that the drill with this id ended now, and makes today's backup when there is none."""
        with self._explaining_errors(), immediate(self._db):
            self._db.execute("UPDATE drill SET ended_at = ? WHERE id = ?", (round(self._now() * 1000), drill))
        self._back_up_today()

    def append(self, attempt: AttemptRow, states: Mapping[str, str] | None = None, after: int | None = None) -> int:
        """Saves one answer and the state derived from it, together or not at all; on the disk when this returns.

        `states` holds JSON text by name; it follows from all attempts up to the id `after` and this one. Gives the
        attempt's id. Where that is not the next after `after`, or the saved state is not of `after`, another program
        has written meanwhile: then the saved state is left alone. Raises CannotWrite, RecordDamaged.
        """
        with self._explaining_errors(), immediate(self._db):
            written = self._insert(attempt)
            if states and (after is None or (written == after + 1 and self._position_of() == after)):
                self._db.executemany(statements.SAVE_STATE, states.items())
        self._backup_due = True
        return written

    def append_landing(self, landing: LandingRow) -> None:
        """Saves one landing of a round; on the disk when this returns. Raises CannotWrite, RecordDamaged."""
        with self._explaining_errors(), immediate(self._db):
            self._insert(landing)
        self._backup_due = True

    def _insert(self, answer: AttemptRow | LandingRow) -> int:
        """Writes an answer, as that of this record's own learner unless it names another; gives its id."""
        values = values_of(answer._replace(learner=answer.learner or self._owner()))
        return int(self._db.execute(statements.INSERT[type(answer)], values).lastrowid or 0)

    def _owner(self) -> str:
        """The identity of the learner whose record this is, made at the first answer."""
        self._db.execute(statements.NEW_OWNER)
        return str(self._db.execute("SELECT learner FROM owner").fetchone()[0])

    def identify(self) -> LearnerRow:
        """The learner whose record this is, with an identity made now if there was none. Raises CannotWrite."""
        with self._explaining_errors(), immediate(self._db):
            self._owner()
        return self.owner or LearnerRow("")

    def call(self, name: str) -> LearnerRow:
        """Saves the learner's name; empty says that they were asked and left it out. Raises CannotWrite."""
        learner = self.identify()._replace(name=name)
        with self._explaining_errors(), immediate(self._db):
            self._belong_to(learner)
        return learner

    def _belong_to(self, learner: LearnerRow) -> None:
        self._db.execute(statements.FORGET_OWNER)
        self._db.execute(statements.SAVE_OWNER, learner)

    def _position_of(self, snapshot: str = LATEST) -> int:
        kept = self._db.execute("SELECT value FROM state WHERE name = ?", (snapshot + POSITION,)).fetchone()
        return int(kept[0]) if kept and kept[0].isdecimal() else 0

    def replace_states(self, states: Mapping[str, str], snapshot: str = LATEST, *, patient: bool = True) -> None:
        """Replaces a snapshot of derived state.

        Unless `patient`, it does not wait for another program that writes. Raises CannotWrite, RecordDamaged.
        """
        with self._explaining_errors(), self._waiting(patient), immediate(self._db):
            self._db.execute(f"DELETE FROM state WHERE {_on(snapshot)}")
            self._db.executemany(statements.SAVE_STATE, ((snapshot + name, value) for name, value in states.items()))

    def renew_base(self, every: int) -> None:
        """Saves the latest state as the base too, if the base lacks more than `every` of its attempts.

        The base stays where these did not come in as they were asked, as when a clock was set back: a replay would take
        them in another order.
        """
        states, base_id = self.states(), self._position_of(BASE)
        last_id = int(states.get(POSITION, 0))
        if last_id - base_id > every and self._came_in_order(base_id, last_id):
            states[PLACE] = json.dumps(self.last_place(last_id))
            self.replace_states(states, BASE)

    def _came_in_order(self, base_id: int, last_id: int) -> bool:
        """Whether every attempt after the base, up to an id, was asked after all that came in before it."""
        places = "SELECT asked_at, uid, lag(asked_at) OVER ids AS a, lag(uid) OVER ids AS u FROM attempt NOT INDEXED"
        places += " WHERE id > ? AND id <= ? WINDOW ids AS (ORDER BY id)"
        late = self._value(
            f"SELECT EXISTS (SELECT 1 FROM ({places}) WHERE (asked_at, uid) <= (a, u))", (base_id, last_id)
        )
        return not late and not (base_id and self.has_news_before(self.last_place(base_id), base_id))

    @contextmanager
    def _waiting(self, patient: bool) -> Iterator[None]:
        """Unless `patient`, does not wait for other programs inside the block."""
        (wait_ms,) = self._db.execute("PRAGMA busy_timeout").fetchone()
        self._db.execute(f"PRAGMA busy_timeout = {wait_ms if patient else 0}")
        try:
            yield
        finally:
            self._db.execute(f"PRAGMA busy_timeout = {wait_ms}")

    def merge(
        self,
        drills: Iterable[DrillRow],
        answers: Iterable[AttemptRow | LandingRow],
        owner: LearnerRow | None = None,
    ) -> int:
        """Adds what is not here yet, told apart by uid; all of it or none. Gives the number of attempts added.

        The derived state stays: its position tells which attempts it lacks. The record is from now on that of `owner`,
        if given; without one, a record that has no learner becomes that of the one learner whose answers are merged.
        Raises UnknownName when an answer names a drill that is neither among `drills` nor here.
        """
        drills = list(drills)
        known = self._drill_ids() | {drill.id for drill in drills}
        with self._explaining_errors(), self._staged(answers, known), immediate(self._db):
            if owner:
                self._belong_to(owner)
            self._db.execute(statements.ADOPT_OWNER)
            self._db.executemany(statements.MERGE_DRILL, drills)
            added = {row: self._db.execute(merge).rowcount for row, merge in statements.MERGE_STAGED.items()}
        self._backup_due = self._backup_due or any(added.values())
        return added[AttemptRow]

    @contextmanager
    def _staged(self, answers: Iterable[AttemptRow | LandingRow], drills: frozenset[str]) -> Iterator[None]:
        """Puts the answers into tables of this connection alone: no drill waits while they are read and checked."""
        for begin in statements.BEGIN_STAGED:
            self._db.execute(begin)
        try:
            self._db.execute("BEGIN")
            for answer in answers:
                if answer.drill not in drills:
                    raise _of_no_drill(answer)
                self._db.execute(statements.STAGE[type(answer)], values_of(answer))
            self._db.execute("COMMIT")
            yield
        finally:
            self._db.rollback()
            for end in statements.END_STAGED:
                self._db.execute(end)

    # -- reading -------------------------------------------------------------------------------------------------------

    def attempts(self, card: str | None = None) -> Iterator[AttemptRow]:
        """The attempts, or those of one card, in the order they were asked.

        They are read a page at a time, so that memory stays bounded.
        """
        where = "(asked_at, uid) > (?, ?)" + ("" if card is None else " AND card = ?")
        wanted = () if card is None else (card,)
        after = BEFORE_ALL
        while page := self._page(f"{where} ORDER BY asked_at, uid", (*after, *wanted)):
            yield from page
            after = page[-1].place

    def last_answers(self, before_ms: int = LATEST_MS, how: How | None = None) -> list[AttemptRow]:
        """The newest answer to each card, asked before a moment in ms since the epoch, given so if `how` says it."""
        # SQLite takes the other columns from the row that has the maximum: https://sqlite.org/lang_select.html#bareagg
        columns = f"{', '.join(ATTEMPT_COLUMNS)}, id"
        sql = f"SELECT {columns}, max(asked_at) FROM attempt WHERE correct IS NOT NULL AND asked_at < ?1"
        sql += " AND (?2 = '' OR how = ?2) GROUP BY card"
        return self._rows(sql, (before_ms, how or ""), lambda values: attempt_from(values[:-1]))

    def last_right(self, card: str, how: How = "typed") -> AttemptRow | None:
        """The attempt at which a card last came right in an answer given so, None if it never did."""
        newest = self._page("card = ? AND how = ? AND correct ORDER BY asked_at DESC, uid DESC", (card, how), 1)
        return newest[0] if newest else None

    def page_after(self, place: Place, last_id: int, most: int) -> list[AttemptRow]:
        """The next attempts, `most` at most, in the order they were asked; none with a higher id than `last_id`."""
        return self._page("(asked_at, uid) > (?, ?) AND +id <= ? ORDER BY asked_at, uid", (*place, last_id), most)

    def news_after(self, place: Place, known_id: int, most: int) -> list[AttemptRow]:
        """At most `most` attempts asked after `place` that came in after `known_id`, in the order they were asked."""
        return self._page("(asked_at, uid) > (?, ?) AND +id > ? ORDER BY asked_at, uid", (*place, known_id), most)

    def has_news_before(self, place: Place, known_id: int) -> bool:
        """Whether an attempt that came in after `known_id` was asked before `place` or at it."""
        news = "SELECT 1 FROM attempt NOT INDEXED WHERE id > ? AND (asked_at, uid) <= (?, ?)"
        return bool(self._value(f"SELECT EXISTS ({news})", (known_id, *place)))

    def last_place(self, last_id: int | None = None, before: int = 0) -> Place:
        """The place of the attempt asked last, or `before` earlier, among those up to `last_id`; else BEFORE_ALL."""
        where = "" if last_id is None else f"WHERE +id <= {last_id:d}"
        sql = f"SELECT asked_at, uid FROM attempt {where} ORDER BY asked_at DESC, uid DESC LIMIT 1 OFFSET ?"
        with self._explaining_errors():
            row = self._db.execute(sql, (before,)).fetchone()
        return BEFORE_ALL if row is None else (row[0], row[1])

    def _page(self, where: str, values: tuple[str | int, ...], most: int = PAGE) -> list[AttemptRow]:
        sql = f"SELECT {', '.join(ATTEMPT_COLUMNS)}, id FROM attempt WHERE {where} LIMIT {most:d}"
        return self._rows(sql, values, attempt_from)

    def _rows(self, sql: str, values: tuple[str | int, ...], read: Callable[[tuple[Any, ...]], Row]) -> list[Row]:
        with self._explaining_errors():
            try:
                return [read(row) for row in self._db.execute(sql, values)]
            except ValueError as error:
                raise RecordDamaged(self.path, str(error)) from error

    @property
    def owner(self) -> LearnerRow | None:
        """The learner whose record this is, None before the first answer and the first export."""
        with self._explaining_errors():
            return owner_in(self._db)

    def identities(self) -> frozenset[str]:
        """Every identity that this learner has answered under: the owner's, and those of records merged into this."""
        with self._explaining_errors():
            return identities_in(self._db)

    def first_moment(self) -> int | None:
        """When the first question of all was asked, in milliseconds since the epoch; None in an empty record."""
        both = "SELECT asked_at FROM attempt UNION ALL SELECT asked_at FROM landing"
        moment = self._value(f"SELECT min(asked_at) FROM ({both})")
        return None if moment is None else int(moment)

    def keep_copy(self) -> Path:
        """Puts a copy of the record among its backups before a merge. Raises CannotWrite, RecordDamaged."""
        with _offering_backup():
            return backups.before("before-merge", self.path, self._now())

    def attempt_count(self) -> int:
        """How many attempts there are."""
        return int(self._value("SELECT count(*) FROM attempt"))

    def answer_count(self) -> int:
        """How many attempts are answers, and not cards that were only shown."""
        return int(self._value("SELECT count(*) FROM attempt WHERE kind = 'asked'"))

    def last_attempt_id(self) -> int:
        """The id of the attempt appended last; 0 when there is none."""
        return int(self._value("SELECT coalesce(max(id), 0) FROM attempt"))

    def drills(self) -> Iterator[DrillRow]:
        """All drills in the order they began."""
        with self._explaining_errors():
            rows = self._db.execute(f"SELECT {', '.join(DRILL_COLUMNS)} FROM drill ORDER BY started_at, id").fetchall()
        return (DrillRow(*row) for row in rows)

    def landings(self) -> Iterator[LandingRow]:
        """The landings of all rounds, in the order they were asked, read a page at a time."""
        page = f"SELECT {', '.join(LANDING_COLUMNS)} FROM landing WHERE (asked_at, uid) > (?, ?)"
        page += f" ORDER BY asked_at, uid LIMIT {PAGE}"
        after = BEFORE_ALL
        while rows := self._rows(page, after, landing_from):
            yield from rows
            after = rows[-1].asked_at, rows[-1].uid

    def states(self, snapshot: str = LATEST) -> dict[str, str]:
        """A snapshot of the derived state: JSON text by name.

        A value that is not text comes out as invalid JSON, so that the state is derived again.
        """
        sql = f"SELECT CAST(name AS BLOB), CAST(value AS BLOB) FROM state WHERE {_on(snapshot)}"
        with self._explaining_errors():
            rows = self._db.execute(sql).fetchall()
        return {
            name.decode("utf-8", "replace").removeprefix(snapshot): value.decode("utf-8", "replace")
            for name, value in rows
        }

    def check(self) -> int:
        """Reads the whole record and gives the number of attempts. Raises RecordDamaged."""
        with _offering_backup():
            return examine_fully(self.path)

    def backup(self, target: Path) -> None:
        """A whole, checked copy at `target`, where no file may be yet. Raises CannotWrite, RecordDamaged."""
        opening.back_up_to(self.path, target)

    def _back_up_today(self) -> None:
        """Makes today's backup. A failure does not end the drill: a notice says so, and the record itself is safe."""
        try:
            backups.daily(self.path, self._now())
        except FretsureError as error:
            self.notices.append(f"Today's backup could not be made. {error}")
        self._backup_due = False

    @contextmanager
    def _explaining_errors(self) -> Iterator[None]:
        with _offering_backup(), explaining_errors(self.path):
            yield

    def _drill_ids(self) -> frozenset[str]:
        return frozenset(name for (name,) in self._db.execute("SELECT id FROM drill"))

    def _value(self, sql: str, values: tuple[str | int, ...] = ()) -> Any:
        with self._explaining_errors():
            return self._db.execute(sql, values).fetchone()[0]


def _on(snapshot: str) -> str:
    return _ON_BASE if snapshot == BASE else f"NOT ({_ON_BASE})"


@contextmanager
def _offering_backup() -> Iterator[None]:
    try:
        yield
    except RecordDamaged as error:
        raise opening.with_offer(error) from error


def _of_no_drill(answer: AttemptRow | LandingRow) -> UnknownName:
    return UnknownName(f"The answer {answer.uid} belongs to the drill {answer.drill}, which is not in the log.")
