"""Which steps a record's file has taken, and which are left. `steps` says what each does, `migrations` takes them."""

from __future__ import annotations

import sqlite3

from drill.record import steps

STEPS = tuple(steps.STEPS)
"""The names of all steps this program knows, in order."""


def is_signed(db: sqlite3.Connection) -> bool:
    """Whether the file's header says that it is one of ours."""
    return bool(db.execute("PRAGMA application_id").fetchone()[0] == steps.APPLICATION_ID)


def names(db: sqlite3.Connection, kind: str) -> set[str]:
    """The names of the file's parts of a kind: "table", "view" or "trigger"."""
    return {name for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = ?", (kind,))}


def unknown_steps(db: sqlite3.Connection) -> tuple[str, ...]:
    """Steps taken in this file that this program does not know: a newer program wrote it."""
    return tuple(step for step in taken(db) if step not in STEPS)


def is_current(db: sqlite3.Connection) -> bool:
    """Whether all steps are taken."""
    return set(STEPS) <= set(taken(db))


def taken(db: sqlite3.Connection) -> list[str]:
    """The steps as sqlite-utils notes them: https://sqlite-utils.datasette.io/en/stable/migrations.html"""
    if "_sqlite_migrations" not in names(db, "table"):
        return []
    noted = db.execute("SELECT name FROM _sqlite_migrations WHERE migration_set = ? ORDER BY rowid", (steps.FAMILY,))
    return [name for (name,) in noted]
