"""Whose a record is, told from its file without opening it for use: it may be old, damaged, or none at all."""

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from drill.errors import FretsureError
from drill.record.connection import connect, explaining_errors
from drill.record.rows import LearnerRow

if TYPE_CHECKING:
    from drill.record.store import Record


class Whose(NamedTuple):
    """Who answered in a record."""

    owner: LearnerRow | None
    identities: frozenset[str]
    """The owner's, and all that stand in answers; none in a record of an early release."""
    drills: frozenset[str]

    @property
    def is_nobodys(self) -> bool:
        """Whether nothing was drilled in it, and nobody gave it a name."""
        return not self.drills and not (self.owner and self.owner.name)

    def is_anothers(self, other: "Whose") -> bool:
        """Whether both belong to somebody, and nothing shows that they are one: no identity, and no drill."""
        shared = self.identities & other.identities or self.drills & other.drills
        return not (shared or self.is_nobodys or other.is_nobodys)


def whose(path: Path) -> Whose | None:
    """Whose record a file is; None where there is none, or none that can be read."""
    if not path.is_file():  # opening a pipe would wait for somebody to write to it
        return None
    try:
        with explaining_errors(path), closing(connect(path, read_only=True)) as db:
            drills = frozenset(name for (name,) in db.execute("SELECT id FROM drill"))
            return Whose(owner_in(db), identities_in(db), drills)
    except FretsureError:
        return None


def name_if_nameless(record: "Record", name: str) -> None:
    """Save the name that the learner has in the settings, if the record is somebody's and has none.

    A name in the settings alone would be lost with a backup. Raises CannotWrite.
    """
    if name.strip() and (owner := record.owner) is not None and not owner.name:
        record.call(name.strip())


def owner_in(db: sqlite3.Connection) -> LearnerRow | None:
    """The learner whose record it is, None before the first answer and the first export."""
    columns = _columns(db, "owner")
    if "learner" not in columns:
        return None
    row = db.execute(f"SELECT learner, {'name' if 'name' in columns else 'NULL'} FROM owner").fetchone()
    return None if row is None else LearnerRow(*row)


def identities_in(db: sqlite3.Connection) -> frozenset[str]:
    """Every identity that answered in it, the owner's among them."""
    tables = [table for table in ("owner", "attempt", "landing") if "learner" in _columns(db, table)]
    if not tables:
        return frozenset()
    union = " UNION ".join(f"SELECT learner FROM {table}" for table in tables)
    return frozenset(identity for (identity,) in db.execute(union) if identity is not None)


def _columns(db: sqlite3.Connection, table: str) -> tuple[str, ...]:
    """The columns that a table has in this release's or an earlier form; none if there is no such table."""
    return tuple(name for _, name, *_ in db.execute(f"PRAGMA table_info({table})"))
