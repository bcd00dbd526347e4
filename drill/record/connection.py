"""How the record's file is opened and written, and how errors in it are explained.

connect      a connection with the pragmas every use of the record needs
immediate    the one way to write: a transaction that takes the write lock at its start
alone        a connection beside which no other program has the file open
explaining_errors   turns errors of SQLite and of the system into sentences for the learner
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path, PurePath

from drill.errors import CannotWrite, FretsureError, RecordDamaged

WAIT_S = 5.0
UNFINISHED = ("SQLITE_READONLY_ROLLBACK", "SQLITE_READONLY_RECOVERY", "SQLITE_READONLY_CANTINIT")
"""A program that was killed left a change half made, which only a connection that may write can undo or finish:
https://www.sqlite.org/rescode.html#readonly_rollback"""
_SETTINGS = (
    "foreign_keys = ON",
    "synchronous = FULL",  # an answer is on the disk before its verdict is shown
    "fullfsync = ON",  # also on macOS, whose drives keep it to themselves: https://www.sqlite.org/pragma.html
    "cell_size_check = ON",  # notices damage where it is read
    "trusted_schema = OFF",  # nothing written in a file runs
)


def connect(path: Path, *, read_only: bool = False, wait_s: float = WAIT_S) -> sqlite3.Connection:
    """A connection to an existing file; it waits at most `wait_s` seconds for other programs. Raises sqlite3.Error."""
    if not read_only:
        return _connect(path, "rw", wait_s)
    try:
        return _connect(path, "ro", wait_s)
    except sqlite3.OperationalError as error:
        if _code(error) not in UNFINISHED:
            raise
    with closing(_connect(path, "rw", wait_s)) as db:
        db.execute("SELECT count(*) FROM sqlite_master").fetchone()  # SQLite finishes the work when it first reads
    return _connect(path, "ro", wait_s)


def _connect(path: Path, mode: str, wait_s: float) -> sqlite3.Connection:
    connection = sqlite3.connect(f"{_uri(path.absolute())}?mode={mode}", uri=True, timeout=wait_s)
    try:
        connection.isolation_level = None  # no transaction begins behind our back
        for setting in _SETTINGS:
            connection.execute(f"PRAGMA {setting}")
        return connection
    except BaseException:
        connection.close()
        raise


def _uri(path: PurePath) -> str:
    """The path for SQLite, which takes no authority: the server of a network drive belongs to the path.

    https://www.sqlite.org/uri.html
    """
    uri = path.as_uri()
    return uri if uri.startswith("file:///") else uri.replace("file://", "file:////", 1)


@contextmanager
def immediate(db: sqlite3.Connection) -> Iterator[sqlite3.Connection]:
    """One transaction: all of it is saved, or none.

    It takes the write lock at once. A transaction that reads first and asks for the lock later fails without waiting
    when a second program has written in between.
    """
    db.execute("BEGIN IMMEDIATE")
    try:
        yield db
        db.execute("COMMIT")
    except BaseException:
        db.rollback()
        raise


@contextmanager
def alone(path: Path, wait_s: float = WAIT_S) -> Iterator[sqlite3.Connection]:
    """A connection that keeps all others out until it closes, even those that only read.

    Raises sqlite3.Error when another program has the file open, also an idle one as long as there is a write-ahead log.
    """
    with closing(connect(path, wait_s=wait_s)) as db:
        db.execute("PRAGMA locking_mode = EXCLUSIVE")  # keeps the lock: https://www.sqlite.org/pragma.html
        db.execute("BEGIN EXCLUSIVE")
        db.execute("ROLLBACK")
        yield db


@contextmanager
def explaining_errors(path: Path) -> Iterator[None]:
    """Turns errors of SQLite and of the system into FretsureErrors that name the file and the fix."""
    try:
        yield
    except (sqlite3.ProgrammingError, sqlite3.IntegrityError):
        raise  # a bug of ours, nothing the learner can fix
    except sqlite3.Error as error:
        raise explained(path, error) from error
    except UnicodeDecodeError as error:  # SQLite's message quotes bytes that are not text
        raise RecordDamaged(path, "its text is not UTF-8") from error
    except OSError as error:
        raise _cannot_write(path, error.strerror or str(error)) from error


def is_in_use(error: sqlite3.Error) -> bool:
    """Whether SQLite failed only because another program holds the file."""
    return _code(error).startswith(("SQLITE_BUSY", "SQLITE_LOCKED"))


def explained(path: Path, error: sqlite3.Error) -> FretsureError:
    """The error for what SQLite reports about this file."""
    if is_in_use(error):
        return in_use(path)
    if _code(error).startswith(("SQLITE_FULL", "SQLITE_IOERR", "SQLITE_READONLY", "SQLITE_CANTOPEN", "SQLITE_PERM")):
        return _cannot_write(path, str(error))
    return RecordDamaged(path, str(error))


def in_use(path: Path) -> CannotWrite:
    """The error for a record that another program is using."""
    return CannotWrite(
        f"The record {path} is in use by another program.",
        "Wait a moment or close the other program, then try again. Every answer saved so far is safe.",
    )


def _code(error: sqlite3.Error) -> str:
    """SQLite's own name for the error, such as SQLITE_FULL: https://www.sqlite.org/rescode.html"""
    return getattr(error, "sqlite_errorname", None) or ""


def _cannot_write(path: Path, reason: str) -> CannotWrite:
    return CannotWrite(
        f"The record {path} cannot be opened or written ({reason}).",
        "Make room on the disk or check the permissions of its folder. Every answer saved so far is safe.",
    )
