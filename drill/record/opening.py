"""Opening, beginning, replacing a record: everything that happens to the file as a whole."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from drill.errors import BadFile, RecordDamaged
from drill.present.figures import how_many
from drill.record import backups, database_files, placing, schema
from drill.record.check import examine, examine_fully
from drill.record.connection import WAIT_S, connect, explaining_errors, immediate
from drill.system import input_files


def opened(path: Path, now: Callable[[], float], wait_s: float, notices: list[str]) -> sqlite3.Connection:
    """A connection to a sound, current record at `path`; begins one where there is none. Raises as `Record.open`."""
    with explaining_errors(path):
        placing.set_strays_aside(path, now(), wait_s, notices)
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
    path: Path,
    source: Path,
    now_s: float,
    *,
    wait_s: float = WAIT_S,
    vet: Callable[[Path], object] | None = None,
    notices: list[str] | None = None,
) -> Path | None:
    """Puts the backup `source` in the record's place. Gives where the replaced record was kept, if there was one.

    The source is read and checked first; the record is kept among its backups, just as it is. `vet` is shown the copy
    that is about to take the place; what it raises stops everything. What was placed is opened and read whole before
    this returns. `notices` gets what the learner should see besides. Raises BadFile (the source is no sound record),
    CannotWrite (also when another program has the record open), RecordDamaged (the restored record is not what the
    backup holds).
    """
    with explaining_errors(source):
        if not source.is_file():
            raise BadFile(str(source), "", "there is no such file.", "Give the path of a backup.")
    with explaining_errors(path):
        if path.exists():
            _refuse_what_is_no_file(path)
    incoming = path.with_name(f".{path.name}.{os.getpid()}.restored")
    try:
        database_files.remove(incoming)
        answers = backups.copy(source, incoming)
        _make_our_own(incoming, vet)
        kept = placing.place(incoming, path, now_s, wait_s, [] if notices is None else notices)
    except RecordDamaged as error:
        raise BadFile(str(source), "", f"is no sound backup ({error.reason}).", "Give another backup.") from error
    finally:
        database_files.remove(incoming)
    _check_placed(path, answers, kept)
    return kept


def _make_our_own(incoming: Path, vet: Callable[[Path], object] | None) -> None:
    """Brings the copy of a backup up to date without what another program derived, which nothing vouches for."""
    with explaining_errors(incoming), closing(connect(incoming)) as db:
        _migrate(db, incoming)
        with immediate(db):
            db.execute("DELETE FROM state")
    if vet is None:
        return
    vet(incoming)
    with explaining_errors(incoming), closing(connect(incoming)) as db:
        db.execute("PRAGMA journal_mode = DELETE")  # one file again, which is put in place as a whole


def back_up_to(record: Path, target: Path) -> None:
    """A copy of the record at `target`, which must not exist. Raises CannotWrite, RecordDamaged, BadFile."""
    with explaining_errors(target):
        for present in (target, *database_files.sides_found(target)):
            if os.path.lexists(present):
                raise backups.taken(present)
    backups.copy(record, target, must_be_new=True)


def with_offer(error: RecordDamaged) -> RecordDamaged:
    """The same error, with the last good backup and what to do."""
    backup = backups.last_good(error.record)
    if backup is None:
        sides = " and ".join(side.name for side in database_files.side_files(error.record)[:2])
        fix = (
            f"There is no backup of it. To begin a new record, move {error.record.name} away together with {sides}, if"
            " they are there: they hold its newest answers. Keep them all, for the record may be mended."
        )
    else:
        held = how_many(examine_fully(backup), "answer")
        fix = f'The last good backup holds {held}: fretsure restore "{backup}"'
    return RecordDamaged(error.record, error.reason, fix, backup)


def _begin(path: Path, notices: list[str]) -> None:
    """A new, empty record. It is made under another name and appears whole, so two programs may begin it at once."""
    if backups.listed(path):
        notices.append(f"There was no record at {path}; a new one was begun. Backups are in {backups.folder(path)}.")
    temporary = path.with_name(f".{path.name}.{os.getpid()}.new")
    database_files.private_folder(path.parent)
    try:
        database_files.private_file(temporary)
        with closing(connect(temporary)) as db:
            _migrate(db, path)
            _log_ahead(db)
        database_files.put_where_none_is(temporary, path)
    finally:
        database_files.remove(temporary)


def _refuse_what_is_no_file(path: Path) -> None:
    """A pipe would be waited for, and a device may never end."""
    if (found := input_files.kind(path)) != input_files.FILE:
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
    _migrate(db, path)
    notices.append(f"The record was brought up to date; as it was before, it is kept in {kept}.")


def _migrate(db: sqlite3.Connection, path: Path) -> None:
    """Takes the steps that are left. Raises RecordDamaged for rows that no program of ours wrote."""
    if schema.is_current(db):
        return
    from drill.record import migrations  # slow to import, and most starts take no step

    try:
        migrations.migrate(db)
    except sqlite3.IntegrityError as error:
        raise RecordDamaged(path, str(error)) from error


def _log_ahead(db: sqlite3.Connection) -> None:
    """Write-ahead log: readers and the writer do not wait for each other. https://www.sqlite.org/wal.html"""
    if db.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
        db.execute("PRAGMA journal_mode = WAL")


def _check_placed(path: Path, answers: int, kept: Path | None) -> None:
    """Opens what was placed as any other program would and reads it whole; others may have added answers meanwhile."""
    try:
        found = examine_fully(path)
        reason = "" if found >= answers else f"it holds {found} of the {answers} answers of the backup"
    except RecordDamaged as error:
        reason = error.reason
    if reason:
        raise RecordDamaged(path, reason, f"As it was before, it is kept in {kept}." if kept else "Try again.")
