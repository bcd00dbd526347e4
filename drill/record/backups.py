"""Copies of the record: one a day, one before each migration and merge, one of the record that a restore replaces.

They lie in a folder beside the record, `record.sqlite3-backups`, and are records themselves; `restore` takes any.
    daily-2026-11-25.sqlite3                       the last seven are kept
    before-migration-2026-11-25T143000Z.sqlite3    the last three are kept
    before-merge-2026-11-25T143000Z.sqlite3        the last ten are kept
    replaced-2026-11-25T143000Z.sqlite3            kept until the owner deletes them
    left-over-2026-11-25T143000Z.sqlite3-wal       not a backup: side files without their main file; kept likewise
Any other file in the folder belongs to its owner and is left alone.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Sequence
from contextlib import closing, suppress
from pathlib import Path
from typing import Literal

from drill.errors import CannotWrite
from drill.present.dates import moment
from drill.record import database_files
from drill.record.check import examine_fully, is_good
from drill.record.connection import connect, explaining_errors
from drill.record.names import SUFFIX, Occasion, is_backup, is_unfinished_backup, is_unfinished_record
from drill.system import files

KEPT: dict[Occasion, int] = {"daily": 7, "before-migration": 3, "before-merge": 10}


def folder(record: Path) -> Path:
    """Where the backups of this record lie."""
    return record.with_name(f"{record.name}-backups")


def all_of(record: Path) -> tuple[Path, ...]:
    """All backups of this record, the one made last first."""
    found = [path for path in _named(folder(record), is_backup) if path.is_file()]
    return tuple(sorted(found, key=lambda path: (path.stat().st_mtime_ns, path.name), reverse=True))


def last_good(record: Path) -> Path | None:
    """The newest backup that is valid, if there is one."""
    return next((path for path in all_of(record) if is_good(path)), None)


def daily(record: Path, now_s: float) -> Path | None:
    """Makes today's backup (by UTC) unless it is there; gives its path when it was made now."""
    target = folder(record) / f"daily-{moment(now_s):%Y-%m-%d}{SUFFIX}"
    if os.path.lexists(target):
        return None
    move_orphans(database_files.existing_side_files(target), record, now_s)
    copy(record, target)
    _prune(record, "daily", target)
    _sweep(record, target)
    return target


def before(occasion: Literal["before-migration", "before-merge"], record: Path, now_s: float) -> Path:
    """A backup of the record as it is, before its tables are changed, or answers added that nothing takes out again."""
    target = _free(record, occasion, now_s)
    copy(record, target)
    _prune(record, occasion, target)
    return target


def copy(record: Path, target: Path, *, must_be_new: bool = False) -> int:
    """A whole, checked copy of the record at `target`, for its owner only; gives the number of its answers.

    `target` appears complete or not at all; a file that has its name by then is left as it is, and refused when the
    copy `must_be_new`. Other programs may go on writing meanwhile. Raises CannotWrite, RecordDamaged (the record is),
    BadFile (it is not a record).
    """
    temporary = target.with_name(f".{target.name}.{os.getpid()}.new")
    with explaining_errors(target):
        database_files.private_folder(target.parent)
        database_files.private_file(temporary)
    try:
        with (
            explaining_errors(record),
            closing(connect(record, read_only=True)) as source,
            closing(connect(temporary)) as copied,
        ):
            source.backup(copied)
            copied.execute("PRAGMA journal_mode = DELETE")  # one file, readable from a medium that cannot be written
        answers = examine_fully(temporary, called=record)
        with explaining_errors(target):
            if not database_files.put_if_free(temporary, target) and must_be_new:
                raise files.taken(target)
        return answers
    finally:
        database_files.remove(temporary)


def keep_replaced(record: Path, now_s: float) -> Path:
    """Copies the record's file unchanged, with its side files, to the backups before it is replaced."""
    target = _free(record, "replaced", now_s)
    with explaining_errors(target):
        database_files.private_folder(target.parent)
        try:
            for source in (record, *database_files.existing_side_files(record)):
                kept = target if source == record else _beside(target, source)
                shutil.copy2(source, kept)
                database_files.make_durable(kept)
            files.sync_folder(target.parent)
        except BaseException:
            database_files.remove(target)
            raise
    return target


def move_orphans(sides: Sequence[Path], record: Path, now_s: float) -> tuple[Path, ...]:
    """Moves side files without their main file to the backups; gives their new paths."""
    if not sides:
        return ()
    target = _free(record, "left-over", now_s)
    kept = tuple(_beside(target, side) for side in sides)
    with explaining_errors(target):
        database_files.private_folder(target.parent)
        for side, name in zip(sides, kept, strict=True):
            database_files.move(side, name)
    return kept


def _beside(database: Path, side: Path) -> Path:
    """The name this side file would have beside `database`."""
    return database.with_name(f"{database.name}-{side.name.rpartition('-')[2]}")


def _prune(record: Path, occasion: Occasion, just_made: Path) -> None:
    """Deletes the oldest backups of this occasion; never the one just made, whatever the clock says."""
    made = _named(folder(record), lambda name: is_backup(name, occasion))
    older = sorted(path for path in made if path != just_made)
    for path in older[: max(0, len(older) + 1 - KEPT[occasion])]:
        with suppress(OSError):
            database_files.remove(path)


def _sweep(record: Path, just_made: Path) -> None:
    """Deletes the unfinished files of programs that were killed."""
    in_folder = _named(folder(record), is_unfinished_backup)
    beside = _named(record.parent, lambda name: is_unfinished_record(name, record))
    files.remove_abandoned((*in_folder, *beside), just_made)


def _named(place: Path, ours: Callable[[str], bool]) -> list[Path]:
    """The files in this folder whose names are ours; none when there is no such folder."""
    try:
        return [path for path in place.iterdir() if ours(path.name)]
    except OSError:
        return []


def _free(record: Path, occasion: Occasion | Literal["left-over"], now_s: float) -> Path:
    """A name for a backup that no file has yet, no link (it would be followed) and no side file."""
    stem = f"{occasion}-{moment(now_s):%Y-%m-%dT%H%M%SZ}"
    for number in range(1, 1000):
        path = folder(record) / (f"{stem}{SUFFIX}" if number == 1 else f"{stem}-{number}{SUFFIX}")
        if not os.path.lexists(path) and not database_files.existing_side_files(path):
            return path
    raise CannotWrite(f"There are too many backups in {folder(record)}.", "Delete some that you no longer need.")
