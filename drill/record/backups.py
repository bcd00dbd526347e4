"""Copies of the record: one a day, one before each migration, one of whatever a restore replaces.

They lie in a folder beside the record, `record.sqlite3-backups`, and are records themselves; `restore` takes any.
    daily-2026-11-25.sqlite3                       the last seven are kept
    before-migration-2026-11-25T143000Z.sqlite3    the last three are kept
    replaced-2026-11-25T143000Z.sqlite3            kept until the owner deletes them
"""

from __future__ import annotations

import os
import shutil
from contextlib import closing, suppress
from pathlib import Path
from typing import Literal

from drill.errors import CannotWrite
from drill.moments import moment
from drill.record import files
from drill.record.check import examine_fully, is_good
from drill.record.connection import connect, told

Occasion = Literal["daily", "before-migration", "replaced"]
KEPT: dict[Occasion, int] = {"daily": 7, "before-migration": 3}
SUFFIX = ".sqlite3"


def folder(record: Path) -> Path:
    """Where the backups of this record lie."""
    return record.with_name(f"{record.name}-backups")


def listed(record: Path) -> tuple[Path, ...]:
    """All backups of this record, the one made last first."""
    found = (path for path in folder(record).glob(f"[!.]*{SUFFIX}") if path.is_file())  # no pipe, no link to nowhere
    return tuple(sorted(found, key=lambda path: (path.stat().st_mtime_ns, path.name), reverse=True))


def last_good(record: Path) -> Path | None:
    """The newest backup that is whole and readable, if there is one."""
    return next((path for path in listed(record) if is_good(path)), None)


def daily(record: Path, now_s: float) -> Path | None:
    """Makes today's backup (by UTC) unless it is there; gives its path when it was made now."""
    target = folder(record) / f"daily-{moment(now_s):%Y-%m-%d}{SUFFIX}"
    if target.exists():
        return None
    copy(record, target)
    _prune(record, "daily", target)
    _sweep(record, target)
    return target


def before_migration(record: Path, now_s: float) -> Path:
    """A backup of the record as it is, before its tables are changed."""
    target = _free(record, "before-migration", now_s)
    copy(record, target)
    _prune(record, "before-migration", target)
    return target


def copy(record: Path, target: Path) -> None:
    """A whole, checked copy of the record at `target`, for its owner only; `target` appears complete or not at all.

    Other programs may go on writing meanwhile. Raises CannotWrite, RecordDamaged (the record is), BadFile (it is none).
    """
    temporary = target.with_name(f".{target.name}.{os.getpid()}.new")
    with told(target):
        files.private_folder(target.parent)
        files.private_file(temporary)
    try:
        with told(record), closing(connect(record, read_only=True)) as source, closing(connect(temporary)) as copied:
            source.backup(copied)
            copied.execute("PRAGMA journal_mode = DELETE")  # one file, readable from a medium that cannot be written
        examine_fully(temporary, called=record)
        with told(target):
            files.put_in_place(temporary, target)
    finally:
        files.remove(temporary)


def set_aside(record: Path, now_s: float) -> Path:
    """Keeps the record's file, just as it is, among the backups; the record itself stays where it is."""
    target = _free(record, "replaced", now_s)
    with told(target):
        files.private_folder(target.parent)
        for source, kept in zip(_with_sides(record), _with_sides(target), strict=True):
            if source.exists():
                shutil.copy2(source, kept)
                files.make_durable(kept)
    return target


def _with_sides(path: Path) -> tuple[Path, ...]:
    return (path, *files.side_files(path))


def _prune(record: Path, occasion: Occasion, just_made: Path) -> None:
    """Deletes the oldest backups of this occasion; never the one just made, whatever the clock says."""
    older = sorted(path for path in folder(record).glob(f"{occasion}-*{SUFFIX}") if path != just_made)
    for path in older[: max(0, len(older) + 1 - KEPT[occasion])]:
        with suppress(OSError):
            path.unlink()


def _sweep(record: Path, just_made: Path) -> None:
    """Deletes what a program that was killed left unfinished; an hour is longer than any copy takes."""
    long_ago = just_made.stat().st_mtime - 3600
    for unfinished in (*folder(record).glob(".*.new*"), *record.parent.glob(f".{record.name}.*")):
        with suppress(OSError):
            if unfinished.stat().st_mtime < long_ago:
                unfinished.unlink()


def _free(record: Path, occasion: Occasion, now_s: float) -> Path:
    """A name for a backup that no file has yet."""
    stem = f"{occasion}-{moment(now_s):%Y-%m-%dT%H%M%SZ}"
    for number in range(1, 1000):
        path = folder(record) / (f"{stem}{SUFFIX}" if number == 1 else f"{stem}-{number}{SUFFIX}")
        if not path.exists():
            return path
    raise CannotWrite(f"There are too many backups in {folder(record)}.", "Delete some that you no longer need.")
