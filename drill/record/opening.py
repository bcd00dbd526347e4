"""Opening, beginning, replacing a record: everything that happens to the file as a whole."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from drill import readfile
from drill.counts import how_many
from drill.errors import BadFile, CannotWrite, RecordDamaged
from drill.record import backups, files, schema
from drill.record.check import examine, examine_fully
from drill.record.connection import WAIT_S, connect, explained, immediate, is_in_use, told


def opened(path: Path, now: Callable[[], float], wait_s: float, notices: list[str]) -> sqlite3.Connection:
    """A connection to a sound, current record at `path`; begins one where there is none. Raises as `Record.open`."""
    with told(path):
        if not path.exists():
            _begin(path, notices)
        _refuse_the_hopeless(path)
        examine(path, wait_s)
        db = connect(path, wait_s=wait_s)
        try:
            _bring_up_to_date(db, path, now, notices)
            _log_ahead(db)
        except BaseException:
            db.close()
            raise
    return db


def restore(
    path: Path, source: Path, now_s: float, *, wait_s: float = WAIT_S, vet: Callable[[Path], object] | None = None
) -> Path | None:
    """Puts the backup `source` in the record's place. Gives where the replaced record was kept, if there was one.

    The source is read and checked first; the record is kept among its backups, just as it is. `vet` is shown the copy
    that is about to take the place; what it raises stops everything. Raises BadFile (the source is no sound record),
    CannotWrite (also when another program has the record open).
    """
    with told(source):
        if not source.is_file():
            raise BadFile(str(source), "", "there is no such file.", "Give the path of a backup.")
    with told(path):
        if path.exists():
            _refuse_what_is_no_file(path)
    incoming = path.with_name(f".{path.name}.{os.getpid()}.restored")
    try:
        backups.copy(source, incoming)
        _make_our_own(incoming, vet)
        kept = _keep_aside(path, now_s, wait_s)
        with told(path):
            files.put_in_place(incoming, path)
    except RecordDamaged as error:
        raise BadFile(str(source), "", f"is no sound backup ({error.reason}).", "Give another backup.") from error
    finally:
        files.remove(incoming)
    return kept


def _make_our_own(incoming: Path, vet: Callable[[Path], object] | None) -> None:
    """Brings the copy of a backup up to date without what another program derived, which nothing vouches for."""
    with told(incoming), closing(connect(incoming)) as db:
        if not schema.is_current(db):
            schema.migrate(db)
        with immediate(db):
            db.execute("DELETE FROM state")
    if vet is None:
        return
    vet(incoming)
    with told(incoming), closing(connect(incoming)) as db:
        db.execute("PRAGMA journal_mode = DELETE")  # one file again, which is put in place as a whole


def back_up_to(record: Path, target: Path) -> None:
    """A copy of the record at `target`, which must not exist. Raises CannotWrite, RecordDamaged, BadFile."""
    with told(target):
        if target.exists():
            raise CannotWrite(f"{target} is there already and was left alone.", "Give the backup a name that is free.")
    backups.copy(record, target)


def with_offer(error: RecordDamaged) -> RecordDamaged:
    """The same error, with the last good backup and what to do."""
    backup = backups.last_good(error.record)
    if backup is None:
        fix = "There is no backup of it. Move the file away to begin a new record; keep it, for it may be mended."
    else:
        held = how_many(examine_fully(backup), "answer")
        fix = f'The last good backup holds {held}: fretsure restore "{backup}"'
    return RecordDamaged(error.record, error.reason, fix, backup)


def _begin(path: Path, notices: list[str]) -> None:
    """A new, empty record. It is made under another name and appears whole, so two programs may begin it at once."""
    if backups.listed(path):
        notices.append(f"There was no record at {path}; a new one was begun. Backups are in {backups.folder(path)}.")
    temporary = path.with_name(f".{path.name}.{os.getpid()}.new")
    files.private_folder(path.parent)
    try:
        files.private_file(temporary)
        with closing(connect(temporary)) as db:
            schema.migrate(db)
            _log_ahead(db)
        files.put_where_none_is(temporary, path)
    finally:
        files.remove(temporary)


def _refuse_what_is_no_file(path: Path) -> None:
    """A pipe would be waited for, and a device may never end."""
    if (found := readfile.kind(path)) != readfile.FILE:
        fix = "Give the path of a file with --record, or in the variable FRETSURE_RECORD."
        raise BadFile(str(path), "", f"is {found}, not a record.", fix)


def _refuse_the_hopeless(path: Path) -> None:
    _refuse_what_is_no_file(path)
    if path.stat().st_size == 0:  # no program of ours leaves one: something else took the answers away
        raise RecordDamaged(path, "the file is empty")


def _bring_up_to_date(db: sqlite3.Connection, path: Path, now: Callable[[], float], notices: list[str]) -> None:
    if schema.is_current(db):
        return
    kept = backups.before_migration(path, now())
    schema.migrate(db)
    notices.append(f"The record was brought up to date; as it was before, it is kept in {kept}.")


def _log_ahead(db: sqlite3.Connection) -> None:
    """Write-ahead log: readers and the writer do not wait for each other. https://www.sqlite.org/wal.html"""
    if db.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
        db.execute("PRAGMA journal_mode = WAL")


def _keep_aside(path: Path, now_s: float, wait_s: float) -> Path | None:
    """Keeps the present record, sound or not, and leaves nothing beside it that would be read into the new one.

    It is kept before SQLite touches it: even looking at a damaged file may change it.
    """
    if not path.exists():
        return None
    kept = backups.set_aside(path, now_s)
    try:
        _refuse_if_in_use(path, wait_s)
    except CannotWrite:
        files.remove(kept)
        raise
    with told(path):
        for leftover in files.side_files(path):
            leftover.unlink(missing_ok=True)
    return kept


def _refuse_if_in_use(path: Path, wait_s: float) -> None:
    """Leaving write-ahead mode needs the file for oneself, and gathers all answers in it; a damaged file is let be."""
    try:
        with closing(connect(path, wait_s=wait_s)) as db:
            db.execute("PRAGMA journal_mode = DELETE")
    except sqlite3.Error as error:
        if is_in_use(error):
            raise explained(path, error) from error
