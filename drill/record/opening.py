"""Opening, beginning, replacing a record: everything that happens to the file as a whole."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

from sqlite_utils import Database

from drill.errors import BadFile, CannotWrite, RecordDamaged
from drill.record import backups, schema
from drill.record.check import damaged, examine, examine_fully
from drill.record.connection import WAIT_S, connect, explained, told


def opened(path: Path, now: Callable[[], float], wait_s: float, notices: list[str]) -> Database:
    """A connection to a sound, current record at `path`; begins one where there is none. Raises as `Record.open`."""
    try:
        if not path.exists():
            _begin(path, notices)
        _refuse_emptied(path)
        examine(path, wait_s)
        return _current(path, now, wait_s, notices)
    except RecordDamaged as error:
        raise _with_offer(path, error) from error


def restore(path: Path, source: Path, now_s: float) -> Path | None:
    """Puts the backup `source` in the record's place. Gives where the replaced record was kept, if there was one.

    The source is read and checked first; the record is kept among its backups, just as it is. Raises BadFile or
    RecordDamaged (the source is no sound record), CannotWrite (also when another program has the record open).
    """
    if not source.is_file():
        raise BadFile(str(source), "", "there is no such file.", "Give the path of a backup.")
    incoming = path.with_name(f".{path.name}.{os.getpid()}.restored")
    try:
        backups.copy(source, incoming)
        kept = _kept_aside(path, now_s)
        with told(path):
            incoming.replace(path)
        return kept
    finally:
        incoming.unlink(missing_ok=True)


def back_up_to(record: Path, target: Path) -> None:
    """A copy of the record at `target`, which must not exist. Raises CannotWrite, RecordDamaged, BadFile."""
    if target.exists():
        raise CannotWrite(f"{target} is there already and was left alone.", "Give the backup a name that is free.")
    backups.copy(record, target)


def _begin(path: Path, notices: list[str]) -> None:
    """A new, empty record. It is made under another name and appears whole, so two programs may begin it at once."""
    if backups.listed(path):
        notices.append(f"There was no record at {path}; a new one was begun. Backups are in {backups.folder(path)}.")
    temporary = path.with_name(f".{path.name}.{os.getpid()}.new")
    with told(path):
        backups.private_folder(path.parent)
        try:
            backups.private_file(temporary)
            with closing(connect(temporary)) as db:
                schema.migrate(db)
                db.execute("PRAGMA journal_mode = WAL")
            with suppress(FileExistsError):
                path.hardlink_to(temporary)
        finally:
            for leftover in (temporary, *backups.side_files(temporary)):
                leftover.unlink(missing_ok=True)


def _refuse_emptied(path: Path) -> None:
    """No program of ours leaves an empty file: something else took the answers away."""
    with told(path):
        if path.is_dir():
            raise BadFile(str(path), "", "is a folder, not a record.", "Give the path of a file with --record.")
        if path.stat().st_size == 0:
            raise damaged(path, "the file is empty")


def _current(path: Path, now: Callable[[], float], wait_s: float, notices: list[str]) -> Database:
    with told(path):
        db = connect(path, wait_s=wait_s)
        try:
            if not schema.is_current(db):
                kept = backups.before_migration(path, now())
                schema.migrate(db)
                notices.append(f"The record was brought up to date; as it was before, it is kept in {kept}.")
            if db.journal_mode != "wal":
                db.execute("PRAGMA journal_mode = WAL")
        except BaseException:
            db.close()
            raise
    return db


def _kept_aside(path: Path, now_s: float) -> Path | None:
    """Keeps the present record, sound or not, and leaves nothing beside it that would be read into the new one."""
    if not path.exists():
        return None
    _refuse_if_in_use(path)
    kept = backups.set_aside(path, now_s)
    with told(path):
        for leftover in backups.side_files(path):
            leftover.unlink(missing_ok=True)
    return kept


def _refuse_if_in_use(path: Path) -> None:
    """Leaving WAL mode needs the file for oneself, and gathers all answers in it. A damaged file is taken as it is."""
    try:
        with closing(connect(path, wait_s=WAIT_S)) as db:
            db.execute("PRAGMA journal_mode = DELETE")
    except sqlite3.Error as error:
        problem = explained(path, error)
        if isinstance(problem, CannotWrite):
            raise problem from error


def _with_offer(path: Path, error: RecordDamaged) -> RecordDamaged:
    """The same error, with the last good backup and what to do."""
    backup = backups.last_good(path)
    if backup is None:
        fix = "There is no backup of it. The file was left as it is; move it away to begin a new record."
    else:
        count = examine_fully(backup)
        fix = f"It was left as it is. The last good backup has {count} answers: fretsure restore {backup}"
    return RecordDamaged(error.message, fix, record=path, backup=backup)
