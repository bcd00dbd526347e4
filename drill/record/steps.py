"""The tables of the record, as numbered steps from an empty file. A released step never changes; a new one is added.

drill      one row a timed run
attempt    one row an answer; the truth everything else is derived from. `crc` is the check number of the other columns
state      derived values by name, JSON; losing them loses nothing
"""

from __future__ import annotations

APPLICATION_ID = (
    0x46726574  # "Fret" in ASCII, in the file's header: https://www.sqlite.org/pragma.html#pragma_application_id
)

STEPS: dict[str, tuple[str, ...]] = {
    "0001_tables": (
        """
        CREATE TABLE drill (
            id TEXT PRIMARY KEY NOT NULL,
            started_at INTEGER NOT NULL,
            ended_at INTEGER,
            deck TEXT NOT NULL,
            minutes INTEGER NOT NULL,
            focus TEXT NOT NULL,
            tuning TEXT NOT NULL,
            seed INTEGER
        ) STRICT
        """,
        """
        CREATE TABLE attempt (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
            drill TEXT NOT NULL REFERENCES drill (id),
            card TEXT NOT NULL,
            family TEXT NOT NULL,
            deck TEXT NOT NULL,
            kind TEXT NOT NULL CHECK (kind IN ('asked', 'shown')),
            asked_at INTEGER NOT NULL,
            answered_at INTEGER NOT NULL,
            utc_offset_min INTEGER NOT NULL,
            given TEXT NOT NULL,
            "right" INTEGER CHECK ("right" IN (0, 1)),
            mixup TEXT,
            thinking_ms INTEGER,
            target_ms INTEGER NOT NULL,
            crc INTEGER NOT NULL
        ) STRICT
        """,
        "CREATE TABLE state (name TEXT PRIMARY KEY NOT NULL, value TEXT NOT NULL) STRICT",
        f"PRAGMA application_id = {APPLICATION_ID}",
    ),
    "0002_order_and_cards": (
        "CREATE INDEX attempt_by_time ON attempt (asked_at, uid)",
        "CREATE INDEX attempt_by_card ON attempt (card, asked_at, uid)",
    ),
}
"""What each step does, by its name, in order."""
