"""What the program deletes: only files of names that it makes, however the record is called."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from drill.record import Record, backups, database_files
from drill.record.names import is_backup, is_unfinished_backup, is_unfinished_record
from tests.support.records import attempt, drill, raw
from tests.support.worlds import HandClock

DAY_S = 86_400.0


def answered(path: Path, clock: HandClock) -> None:
    """A record with one more answer, whose daily backup is made, with all that this prunes and sweeps up."""
    with Record.open(path, clock.now) as record:
        number = record.attempt_count()
        record.start_drill(drill(id=f"drill-{number}"))
        record.append(attempt(number, drill=f"drill-{number}"))
        assert record.notices == []


def old_file(path: Path) -> Path:
    path.parent.mkdir(exist_ok=True)
    path.write_text("not yours")
    os.utime(path, (0, 0))
    return path


@pytest.mark.parametrize("name", ["music", "*", "[x]", "?", "a.b", "record.sqlite3"])
def test_no_file_of_another_is_swept_up(name: str, tmp_path: Path, clock: HandClock) -> None:
    strangers = [
        ".music.notes",
        ".notes",
        ".x.12.new",
        f".{name}.notes",
        f".{name}.new",
        f".{name}.12.new.txt",
        ".axb.1.new",
    ]
    kept = [old_file(tmp_path / stranger) for stranger in strangers]
    ours = [f".{name}.12.new", f".{name}.12.restored", f"..{name}.12.restored.12.new-journal", f".{name}.12.new-wal"]
    gone = [old_file(tmp_path / unfinished) for unfinished in ours]
    answered(tmp_path / name, clock)
    assert [path.name for path in kept if not path.exists()] == []
    assert [path.name for path in gone if path.exists()] == []


def test_no_file_of_another_among_the_backups_is_deleted_or_offered(tmp_path: Path, clock: HandClock) -> None:
    path = tmp_path / "record.sqlite3"
    strangers = [
        "daily-notes.sqlite3",
        "daily-2020-01-01.sqlite3.sqlite3",
        ".notes.new",
        ".mine.new.txt",
        "mine.sqlite3",
    ]
    kept = [old_file(backups.folder(path) / stranger) for stranger in strangers]
    unfinished = old_file(backups.folder(path) / ".before-migration-2020-01-01T000000Z-2.sqlite3.7.new-journal")
    for _ in range(9):
        answered(path, clock)
        clock.tick(DAY_S)
    assert [path.name for path in kept if not path.exists()] == []
    assert not unfinished.exists()
    assert [is_backup(path.name, "daily") for path in backups.all_of(path)] == [True] * 7


def test_a_backup_that_is_pruned_takes_its_side_files_along(tmp_path: Path, clock: HandClock) -> None:
    path = tmp_path / "record.sqlite3"
    answered(path, clock)
    (first,) = backups.all_of(path)
    raw(first, "PRAGMA journal_mode = WAL")
    log = old_file(first.with_name(f"{first.name}-wal"))
    for _ in range(8):
        clock.tick(DAY_S)
        answered(path, clock)
    assert not first.exists()
    assert not log.exists()


def test_a_planted_link_costs_no_file_its_log(tmp_path: Path) -> None:
    log = old_file(tmp_path / "other.sqlite3-wal")
    link = tmp_path / ".record.sqlite3.1.new"
    link.symlink_to(tmp_path / "other.sqlite3")
    database_files.private_file(link)
    assert log.exists()
    assert not link.is_symlink()


def test_the_names_the_program_makes_are_known_to_it(tmp_path: Path, clock: HandClock, kept: Path) -> None:
    """Names of a backup for each occasion, and those of the work on the way to it."""
    made = [backups.keep_replaced(kept, clock.now()), backups.keep_replaced(kept, clock.now())]
    made += [backups.before("before-migration", kept, clock.now()) for _ in range(2)]
    daily = backups.daily(kept, clock.now())
    assert daily is not None
    assert [path.name for path in (*made, daily) if not is_backup(path.name)] == []
    assert is_unfinished_backup(f".{daily.name}.77.new")
    assert is_unfinished_record(".record.sqlite3.77.new", kept)
    assert not is_unfinished_record(".recordxsqlite3.77.new", kept)
