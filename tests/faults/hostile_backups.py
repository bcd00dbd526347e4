"""Backups that a stranger made, each of which would do harm; and what becomes of a record they are restored into.

KINDS     every kind by name: what is done to a copy of a sound backup
ordeal    restores one; the program then still drills, and no answer that was acknowledged is lost
"""

from __future__ import annotations

import re
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from importlib import import_module
from pathlib import Path

from drill.practice.learner_store import LearnerStore
from drill.record import Record, backups
from drill.record.rows import ATTEMPT_COLUMNS, attempt_check_number
from tests.faults.program import DECK, Ended, answers, run
from tests.support.records import attempt, drill

import_module("drill.export.package")  # once and here, not again in every program that is begun

OWN, FOREIGN = 20, 12
"""Answers on the learner's own record, and in the stranger's backup."""
ACTS_ON_A_TERMINAL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""C0 and C1 controls but for tab and line feed (ECMA-48), marks and overrides of direction (Unicode annex 9)."""
PAINT = "\x1b]0;owned\x07\x9b2J\u202eC\u2066\u200f"
LAST_ID = 2**63 - 1

Harm = Callable[[sqlite3.Connection], object]


def sql(*statements: str) -> Harm:
    """Statements, run with the guards of SQLite off."""
    return lambda db: [db.execute(statement) for statement in statements]


def rebuilt(table: str, old: str, new: str) -> Harm:
    """A table made again with other words in its definition, its rows and indexes with it."""

    def harm(db: sqlite3.Connection) -> None:
        found = db.execute("SELECT sql FROM sqlite_master WHERE tbl_name = ? ORDER BY rowid", (table,))
        definitions = [text for (text,) in found]
        db.execute("PRAGMA legacy_alter_table = ON")
        db.execute(f"ALTER TABLE {table} RENAME TO old")
        indexes = db.execute("SELECT name FROM sqlite_master WHERE tbl_name = 'old' AND sql LIKE '%INDEX%'").fetchall()
        for (index,) in indexes:
            db.execute(f"DROP INDEX {index}")
        assert old in definitions[0]
        db.execute(definitions[0].replace(old, new))
        names = ", ".join(f'"{row[1]}"' for row in db.execute("PRAGMA table_info(old)"))
        db.execute(f"INSERT INTO {table} ({names}) SELECT {names} FROM old")
        db.execute("DROP TABLE old")
        for definition in filter(None, definitions[1:]):
            db.execute(definition)

    return harm


def unfit(column: str, value: object) -> Harm:
    """A value in an answer that its column would not take, put there behind the back of STRICT, NOT NULL and CHECK."""

    def harm(db: sqlite3.Connection) -> None:
        (strict,) = db.execute("SELECT sql FROM sqlite_master WHERE name = 'attempt'").fetchone()
        loose = re.sub(r"NOT NULL(?! UNIQUE)|CHECK \(.*?\)\)?(?=,)|STRICT|INTEGER(?! PRIMARY)|TEXT", "", strict)
        define(db, loose)
        db.execute(f'UPDATE attempt SET "{column}" = ? WHERE uid = ?', (value, attempt(3).uid))
        sealed(db)
        define(db, strict)

    return harm


def define(db: sqlite3.Connection, definition: str) -> None:
    """Another definition for the table of attempts, whose rows stay as they are."""
    db.execute("UPDATE sqlite_master SET sql = ? WHERE name = 'attempt'", (definition,))
    (version,) = db.execute("PRAGMA schema_version").fetchone()
    db.execute(f"PRAGMA schema_version = {version + 1}")


def answer(**changes: object) -> Harm:
    """An answer with other values, its check number fitting them."""

    def harm(db: sqlite3.Connection) -> None:
        for column, value in changes.items():
            db.execute(f'UPDATE attempt SET "{column}" = ? WHERE uid = ?', (value, attempt(3).uid))
        sealed(db)

    return harm


def sealed(db: sqlite3.Connection) -> None:
    """Gives every answer the check number of what it holds now: a stranger can count, too."""
    columns = ", ".join(f'"{column}"' for column in ATTEMPT_COLUMNS)
    for rowid, *values in db.execute(f"SELECT id, {columns} FROM attempt").fetchall():
        db.execute("UPDATE attempt SET crc = ? WHERE id = ?", (attempt_check_number(tuple(values)), rowid))


def state(name: str, value: str | bytes) -> Harm:
    """A derived value, in place of what was derived."""
    return lambda db: db.execute("REPLACE INTO state VALUES (?, CAST(? AS TEXT))", (name, value))


def index_on_foreign_pages(db: sqlite3.Connection) -> None:
    """Two indexes that share their pages."""
    (root,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'attempt_by_time'").fetchone()
    db.execute("UPDATE sqlite_master SET rootpage = ? WHERE name = 'attempt_by_card'", (root,))


KINDS: dict[str, Harm] = {
    "trigger": sql("CREATE TRIGGER trap AFTER INSERT ON attempt BEGIN DELETE FROM attempt; END"),
    "trigger typed Trigger": sql(
        "CREATE TRIGGER trap BEFORE INSERT ON attempt BEGIN SELECT RAISE(IGNORE); END",
        "UPDATE sqlite_master SET type = 'Trigger' WHERE name = 'trap'",
    ),
    "trigger typed table": sql(
        "CREATE TRIGGER trap BEFORE INSERT ON attempt BEGIN SELECT RAISE(IGNORE); END",
        "UPDATE sqlite_master SET type = 'table' WHERE name = 'trap'",
    ),
    "view": sql("CREATE VIEW seen AS SELECT * FROM attempt"),
    "view typed VIEW": sql(
        "CREATE VIEW seen AS SELECT * FROM attempt", "UPDATE sqlite_master SET type = 'VIEW' WHERE name = 'seen'"
    ),
    "virtual table": sql("CREATE VIRTUAL TABLE found USING fts5 (given)"),
    "another table": sql("CREATE TABLE more (id INTEGER PRIMARY KEY REFERENCES attempt (id))"),
    "one row a family": sql("CREATE UNIQUE INDEX one ON attempt (family, card, uid)"),
    "replacing rows": rebuilt(
        "attempt", "crc INTEGER NOT NULL", "crc INTEGER NOT NULL, UNIQUE (family) ON CONFLICT REPLACE"
    ),
    "a check": rebuilt("attempt", "deck TEXT NOT NULL", "deck TEXT NOT NULL CHECK (deck <> 'naturals')"),
    "a generated column": rebuilt("attempt", "crc INTEGER NOT NULL", "crc INTEGER NOT NULL, x INTEGER AS (abs(crc))"),
    "a default": rebuilt("attempt", "mixup TEXT", "mixup TEXT DEFAULT 'x'"),
    "a collation": rebuilt("attempt", "card TEXT NOT NULL", "card TEXT NOT NULL COLLATE NOCASE"),
    "not strict": rebuilt("attempt", "STRICT", ""),
    "without rowid": rebuilt("state", "STRICT", "STRICT, WITHOUT ROWID"),
    "no key of state": rebuilt("state", "PRIMARY KEY", ""),
    "a missing index": sql("DROP INDEX attempt_by_time"),
    "an index with a condition": sql(
        "DROP INDEX attempt_by_time",
        "CREATE INDEX attempt_by_time ON attempt (asked_at, uid) WHERE asked_at > 0",
    ),
    "an index of two names": index_on_foreign_pages,
    "emptied steps": sql("DELETE FROM _sqlite_migrations"),
    "a step left out": sql("DELETE FROM _sqlite_migrations WHERE name = '0001_tables'"),
    "a step taken back": sql("DELETE FROM _sqlite_migrations WHERE name = '0002_order_and_cards'"),
    "an unknown step": sql(f"INSERT INTO _sqlite_migrations VALUES (9, 'fretsure', '0099{PAINT}', '')"),
    "no steps": sql("DROP TABLE _sqlite_migrations"),
    "steps that refuse more": rebuilt("_sqlite_migrations", '"name" TEXT', '"name" TEXT CHECK ("name" < \'0006\')'),
    "steps of one a set": sql("CREATE UNIQUE INDEX one ON _sqlite_migrations (applied_at)"),
    "the last id": sql(f"UPDATE attempt SET id = {LAST_ID} WHERE uid = '{attempt(3).uid}'"),
    "an id below nought": sql(f"UPDATE attempt SET id = -7 WHERE uid = '{attempt(3).uid}'"),
    "the last id given out": sql(f"UPDATE sqlite_sequence SET seq = {LAST_ID}"),
    "a sequence of text": sql("UPDATE sqlite_sequence SET seq = 'x'"),
    "the year 12000": answer(asked_at=316_517_760_000_000, answered_at=316_517_760_001_000),
    "before the calendar": answer(asked_at=-LAST_ID),
    "the year 9999999": answer(answered_at=LAST_ID),
    "a time as text": unfit("asked_at", "yesterday"),
    "a fret as text": unfit("thinking_ms", "long"),
    "no answer": unfit("given", None),
    "bytes for text": unfit("given", b"\xff\xfe"),
    "a verdict of 7": unfit("correct", 7),
    "a kind of its own": unfit("kind", "guessed"),
    "an endless answer": answer(given="C" * 5000),
    "a clock days ahead": answer(utc_offset_min=10**8),
    "thinking backwards": answer(thinking_ms=-5),
    "no such card": answer(card="note-at-fret:string=99:fret=99"),
    "another's card": answer(family="relative-minor"),
    "shown and right": answer(kind="shown", correct=1),
    "an endless name": answer(card="x" * 10_000, family="x" * 10_000),
    "a drill that is nowhere": sql("UPDATE drill SET id = 'another'"),
    "a drill of years": sql("UPDATE drill SET minutes = 99999999"),
    "a drill before the calendar": sql(f"UPDATE drill SET started_at = {-LAST_ID}"),
    "a wrong check number": sql("UPDATE attempt SET crc = crc + 1"),
    "deep state": state("learner", "[" * 20_000),
    "deep state of a card": state("card:note-at-fret:string=6:fret=8", "[" * 20_000 + "]" * 20_000),
    "endless numbers": state("calibration", "[[Infinity, 1, 2, 3]]"),
    "state that is no text": state("learner", b"\xff\xfe"),
    "state of the future": state("position", "999999"),
    "state that lies": state("learner", '{"version": 5, "families": []}'),
    "painted answers": answer(given=PAINT, correct=0, mixup=None),
    "a painted deck": answer(deck=PAINT),
    "a painted drill": sql(f"UPDATE drill SET deck = '{PAINT}', focus = '{PAINT}'"),
}


def hostile(sound: Path, target: Path, harm: Harm) -> Path:
    """A copy of a sound backup that has come to harm."""
    target.write_bytes(sound.read_bytes())
    with closing(sqlite3.connect(target)) as db:
        db.execute("PRAGMA writable_schema = ON")
        harm(db)
        db.commit()
    return target


def backup_at(path: Path) -> Path:
    """A sound backup as a stranger might hand it over, with what was derived from it."""
    with Record.open(path.with_suffix(".lived"), time.time) as record:
        record.start_drill(drill(id="stranger"))
        for number in range(FOREIGN):
            record.append(attempt(number, drill="stranger"))
        LearnerStore.of(record)
        record.backup(path)
    return path


def ordeal(folder: Path, sound: Path, kind: str, *, thorough: bool = True) -> bool:
    """Restores a hostile backup into a record that is in use; gives whether it was refused.

    Unless it is to be thorough, a record whose very bytes are still the same is not drilled. Raises AssertionError when
    it does harm: a mistake of the program, an answer lost, a terminal painted on.
    """
    home = folder / "home"
    home.mkdir(mode=0o700)
    record = home / "record.sqlite3"
    with Record.open(record, time.time) as own:
        own.merge([drill()], (attempt(number, uid=f"own-{number:04}") for number in range(OWN)))
    untouched = record.read_bytes()
    ended = told_plainly(kind, run("restore", str(hostile(sound, home / "gift.sqlite3", KINDS[kind])), home=home))
    refused = ended.code == 65
    assert refused or ended.code == 0, f"{kind}: {ended}"
    assert not refused or "gift.sqlite3" in ended.complained, f"{kind}: no file is named: {ended}"
    if refused and not thorough:
        assert record.read_bytes() == untouched, f"{kind}: it was refused and the record was changed"
        return True
    before = uids(record)
    assert len(before) == (OWN if refused else FOREIGN), f"{kind}: {ended}"
    kept = {uid for path in (record, *backups.all_of(record)) for uid in uids(path)}
    assert {f"own-{number:04}" for number in range(OWN)} <= kept, f"{kind}: answers of one's own are lost"
    acknowledged = drilled(kind, home)
    assert len(uids(record) - before) == acknowledged > 0, f"{kind}: {acknowledged} answers were acknowledged"
    for faces in (("progress",), ("progress", "--card", attempt(3).card), ("export", str(home / "out"))):
        looked = told_plainly(kind, run(*faces, home=home))
        assert looked.code == 0, f"{kind}: {looked}"
    assert not ACTS_ON_A_TERMINAL.search((home / "out" / "report.html").read_text(encoding="utf-8")), kind
    return refused


def look_at_opened(home: Path, sound: Path, kind: str, command: tuple[str, ...]) -> None:
    """Runs a command with a hostile file as the record. Raises AssertionError unless it works or says what is wrong."""
    record = hostile(sound, home / "record.sqlite3", KINDS[kind])
    ended = told_plainly(kind, run(*command, home=home))
    assert ended.code in (0, 65, 74), f"{kind}: {ended}"
    assert ended.code == 0 or record.name in ended.complained, f"{kind}: {ended}"


def drilled(kind: str, home: Path) -> int:
    """Drills a few answers with the program; gives how many of them it acknowledged."""
    wanted = "".join(f"{accepts[0]}\n" for accepts in list(answers().values())[:5])
    ended = run("today", "--plain", "--json", "--deck", DECK, home=home, reads=wanted)
    assert ended.code == 0, f"{kind}: {ended}"
    return sum(line["type"] == "verdict" for line in ended.objects)


def told_plainly(kind: str, ended: Ended) -> Ended:
    """What the program said, once it is known to act on no terminal and to hold no traceback."""
    for said in (ended.said, ended.complained):
        painted = ACTS_ON_A_TERMINAL.search(said)
        assert painted is None, f"{kind}: {painted and said[max(0, painted.start() - 60) : painted.end()]!r}"
        assert "Traceback" not in said, f"{kind}: {said}"
    return ended


def uids(path: Path) -> set[str]:
    """The names of all answers in a record's file, read by SQLite alone."""
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as db:
        return {uid for (uid,) in db.execute("SELECT uid FROM attempt")}
