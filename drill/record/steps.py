"""The tables of the record, as numbered steps from an empty file. A released step never changes; a new one is added.

drill      one row a timed run
attempt    one row an answer; the truth everything else is derived from. `crc` is the check number of the other columns
landing    one row a key of a round; the log as well
owner      the learner whose record it is: the identity, from the first answer or export on, and the name
state      derived values by name, JSON; losing them loses nothing

Nothing of ours reads the views `drills`, `answers` and `landings`: they are for whoever opens the record with SQL. A
step that changes a table they read drops them first and makes them again.
"""

from __future__ import annotations

FAMILY = "fretsure"
"""What our steps are called among all that may be noted in a file."""
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
    "0003_learners_and_landings": (
        "ALTER TABLE attempt RENAME TO earlier_attempt",
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
            correct INTEGER CHECK (correct IN (0, 1)),
            mixup TEXT,
            thinking_ms INTEGER,
            target_ms INTEGER NOT NULL,
            how TEXT NOT NULL CHECK (how IN ('typed', 'played', 'self-checked')),
            learner TEXT CHECK (learner <> ''),
            crc INTEGER NOT NULL
        ) STRICT
        """,
        """
        INSERT INTO attempt
        SELECT id, uid, drill, card, family, deck, kind, asked_at, answered_at, utc_offset_min, given, "right", mixup,
            thinking_ms, target_ms, 'typed', NULL, crc
        FROM earlier_attempt ORDER BY id
        """,
        "DELETE FROM sqlite_sequence WHERE name = 'attempt'",
        "UPDATE sqlite_sequence SET name = 'attempt' WHERE name = 'earlier_attempt'",  # no id is given out twice
        "DROP TABLE earlier_attempt",
        "CREATE INDEX attempt_by_time ON attempt (asked_at, uid)",
        "CREATE INDEX attempt_by_card ON attempt (card, asked_at, uid)",
        """
        CREATE TABLE landing (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
            drill TEXT NOT NULL REFERENCES drill (id),
            key TEXT NOT NULL CHECK (key <> ''),
            asked_at INTEGER NOT NULL,
            how TEXT NOT NULL CHECK (how IN ('heard', 'self-checked')),
            landed INTEGER CHECK (landed IN (0, 1)),
            late_ms INTEGER,
            heard TEXT CHECK (heard <> ''),
            path_ms INTEGER CHECK (path_ms >= 0),
            learner TEXT CHECK (learner <> ''),
            crc INTEGER NOT NULL,
            CHECK (how = 'heard' OR (landed IS NOT NULL AND late_ms IS NULL AND heard IS NULL AND path_ms IS NULL))
        ) STRICT
        """,
        "CREATE INDEX landing_by_time ON landing (asked_at, uid)",
        """
        CREATE TABLE owner (
            single INTEGER PRIMARY KEY CHECK (single = 1),
            learner TEXT NOT NULL CHECK (learner <> '')
        ) STRICT
        """,
    ),
    "0004_names": ("ALTER TABLE owner ADD COLUMN name TEXT",),
    "0005_views": (
        """
        CREATE VIEW drills AS SELECT
            id,
            strftime('%Y-%m-%dT%H:%M:%fZ', started_at / 1000.0, 'unixepoch') AS started_at,
            strftime('%Y-%m-%dT%H:%M:%fZ', ended_at / 1000.0, 'unixepoch') AS ended_at,
            deck, minutes, focus, tuning
        FROM drill ORDER BY drill.started_at, id
        """,
        """
        CREATE VIEW answers AS SELECT
            uid, drill, card, family, deck, kind,
            strftime('%Y-%m-%dT%H:%M:%fZ', asked_at / 1000.0, 'unixepoch') AS asked_at,
            strftime('%Y-%m-%dT%H:%M:%fZ', answered_at / 1000.0, 'unixepoch') AS answered_at,
            strftime('%Y-%m-%d', asked_at / 1000.0 + 60 * utc_offset_min, 'unixepoch') AS day,
            given, correct, mixup, thinking_ms, target_ms, how, learner
        FROM attempt ORDER BY attempt.asked_at, uid
        """,
        """
        CREATE VIEW landings AS SELECT
            uid, drill, key,
            strftime('%Y-%m-%dT%H:%M:%fZ', asked_at / 1000.0, 'unixepoch') AS asked_at,
            how, landed, late_ms, heard, path_ms, learner
        FROM landing ORDER BY landing.asked_at, uid
        """,
    ),
}
"""What each step does, by its name, in order."""
