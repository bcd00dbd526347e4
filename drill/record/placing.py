"""Putting a file in the place of the record, so that nothing left there enters it and nothing that was there is lost.

SQLite reads a write-ahead log into any file that lies beside it: https://www.sqlite.org/howtocorrupt.html, section 1.4.
The main file and its side files are therefore treated as one.

move_orphans    moves side files without their main file to the backups
place           gives a finished record its name and keeps the one it replaces
one_at_a_time   keeps off other programs that want to change a record as a whole
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from drill.errors import CannotWrite
from drill.record import backups, database_files
from drill.record.connection import alone, connect, explained, explaining_errors, in_use, is_in_use
from drill.record.database_files import WITHOUT_LOG, log_mode
from drill.system import files
from drill.system.platforms import on_windows

_Stamps = tuple[tuple[str, int, int], ...]


def move_orphans(path: Path, now_s: float, wait_s: float, notices: list[str]) -> None:
    """Moves side files that belong to no file, or to another than the one at `path`, to the backups.

    `notices` gets a sentence that says where they are now. Raises CannotWrite.
    """
    if _orphans(path):
        with one_at_a_time(path, wait_s):
            _move_orphans(path, now_s, notices)


def place(finished: Path, path: Path, now_s: float, wait_s: float, notices: list[str]) -> Path | None:
    """Gives the finished record the name `path`; returns the copy of the record that was there, if there was one.

    After a crash the old record or the new one is there, whole. Raises CannotWrite, also when another program has the
    record open.
    """
    with one_at_a_time(path, wait_s), explaining_errors(path):
        _move_orphans(path, now_s, notices)
        if database_files.put_if_free(finished, path):
            return None
        before = _stamps(path)
        kept = backups.keep_replaced(path, now_s)
        try:
            with _exclusive_access(path, before, wait_s):
                for leftover in database_files.existing_side_files(path):
                    leftover.unlink(missing_ok=True)
                files.sync_folder(Path(os.path.realpath(path)).parent)
                database_files.put_in_place(finished, path)
        except CannotWrite:
            database_files.remove(kept)
            raise
    return kept


@contextmanager
def one_at_a_time(path: Path, wait_s: float) -> Iterator[None]:
    """Keeps off other programs that want to place a record here, or to bring it up to date.

    The lock is on an empty file in the backups folder. Without it, a slow program could take the log of a record that a
    fast one has started for an orphan.
    """
    lock = backups.folder(path) / ".placing"
    with explaining_errors(path):
        database_files.private_folder(lock.parent)
        with suppress(FileExistsError):
            os.close(files.create_file(lock))
        with closing(connect(lock, wait_s=wait_s)) as db:
            db.execute("BEGIN EXCLUSIVE")
            yield


def _orphans(path: Path) -> tuple[Path, ...]:
    """The side files that are not those of the file at `path`.

    They are looked for before their main file, which a program that starts a record makes first. The header tells a
    file without a log of its own: SQLite marks it before it begins a log, and ends a log before it removes the mark.
    """
    sides = database_files.existing_side_files(path)
    if not sides or not path.exists():
        return sides
    log = tuple(side for side in sides if not side.name.endswith("-journal"))
    belongs_elsewhere = _filled_log(path) and path.is_file() and log_mode(path) == WITHOUT_LOG
    return log if belongs_elsewhere else ()


def _move_orphans(path: Path, now_s: float, notices: list[str]) -> None:
    if moved := backups.move_orphans(_orphans(path), path, now_s):
        names = " and ".join(kept.name for kept in moved)
        notices.append(
            f"Beside {path} were side files of another record, which was moved, deleted or overwritten without them."
            f" They are now in {moved[0].parent} as {names}. If that record lacks its newest answers, put them beside"
            " it, under its name with the same endings, and restore it."
        )


@contextmanager
def _exclusive_access(path: Path, copied: _Stamps, wait_s: float) -> Iterator[None]:
    """Locks other programs out of the record; refuses when one has it open or has written since it was `copied`.

    Windows replaces no file that is open, in our program or in another, so there the lock ends before.
    """
    lock = _locked(path, copied, wait_s)
    try:
        if lock and on_windows():
            lock.close()
        yield
    finally:
        if lock:
            lock.close()


def _locked(path: Path, copied: _Stamps, wait_s: float) -> sqlite3.Connection | None:
    """A connection that locks the record once all its answers are in one file; None for a damaged one."""
    try:
        gathered = _leave_log_mode(path, copied, wait_s)
        db = connect(path, wait_s=wait_s)
        try:
            db.execute("BEGIN EXCLUSIVE")
            _refuse_if_changed(path, gathered)
        except BaseException:
            db.close()
            raise
        return db
    except sqlite3.Error as error:
        if is_in_use(error):
            raise explained(path, error) from error
        return None


def _leave_log_mode(path: Path, copied: _Stamps, wait_s: float) -> _Stamps:
    """Leaves write-ahead mode. The connection that does so has to close: it would end with a journal of its own."""
    with alone(path, wait_s) as db:
        _refuse_if_changed(path, copied)
        db.execute("PRAGMA journal_mode = DELETE")
        return _stamps(path)


def _refuse_if_changed(path: Path, before: _Stamps) -> None:
    if _stamps(path) != before:
        raise in_use(path)


def _stamps(path: Path) -> _Stamps:
    """Size and time of what holds answers. Only looked at: a file opened and closed would free SQLite's locks on it."""
    return tuple((file.name, file.stat().st_size, file.stat().st_mtime_ns) for file in (path, *_filled_log(path)))


def _filled_log(path: Path) -> tuple[Path, ...]:
    """The write-ahead log, when there is anything in it; SQLite begins an empty one whenever it looks at a record."""
    log, *_ = database_files.side_files(Path(os.path.realpath(path)))
    with suppress(FileNotFoundError):
        if log.stat().st_size > 0:
            return (log,)
    return ()
