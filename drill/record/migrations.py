"""Taking the steps that bring a record up to date; sqlite-utils notes in the file which have been taken.

Imported only where a step has to be taken, for the library is slow to import: `schema` tells whether one is left.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable

from sqlite_utils import Database, Migrations

from drill.record.connection import immediate
from drill.record.steps import FAMILY, STEPS

migrations = Migrations(FAMILY)


def _taking(statements: tuple[str, ...]) -> Callable[[Database], None]:
    def step(db: Database) -> None:
        for statement in statements:
            db.execute(statement)

    return step


for _name, _statements in STEPS.items():
    migrations(name=_name)(_taking(_statements))


def migrate(connection: sqlite3.Connection) -> None:
    """Takes the steps that are left, all or none. Two programs may do so at once: the second finds nothing to do."""
    with immediate(connection):
        migrations.apply(Database(connection, execute_plugins=False))
