"""Opening, creating and replacing a record: everything that happens to the file as a whole."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from drill.errors import BadFile, RecordDamaged
from drill.present.figures import how_many
from drill.record import backups, database_files, placing, schema
from drill.record.check import answers_in, examine, examine_fully
from drill.record.connection import WAIT_S, alone, connect, explaining_errors, immediate
from drill.system import files, input_files


def opened(path: Path, now: Callable[[], float], wait_s: float, notices: list[str]) -> sqlite3.Connection:
    """A connection to a valid, current record at `path`; creates one where there is none. Raises as `Record.open`."""
    with explaining_errors(path):
        _refuse_non_file(path)
        placing.move_orphans(path, now(), wait_s, notices)
        if not path.exists():
            _begin(path, notices)
        _refuse_empty(path)
        examine(path, wait_s)
        with closing(connect(path, read_only=True, wait_s=wait_s)) as db:
            is_current = schema.is_current(db)
        if not is_current:
            _bring_up_to_date(path, now, wait_s, notices)
        db = connect(path, wait_s=wait_s)
        try:
            _use_write_ahead_log(db)
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
    """Replaces the record by the backup `source`. Gives the path of the copy of the replaced record, if there was one.

    The source is read and checked first; the record is copied to its backups unchanged. `vet` gets the path of the copy
    that is about to become the record; what it raises stops everything. The new record is opened and read whole before
    this returns. `notices` gets sentences to show the learner. Raises BadFile (the source is not a valid record),
    CannotWrite (also when another program has the record open), RecordDamaged (the restored record is not what the
    backup holds).
    """
    with explaining_errors(source):
        if not source.is_file():
            raise BadFile(str(source), "", "there is no such file.", "Give the path of a backup.")
    with explaining_errors(path):
        _refuse_non_file(path)
    incoming = path.with_name(f".{path.name}.{os.getpid()}.restored")
    try:
        database_files.remove(incoming)
        answers = backups.copy(source, incoming)
        _prepare_copy(incoming, vet)
        kept = placing.place(incoming, path, now_s, wait_s, [] if notices is None else notices)
    except RecordDamaged as error:
        raise BadFile(str(source), "", f"is not a valid backup ({error.reason}).", "Give another backup.") from error
    finally:
        database_files.remove(incoming)
    _check_placed(path, answers, kept)
    return kept


def _prepare_copy(incoming: Path, vet: Callable[[Path], object] | None) -> None:
    """Updates the copy of a backup, and deletes the state that another program derived, which nothing vouches for."""
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
        for present in (target, *database_files.existing_side_files(target)):
            if os.path.lexists(present):
                raise files.taken(present)
    backups.copy(record, target, must_be_new=True)


def with_offer(error: RecordDamaged) -> RecordDamaged:
    """The same error with a fix: the command that restores the last good backup."""
    backup = backups.last_good(error.record)
    if backup is None:
        sides = " and ".join(side.name for side in database_files.side_files(error.record)[:2])
        fix = (
            f"There is no backup of it. To start a new record, move {error.record.name} away together with {sides}, if"
            " they exist: they hold its newest answers. Keep them all: the record may be recoverable."
        )
    else:
        answers = how_many(answers_in(backup), "answer")
        fix = f'The last good backup holds {answers}: fretsure restore "{backup}"'
    return RecordDamaged(error.record, error.reason, fix, backup)


def _begin(path: Path, notices: list[str]) -> None:
    """Creates an empty record under another name and renames it when it is complete: two programs may do so at once."""
    if backups.all_of(path):
        notices.append(f"There was no record at {path}; a new one was started. Backups are in {backups.folder(path)}.")
    temporary = path.with_name(f".{path.name}.{os.getpid()}.new")
    database_files.private_folder(path.parent)
    try:
        database_files.private_file(temporary)
        with closing(connect(temporary)) as db:
            _migrate(db, path)
            _use_write_ahead_log(db)
        database_files.put_if_free(temporary, path)
    finally:
        database_files.remove(temporary)


def _refuse_non_file(path: Path) -> None:
    """Reading a pipe would wait for its writer, and a device may never end."""
    if path.exists() and (found := input_files.kind(path)) != input_files.FILE:
        fix = "Give the path of a file with --record, or in the variable FRETSURE_RECORD."
        raise BadFile(str(path), "", f"is {found}, not a record.", fix)


def _refuse_empty(path: Path) -> None:
    if path.stat().st_size == 0:  # fretsure never leaves one: something else emptied it
        raise RecordDamaged(path, "the file is empty")


def _bring_up_to_date(path: Path, now: Callable[[], float], wait_s: float, notices: list[str]) -> None:
    """Takes the steps that are left, while no program has the record open: an older one would find its tables gone."""
    with placing.one_at_a_time(path, wait_s):
        with alone(path, wait_s) as db:
            if schema.is_current(db):
                return
        kept = backups.before("before-migration", path, now())
        with alone(path, wait_s) as db:
            _migrate(db, path)
    notices.append(f"The record was updated for this version of fretsure. A copy of it as it was before is in {kept}.")


def _migrate(db: sqlite3.Connection, path: Path) -> None:
    """Takes the steps that are left. Raises RecordDamaged for rows that no program of ours wrote."""
    if schema.is_current(db):
        return
    from drill.record import migrations  # slow to import, and most starts take no step

    try:
        migrations.migrate(db)
    except sqlite3.IntegrityError as error:
        raise RecordDamaged(path, str(error)) from error


def _use_write_ahead_log(db: sqlite3.Connection) -> None:
    """Write-ahead log: readers and the writer do not wait for each other. https://www.sqlite.org/wal.html"""
    if db.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
        db.execute("PRAGMA journal_mode = WAL")


def _check_placed(path: Path, answers: int, kept: Path | None) -> None:
    """Opens the new record as any program would and reads it whole; others may have added answers meanwhile."""
    try:
        found = examine_fully(path)
        reason = "" if found >= answers else f"it holds {found} of the {answers} answers of the backup"
    except RecordDamaged as error:
        reason = error.reason
    if reason:
        raise RecordDamaged(path, reason, f"A copy of it as it was before is in {kept}." if kept else "Try again.")
