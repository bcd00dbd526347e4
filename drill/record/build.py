"""Compares what a record's file defines with what our steps define.

The definitions in a file run when the program writes: a trigger, a constraint, an index may drop or replace answers. So
each is compared with that of the same steps taken in memory; whatever differs was made by someone else.
"""

import re
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing
from functools import cache
from typing import NamedTuple

from drill.record.steps import STEPS
from drill.theory.names import one_line, quoted

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
        return f"{one_line(self.type)} {quoted(self.name)}"


_FIGURES = Part("table", "sqlite_stat1", "sqlite_stat1", "CREATE TABLE sqlite_stat1(tbl,idx,stat)")
"""Left by ANALYZE, which an owner may run: it affects only speed. https://www.sqlite.org/lang_analyze.html"""

_COLUMN = r"(id INTEGER PRIMARY KEY|(migration_set|name|applied_at) TEXT NOT NULL|\w+ (INTEGER|TEXT))"
_STEPS_TABLE = rf"CREATE TABLE _sqlite_migrations \({_COLUMN}(, {_COLUMN})* ?\)( STRICT)?"
_STEPS_INDEX = r"CREATE (UNIQUE )?INDEX \w+ ON _sqlite_migrations \(migration_set, name\)"
"""What sqlite-utils notes the steps in. Its releases may word it differently, never so that it refuses a step."""


def difference(db: sqlite3.Connection, taken: Iterable[str | None]) -> str | None:
    """What in the file is not as fretsure makes it after the steps `taken`, in words; None where all is."""
    steps = tuple(taken)
    if not steps or steps != tuple(STEPS)[: len(steps)]:
        return "its list of steps is not as fretsure writes it"
    ours = _built(tuple(STEPS.values())[: len(steps)])
    if found := next(_differences(_parts(db), ours), None):
        return found
    return None if _counts_up(db, ours) else "its answers are not numbered as fretsure numbers them"


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


def _differences(found: list[Part], wanted: tuple[Part, ...]) -> Iterator[str]:
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
        return form is not None and re.fullmatch(form, plain) is not None
    return part == _FIGURES


def _counts_up(db: sqlite3.Connection, parts: tuple[Part, ...]) -> bool:
    """Whether every id is one that counting up gives; after any other the next answer might get no id."""
    for table in (part.name for part in parts if "AUTOINCREMENT" in part.sql):
        first, last = db.execute(f"SELECT min(id), max(id) FROM {table}").fetchone()
        if first is not None and not 1 <= first <= last <= LAST_ID:
            return False
    return all(_is_count(last) for (last,) in db.execute("SELECT seq FROM sqlite_sequence"))


def _is_count(last: object) -> bool:
    """Whether SQLite itself may note this as the last id it gave out; it is 0 before the first row."""
    return isinstance(last, int) and 0 <= last <= LAST_ID
