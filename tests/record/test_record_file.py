"""The file of the record: made for its owner, brought up to date, backed up, replaced; strangers are left alone."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
import sqlite_utils
from sqlite_utils import Database, Migrations, plugins

from drill.errors import BadFile, CannotWrite, RecordDamaged
from drill.record import AttemptRow, LandingRow, Record, backups, migrations, restore, schema
from drill.record.check import examine_fully
from drill.record.connection import connect, immediate
from drill.system.environment import Environment
from tests.support.records import HEARD, VERSIONS, attempt, drill, make_earlier, raw, without_ids
from tests.support.worlds import HandClock

Reopen = Callable[[], Record]
DAY_S = 86_400.0
LEVELS = sorted(VERSIONS.glob("*.sql"), key=lambda path: int(path.stem))


def mode(path: Path) -> int:
    return path.stat().st_mode & 0o777


def names(record: Path) -> list[str]:
    return sorted(path.name for path in backups.all_of(record))


def shape(record: Record) -> list[str]:
    """The statements that made the tables and indexes of the record's file."""
    return sorted(sql for (sql,) in record._db.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL"))


def pragma(record: Record, name: str) -> object:
    return record._db.execute(f"PRAGMA {name}").fetchone()[0]


def test_everything_is_for_its_owner_only(record: Record, tmp_path: Path) -> None:
    record.append(attempt(1))
    record.end_drill("drill-1")
    files = [path for path in (tmp_path / "data").rglob("*") if path.is_file()]
    folders = [tmp_path / "data", backups.folder(record.path)]
    assert {path.name for path in files} >= {"record.sqlite3", "record.sqlite3-wal", "daily-2026-01-05.sqlite3"}
    assert {mode(path) for path in files} == {0o600}
    assert {mode(path) for path in folders} == {0o700}


def test_the_record_is_durable_strict_and_signed(record: Record) -> None:
    """synchronous FULL is 2: https://www.sqlite.org/pragma.html#pragma_synchronous"""
    assert [pragma(record, name) for name in ("journal_mode", "synchronous", "foreign_keys")] == ["wal", 2, 1]
    assert [pragma(record, name) for name in ("cell_size_check", "trusted_schema")] == [1, 0]
    assert all(Database(record._db).table(name).strict for name in ("drill", "attempt", "state"))
    assert record.path.read_bytes()[68:72] == b"Fret", "bytes 68-71 hold the application's id in SQLite's file format"
    with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
        record.append(attempt(1, drill="nowhere"))
    with pytest.raises(sqlite3.IntegrityError, match="cannot store TEXT"):
        record.append(attempt(1, target_ms="soon"))


def test_a_plugin_for_sqlite_utils_gets_no_hand_on_the_record(tmp_path: Path, clock: HandClock) -> None:
    """Somebody has installed one for work of another kind: https://sqlite-utils.datasette.io/en/stable/plugins.html"""
    seen: list[object] = []

    class Curious:
        @sqlite_utils.hookimpl
        def prepare_connection(self, conn: object) -> None:
            seen.append(conn)

    plugin = Curious()
    plugins.pm.register(plugin)
    try:
        Record.open(tmp_path / "record.sqlite3", clock.now).close()
        Database(memory=True).close()
    finally:
        plugins.pm.unregister(plugin)
    assert len(seen) == 1, "the one beside the record"


def test_a_path_with_signs_that_mean_something_to_urls(tmp_path: Path, clock: HandClock) -> None:
    path = tmp_path / "a b#c?d%20e" / "möll.db"
    with Record.open(path, clock.now) as record:
        record.start_drill(drill())
        record.append(attempt(1))
    with Record.open(path, clock.now) as record:
        assert record.attempt_count() == 1
    assert path.is_file()


def test_a_file_system_without_links(tmp_path: Path, clock: HandClock, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(self: Path, target: Path) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    with Record.open(tmp_path / "record.sqlite3", clock.now):
        pass
    assert [path.name for path in tmp_path.iterdir()] == ["record.sqlite3"]


def test_the_names_of_the_steps_are_those_of_the_migrations() -> None:
    assert [step.name for step in migrations.migrations._migrations] == list(schema.STEPS)


def test_every_released_version_is_kept_as_an_example() -> None:
    assert [path.stem for path in LEVELS] == [str(number + 1) for number in range(len(schema.STEPS))]


@pytest.mark.parametrize("version", LEVELS, ids=lambda path: path.stem)
def test_a_record_of_every_version_is_brought_up_to_date(
    version: Path, record: Record, fake_environment: Environment, tmp_path: Path
) -> None:
    old = make_earlier(tmp_path / "old.sqlite3", int(version.stem))
    is_newest, landings = version == LEVELS[-1], ["landing-1", "landing-2"] if int(version.stem) >= 3 else []
    is_old = not is_newest
    with Record.open(old, fake_environment.now) as opened:
        assert [row.given for row in opened.attempts()] == ["C", "b flat", ""]
        assert without_ids(opened.attempts())[0] == attempt(1, learner="ana" if int(version.stem) >= 3 else None)
        assert opened.states() == {"learner": '{"seen": 3}'}
        assert examine_fully(opened.path) == 3
        assert [landing.uid for landing in opened.landings()] == landings
        assert opened.append(attempt(9)) == 4
        assert shape(opened) == shape(record)
        assert ["updated for this version" in notice for notice in opened.notices] == [True] * is_old
    backup = backups.folder(old) / "before-migration-2026-01-05T080000Z.sqlite3"
    assert backup.exists() == is_old
    if is_old:
        with closing(sqlite3.connect(backup)) as connection:
            steps = [name for (name,) in connection.execute("SELECT name FROM _sqlite_migrations ORDER BY id")]
        assert steps == list(schema.STEPS[: int(version.stem)])


def test_a_migration_that_fails_changes_nothing(kept: Path, reopen: Reopen, monkeypatch: pytest.MonkeyPatch) -> None:
    before = kept.read_bytes()
    broken = Migrations("fretsure")
    broken._migrations = [*migrations.migrations._migrations]

    @broken(name="9999_broken")
    def _broken(db: Database) -> None:
        db.execute("DROP TABLE state")
        db.execute("SELECT * FROM nowhere")

    monkeypatch.setattr(migrations, "migrations", broken)
    monkeypatch.setattr(schema, "STEPS", (*schema.STEPS, "9999_broken"))
    with pytest.raises(RecordDamaged, match="nowhere"):
        reopen()
    assert kept.read_bytes() == before
    assert [path.name for path in backups.all_of(kept)] == ["before-migration-2026-01-05T080000Z.sqlite3"]


def test_a_record_of_a_newer_program_is_refused_and_left_alone(kept: Path, reopen: Reopen) -> None:
    raw(kept, "INSERT INTO _sqlite_migrations (migration_set, name) VALUES ('fretsure', '0099_from_tomorrow')")
    before = kept.read_bytes()
    with pytest.raises(BadFile, match=r"record\.sqlite3: was written by a newer fretsure .*0099_from_tomorrow.*newest"):
        reopen()
    assert kept.read_bytes() == before


def test_strangers_are_refused_and_left_alone(tmp_path: Path, clock: HandClock, kept: Path, reopen: Reopen) -> None:
    stranger = tmp_path / "shopping.sqlite3"
    raw(stranger, "CREATE TABLE shopping (item TEXT)")
    before = stranger.read_bytes()
    with pytest.raises(BadFile, match=r"shopping\.sqlite3: is a database, but not a record of drills.*--record"):
        Record.open(stranger, clock.now)
    assert stranger.read_bytes() == before
    with pytest.raises(BadFile, match="is a folder"):
        Record.open(tmp_path, clock.now)
    raw(kept, "CREATE TRIGGER trap AFTER INSERT ON attempt BEGIN DELETE FROM attempt; END")
    with pytest.raises(RecordDamaged, match="holds the trigger “trap”, which fretsure did not make"):
        reopen()
    with pytest.raises(BadFile, match=r"not a valid backup .*trigger “trap”"):
        restore(tmp_path / "new.sqlite3", kept, clock.now())


def test_a_backup_a_day_is_made_by_itself_and_seven_are_kept(kept: Path, reopen: Reopen, clock: HandClock) -> None:
    for day in range(9):
        with reopen() as record:
            record.append(attempt(100 + day))
            record.end_drill("drill-1")
            record.append(attempt(200 + day))
            record.end_drill("drill-1")
            assert record.notices == []
        clock.tick(DAY_S)
    assert names(kept) == [f"daily-2026-01-{day:02}.sqlite3" for day in range(7, 14)]
    with Record.open(backups.all_of(kept)[0], clock.now) as newest:
        assert newest.attempt_count() == 20 + 2 * 8 + 1, "made when the day's first drill ended"


def test_opening_and_reading_makes_no_backup(kept: Path, reopen: Reopen) -> None:
    with reopen() as record:
        assert record.attempt_count() == 20
    assert names(kept) == []


def test_a_drill_cut_short_is_backed_up_when_the_record_is_closed(record: Record) -> None:
    record.append(attempt(1))
    record.close()
    assert names(record.path) == ["daily-2026-01-05.sqlite3"]


@pytest.mark.parametrize("answers", [[attempt(1)], [HEARD]], ids=["answers", "landings"])
def test_what_was_merged_is_backed_up_when_the_record_is_closed(
    record: Record, answers: list[AttemptRow | LandingRow]
) -> None:
    record.merge([], answers)
    record.close()
    assert names(record.path) == ["daily-2026-01-05.sqlite3"]


def test_a_clock_set_back_loses_no_backup_of_today(kept: Path, reopen: Reopen, clock: HandClock) -> None:
    clock.jump(365 * DAY_S)
    for day in range(8):
        with reopen() as record:
            record.append(attempt(100 + day))
        clock.tick(DAY_S)
    clock.jump(-373 * DAY_S)
    with reopen() as record:
        record.append(attempt(200))
    assert "daily-2026-01-05.sqlite3" in names(kept)
    assert len(names(kept)) == 7


def test_what_a_killed_program_left_unfinished_is_swept_up(kept: Path, reopen: Reopen) -> None:
    backups.folder(kept).mkdir()
    old, fresh = backups.folder(kept) / ".daily-2026-01-01.sqlite3.77.new", kept.with_name(f".{kept.name}.78.new")
    for path in (old, fresh):
        path.touch()
    os.utime(old, (0, 0))
    with reopen() as record:
        record.append(attempt(100))
    assert not old.exists()
    assert fresh.exists(), "another program may be at work on it"


def test_a_backup_that_cannot_be_made_spoils_no_drill(kept: Path, reopen: Reopen) -> None:
    backups.folder(kept).write_text("in the way")
    with reopen() as record:
        record.append(attempt(100))
        record.end_drill("drill-1")
        assert "Today's backup could not be made" in record.notices[0]
        assert record.attempt_count() == 21
    assert len(record.notices) == 1, "closing does not try again"


def test_a_backup_is_taken_while_another_program_writes(record: Record, tmp_path: Path, clock: HandClock) -> None:
    record.append(attempt(1))
    with closing(connect(record.path)) as other, immediate(other):
        other.execute("DELETE FROM attempt")
        record.backup(tmp_path / "mine" / "copy.sqlite3")
    with Record.open(tmp_path / "mine" / "copy.sqlite3", clock.now) as copy:
        assert without_ids(copy.attempts()) == [attempt(1)]
    assert mode(tmp_path / "mine" / "copy.sqlite3") == 0o600


def test_a_backup_overwrites_no_file(record: Record, tmp_path: Path) -> None:
    diary = tmp_path / "diary.txt"
    diary.write_text("dear diary")
    with pytest.raises(CannotWrite, match=r"diary\.txt already exists"):
        record.backup(diary)
    assert diary.read_text() == "dear diary"


def test_restoring_keeps_what_it_replaces(kept: Path, reopen: Reopen, tmp_path: Path, clock: HandClock) -> None:
    copy = tmp_path / "copy.sqlite3"
    with reopen() as record:
        record.backup(copy)
        record.append(attempt(100))
    replaced = restore(kept, copy, clock.now())
    assert replaced is not None
    with reopen() as record:
        assert record.attempt_count() == 20
    restore(kept, replaced, clock.now())
    with reopen() as record:
        assert record.attempt_count() == 21
    assert len([name for name in names(kept) if name.startswith("replaced")]) == 2
    assert mode(kept) == 0o600


def test_a_log_left_beside_the_replaced_record_is_not_read_into_the_new_one(
    record: Record, tmp_path: Path, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite clears it away itself as far as we know; were it left, its pages would overwrite the new record's."""
    record.backup(tmp_path / "copy.sqlite3")
    for number in range(50):
        record.append(attempt(number))
    monkeypatch.setattr("drill.record.placing._locked", lambda path, copied, wait_s: None)
    kept = restore(record.path, tmp_path / "copy.sqlite3", clock.now())
    with Record.open(record.path, clock.now) as restored:
        assert examine_fully(restored.path) == 0
    assert kept is not None
    with Record.open(kept, clock.now) as replaced:
        assert examine_fully(replaced.path) == 50


def test_restoring_where_no_record_is(kept: Path, tmp_path: Path, clock: HandClock) -> None:
    elsewhere = tmp_path / "new machine" / "record.sqlite3"
    assert restore(elsewhere, kept, clock.now()) is None
    with Record.open(elsewhere, clock.now) as record:
        assert record.attempt_count() == 20


def test_a_source_that_is_no_sound_record_replaces_nothing(kept: Path, tmp_path: Path, clock: HandClock) -> None:
    before = kept.read_bytes()
    text = tmp_path / "notes.txt"
    text.write_text("no database at all, but long enough to have a header of a hundred bytes, " * 3)
    cut = tmp_path / "cut.sqlite3"
    cut.write_bytes(before[:9000])
    for source, problem in (
        (text, "not a valid backup"),
        (cut, "not a valid backup"),
        (tmp_path / "none", "no such file"),
    ):
        with pytest.raises(BadFile, match=problem) as caught:
            restore(kept, source, clock.now())
        assert caught.value.file == str(source)
    assert kept.read_bytes() == before
    assert sorted(path.name for path in kept.parent.iterdir()) == ["record.sqlite3"]


def test_what_an_earlier_restore_left_behind_is_not_taken_for_the_backup(
    kept: Path, reopen: Reopen, tmp_path: Path, clock: HandClock
) -> None:
    copy = tmp_path / "copy.sqlite3"
    with reopen() as record:
        record.backup(copy)
        record.append(attempt(100))
    leftover = kept.with_name(f".{kept.name}.{os.getpid()}.restored")
    leftover.write_bytes(kept.read_bytes())
    restore(kept, copy, clock.now())
    with reopen() as record:
        assert record.attempt_count() == 20


def test_a_restore_that_is_stopped_leaves_nothing_behind(kept: Path, tmp_path: Path, clock: HandClock) -> None:
    def refuse(copy: Path) -> None:
        with Record.open(copy, clock.now):
            raise CannotWrite("no")

    before = kept.read_bytes()
    with pytest.raises(CannotWrite, match="no"):
        restore(kept, kept, clock.now(), vet=refuse)
    assert not [path for path in kept.parent.iterdir() if ".restored" in path.name]
    assert kept.read_bytes() == before


def test_a_link_that_leads_nowhere_is_not_followed(
    kept: Path, reopen: Reopen, tmp_path: Path, clock: HandClock
) -> None:
    backups.folder(kept).mkdir()
    planted = tmp_path / "planted"
    for name in ("replaced-2026-01-05T080000Z", "before-migration-2026-01-05T080000Z", "daily-2026-01-05"):
        (backups.folder(kept) / f"{name}.sqlite3").symlink_to(planted)
    made = (backups.keep_replaced(kept, clock.now()), backups.before("before-migration", kept, clock.now()))
    assert [path.name for path in made] == [
        "replaced-2026-01-05T080000Z-2.sqlite3",
        "before-migration-2026-01-05T080000Z-2.sqlite3",
    ]
    with reopen() as record:
        record.append(attempt(100))
        record.end_drill("drill-1")
    assert not planted.exists()


def test_restoring_is_refused_while_the_record_is_open_elsewhere(
    record: Record, tmp_path: Path, clock: HandClock
) -> None:
    record.append(attempt(1))
    record.backup(tmp_path / "copy.sqlite3")
    record.append(attempt(2))
    with pytest.raises(CannotWrite, match="in use by another program"):
        restore(record.path, tmp_path / "copy.sqlite3", clock.now(), wait_s=0.1)
    assert not [name for name in names(record.path) if name.startswith("replaced")]
    record.append(attempt(3))
    assert examine_fully(record.path) == 3


def test_a_record_that_went_missing_is_told(kept: Path, reopen: Reopen) -> None:
    with reopen() as record:
        record.append(attempt(100))
    kept.unlink()
    with reopen() as record:
        assert record.attempt_count() == 0
        assert "Backups are in" in record.notices[0]


def test_a_list_of_steps_that_no_fretsure_wrote_is_refused(kept: Path, reopen: Reopen) -> None:
    """The first step noted after the others: nobody can tell in which order they were taken."""
    raw(kept, "UPDATE _sqlite_migrations SET id = 99 WHERE id = (SELECT min(id) FROM _sqlite_migrations)")
    with pytest.raises(RecordDamaged, match="its list of steps is not as fretsure writes it"):
        reopen()
