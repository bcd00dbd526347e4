"""Checks that a file is a record, that this program can read it, and that it has not changed since it was written.

examine          cheap, at every start: kind of file, version, table definitions; structure and indexes of a small file
examine_fully    reads everything: the structure, and the check number of every answer
answers_in       how many answers a record holds
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from drill.errors import BadFile, FretsureError, RecordDamaged
from drill.record import build, database_files, schema
from drill.record.connection import WAIT_S, connect, explaining_errors
from drill.record.rows import attempt_check_number, check_number
from drill.theory.names import quoted

SMALL_BYTES = 4_000_000
"""Up to this size, some 15,000 answers, the whole structure is read at every start: it takes about 6 ms."""
FEW_BYTES = 1_000_000
"""Up to this size, some 4,000 answers, the indexes are compared with the tables as well, within about the same time."""


def examine(path: Path, wait_s: float = WAIT_S) -> None:
    """Checks the file without writing to it.

    Raises RecordDamaged, BadFile (another program's file, or one of a newer fretsure), CannotWrite (locked, no access).
    """
    with _reading(path, path, wait_s) as db:
        size = path.stat().st_size
        if size <= SMALL_BYTES:
            _check_structure(db, path, "integrity_check" if size <= FEW_BYTES else "quick_check")


def examine_fully(path: Path, called: Path | None = None) -> int:
    """Reads the whole file without writing to it and gives the number of its attempts. Raises as `examine` does.

    `called` is the path errors name, when the file is a copy of the one the learner knows.
    """
    called = called or path
    with _reading(path, called, WAIT_S) as db:
        _check_structure(db, called, "integrity_check")
        if db.execute("PRAGMA foreign_key_check").fetchone():
            raise RecordDamaged(called, "the drill of an answer is missing")
        return _check_rows(db, called)


def answers_in(path: Path) -> int:
    """The number of answers in a record, which a card that was only shown is none of. Raises as `examine` does."""
    with _reading(path, path, WAIT_S) as db:
        return int(db.execute("SELECT count(*) FROM attempt WHERE kind = 'asked'").fetchone()[0])


def is_good(path: Path) -> bool:
    """Whether the file is a valid record that this program can read."""
    try:
        examine_fully(path)
    except FretsureError:
        return False
    return True


@contextmanager
def _reading(path: Path, called: Path, wait_s: float) -> Iterator[sqlite3.Connection]:
    with explaining_errors(called), closing(connect(path, read_only=True, wait_s=wait_s)) as db:
        _refuse_strangers(db, called)
        _check_header(path, called)
        yield db


def _check_header(path: Path, called: Path) -> None:
    """Refuses a header that names no journal mode: SQLite takes such a file for one that can only be read."""
    if database_files.log_mode(path) not in (database_files.WITHOUT_LOG, database_files.WITH_LOG):
        raise RecordDamaged(called, "its header has changed since it was written")


def _refuse_strangers(db: sqlite3.Connection, path: Path) -> None:
    """Refuses a database that is not a record, and a record of a newer program."""
    if not {"drill", "attempt", "state"} <= schema.names(db, "table"):
        if schema.is_signed(db):
            raise RecordDamaged(path, "a table is missing")
        raise BadFile(str(path), "", "is a database, but not a record of drills.", "Give another path with --record.")
    if newer := schema.unknown_steps(db):
        raise BadFile(
            str(path),
            "",
            f"was written by a newer fretsure (this one does not know its step {quoted(str(newer[0]))}).",
            "Install the newest fretsure; the record was not touched.",
        )
    if problem := _difference(db):
        raise RecordDamaged(path, problem)


def _difference(db: sqlite3.Connection) -> str | None:
    """What in the file is not as our steps define it. One transaction, for another program may be migrating it."""
    db.execute("BEGIN")
    try:
        return build.difference(db, schema.taken(db))
    finally:
        db.rollback()


def _check_structure(db: sqlite3.Connection, path: Path, how: str) -> None:
    """SQLite's own check of its pages; `integrity_check` compares the indexes with the tables, too."""
    verdict = db.execute(f"PRAGMA {how}(1)").fetchone()[0]
    if verdict != "ok":
        raise RecordDamaged(path, verdict)


def _check_rows(db: sqlite3.Connection, path: Path) -> int:
    """Compares each row of the log with its check number and gives the number of attempts.

    Whichever step the file has reached, its columns stand in the order of the check number, between `id` and `crc`.
    """
    if "landing" in schema.names(db, "table"):
        for _, *values, crc in db.execute("SELECT * FROM landing"):
            if check_number(values) != crc:
                raise RecordDamaged(path, f"the landing {values[0]} has changed since it was written")
    count = 0
    for row in db.execute("SELECT * FROM attempt"):
        count += 1
        if attempt_check_number(row[1:-1]) != row[-1]:
            raise RecordDamaged(path, f"the answer {row[1]} has changed since it was written")
    return count
