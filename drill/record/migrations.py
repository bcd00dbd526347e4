"""Taking the steps: sqlite-utils notes in the file which have been taken.

Imported only where a step has to be taken, for the library is slow to import: `schema` tells whether one is left.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable

from sqlite_utils import Database, Migrations

from drill.record.schema import FAMILY
from drill.record.steps import STEPS

migrations = Migrations(FAMILY)


def _taking(statements: tuple[str, ...]) -> Callable[[Database], None]:
    def step(db: Database) -> None:
        for statement in statements:
            db.execute(statement)

    return step


for _name, _statements in STEPS.items():
    migrations(name=_name)(_taking(_statements))


def take(connection: sqlite3.Connection) -> None:
    """Takes the steps that are left; the caller holds a transaction, so that it is all of them or none."""
    migrations.apply(Database(connection, execute_plugins=False))
