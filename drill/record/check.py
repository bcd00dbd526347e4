"""Is this file a record, can this program read it, and is it still what was written?

examine          cheap, at every start: right kind of file, known version, structure of a small file
examine_fully    reads everything: structure, and the check number of every answer
"""

from __future__ import annotations

import sqlite3
from pathlib import Path

from sqlite_utils import Database

from drill.errors import BadFile, RecordDamaged
from drill.record import schema
from drill.record.connection import WAIT_S, connect, told
from drill.record.rows import ATTEMPT_COLUMNS, check_number

SMALL_BYTES = 4_000_000
"""Up to this size the structure is read whole at every start: about 10 ms, some 15,000 answers."""

_ALL_ATTEMPTS = "SELECT {}, crc FROM attempt".format(", ".join(f'"{column}"' for column in ATTEMPT_COLUMNS))


def examine(path: Path, wait_s: float = WAIT_S) -> None:
    """Looks at the file without writing to it.

    Raises RecordDamaged, BadFile (another program's file, or one of a newer fretsure), CannotWrite (locked,
    unreadable).
    """
    with told(path):
        db = connect(path, read_only=True, wait_s=wait_s)
        try:
            _refuse_strangers(db, path)
            if path.stat().st_size <= SMALL_BYTES:
                _structure(db, path)
        finally:
            db.close()


def examine_fully(path: Path) -> int:
    """Reads the whole file without writing to it and gives the number of its attempts. Raises as `examine` does."""
    with told(path):
        db = connect(path, read_only=True)
        try:
            _refuse_strangers(db, path)
            _structure(db, path)
            return _answers(db, path)
        finally:
            db.close()


def _refuse_strangers(db: Database, path: Path) -> None:
    """A database that is not a record, or a record of a newer program, is left alone."""
    names = db.table_names()
    if not {"drill", "attempt", "state"} <= set(names):
        raise BadFile(str(path), "", "is a database, but not a record of drills.", "Give another path with --record.")
    if newer := schema.unknown_steps(db):
        raise BadFile(
            str(path),
            "",
            f"was written by a newer fretsure (it has the step {newer[0]}, which this one does not know).",
            "Install the newest fretsure; the record was not touched.",
        )


def _structure(db: Database, path: Path) -> None:
    verdict = db.conn.execute("PRAGMA quick_check(1)").fetchone()[0]
    if verdict != "ok":
        raise damaged(path, verdict)


def _answers(db: Database, path: Path) -> int:
    count = 0
    for row in db.conn.execute(_ALL_ATTEMPTS):
        count += 1
        if check_number(row[:-1]) != row[-1]:
            raise damaged(path, f"the answer {row[0]} is not what was written")
    return count


def damaged(path: Path, reason: str) -> RecordDamaged:
    """The error for a file that is not what was written."""
    return RecordDamaged(f"The record {path} is damaged ({reason}).", "", record=path)


def is_good(path: Path) -> bool:
    """Whether the file is a whole, unharmed record this program can read."""
    try:
        examine_fully(path)
    except (BadFile, RecordDamaged, OSError, sqlite3.Error):
        return False
    return True
