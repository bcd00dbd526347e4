"""Compares what a record's file defines with what our steps define.

The definitions in a file run when the program writes: a trigger, a constraint, an index may drop or replace answers. So
each is compared with that of the same steps taken in memory; whatever differs was made by someone else.
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing
from functools import cache
from typing import NamedTuple

from drill.record.steps import STEPS
from drill.theory.names import quoted

LAST_ID = 2**53
"""Ids count up from 1, and no one answers more often than this; from 2^63-1 on SQLite would give out no further one."""


class Part(NamedTuple):
    """A row of SQLite's own list of what a file holds: https://www.sqlite.org/schematab.html"""

    type: str
    name: str
    table: str
    sql: str
    """The definition with each run of white space as one blank; empty for an index that SQLite made by itself."""

    def __str__(self) -> str:
        return f"{quoted(self.type)[1:-1]} {quoted(self.name)}"


_FIGURES = Part("table", "sqlite_stat1", "sqlite_stat1", "CREATE TABLE sqlite_stat1(tbl,idx,stat)")
"""Left by ANALYZE, which an owner may run: it affects only speed. https://www.sqlite.org/lang_analyze.html"""

_COLUMN = r"(id INTEGER PRIMARY KEY|(migration_set|name|applied_at) TEXT NOT NULL|\w+ (INTEGER|TEXT))"
_STEPS_TABLE = re.compile(rf"CREATE TABLE _sqlite_migrations \({_COLUMN}(, {_COLUMN})* ?\)( STRICT)?")
_STEPS_INDEX = re.compile(r"CREATE (UNIQUE )?INDEX \w+ ON _sqlite_migrations \(migration_set, name\)")
"""What sqlite-utils notes the steps in. Its releases may word it differently, never so that it refuses a step."""


def misfit(db: sqlite3.Connection, taken: Iterable[str | None]) -> str | None:
    """The first definition that is not as fretsure makes it after the steps `taken`; None if there is no such one."""
    steps = tuple(taken)
    if not steps or steps != tuple(STEPS)[: len(steps)]:
        return "its list of steps is not as fretsure writes it"
    return next(_misfits(_parts(db), _built(tuple(STEPS.values())[: len(steps)])), None) or _odd_id(db)


@cache
def _built(steps: tuple[tuple[str, ...], ...]) -> tuple[Part, ...]:
    """What a file holds after these steps."""
    with closing(sqlite3.connect(":memory:")) as db:
        for statements in steps:
            for statement in statements:
                db.execute(statement)
        return tuple(_parts(db))


def _parts(db: sqlite3.Connection) -> list[Part]:
    rows = db.execute("SELECT type, name, tbl_name, sql FROM sqlite_master ORDER BY rowid")
    return [Part(str(kind), str(name), str(table), " ".join(str(sql or "").split())) for kind, name, table, sql in rows]


def _misfits(found: list[Part], wanted: tuple[Part, ...]) -> Iterator[str]:
    left = list(wanted)
    names = {part.name for part in wanted}
    for part in found:
        if part in left:
            left.remove(part)
        elif part.name in names:
            yield f"its {part} is not as fretsure makes it"
        elif not _is_known(part):
            yield f"it holds the {part}, which fretsure did not make"
    yield from (f"its {part} is missing" for part in left)


def _is_known(part: Part) -> bool:
    """Whether a part that no step makes may still be in a record."""
    plain = re.sub(r'["\[\]`]', "", part.sql).replace("( ", "(")
    if part.table == "_sqlite_migrations":
        form = {"table": _STEPS_TABLE, "index": _STEPS_INDEX}.get(part.type)
        return form is not None and form.fullmatch(plain) is not None
    return part == _FIGURES


def _odd_id(db: sqlite3.Connection) -> str | None:
    """A complaint about an id that counting up never gives: the next answer might get no id."""
    tables = {part.name for part in _parts(db) if part.type == "table"} & {"attempt", "landing"}
    ends = [end for table in tables for end in db.execute(f"SELECT min(id), max(id) FROM {table}").fetchone()]
    ids = [end for end in ends if end is not None]
    given_out = [last for (last,) in db.execute("SELECT seq FROM sqlite_sequence")]  # 0 before the first row
    if all(isinstance(each, int) and 0 <= each <= LAST_ID for each in (*ids, *given_out)) and 0 not in ids:
        return None
    return "its answers are not numbered as fretsure numbers them"
