"""The SQL that writes to the log, made from the columns of its rows; by the class of the row where there are two."""

from __future__ import annotations

from drill.record.rows import ATTEMPT_COLUMNS, DRILL_COLUMNS, LANDING_COLUMNS, AttemptRow, LandingRow

_TABLES = {
    AttemptRow: ("attempt", ", ".join((*ATTEMPT_COLUMNS, "crc"))),
    LandingRow: ("landing", ", ".join((*LANDING_COLUMNS, "crc"))),
}
"""The tables of answers, and their columns without the `id` that SQLite counts up."""


def _insert(table: str, columns: str) -> str:
    return f"INSERT INTO {table} ({columns}) VALUES ({', '.join('?' * (columns.count(',') + 1))})"


def _merge(table: str, columns: str) -> str:
    staged = f"SELECT {columns} FROM temp.staged_{table} WHERE true ORDER BY rowid"
    return f"INSERT INTO {table} ({columns}) {staged} ON CONFLICT (uid) DO NOTHING"


INSERT_DRILL = _insert("drill", ", ".join(DRILL_COLUMNS))
INSERT = {row: _insert(*table) for row, table in _TABLES.items()}

MERGE_DRILL = f"{INSERT_DRILL} ON CONFLICT (id) DO UPDATE SET ended_at = coalesce(ended_at, excluded.ended_at)"
BEGIN_STAGED = tuple(
    f"CREATE TEMP TABLE staged_{table} AS SELECT {columns} FROM {table} WHERE false"
    for table, columns in _TABLES.values()
)
STAGE = {row: _insert(f"temp.staged_{table}", columns) for row, (table, columns) in _TABLES.items()}
MERGE_STAGED = {row: _merge(*table) for row, table in _TABLES.items()}
END_STAGED = tuple(f"DROP TABLE temp.staged_{table}" for table, _ in _TABLES.values())

NEW_OWNER = "INSERT INTO owner (learner) SELECT lower(hex(randomblob(8))) WHERE NOT EXISTS (SELECT 1 FROM owner)"
ADOPT_OWNER = """
    INSERT INTO owner (learner)
    SELECT first FROM (SELECT min(learner) AS first, max(learner) AS last FROM temp.staged_attempt)
    WHERE first = last AND NOT EXISTS (SELECT 1 FROM owner)
"""
FORGET_OWNER = "DELETE FROM owner"
SAVE_OWNER = "INSERT INTO owner (single, learner, name) VALUES (1, ?, ?)"
SAVE_STATE = "INSERT INTO state (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value"
