"""The record under kills, locks, full disks and closed folders; `python -m tests.faults` has the long runs."""

from __future__ import annotations

import os
import random
import resource
import signal
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from sqlite_utils import Database, Migrations

from drill.errors import BadFile, CannotWrite
from drill.record import AttemptRow, backups, check, migrations, restore, schema, steps
from drill.record.check import examine_fully
from drill.record.connection import connect
from tests.faults import kills
from tests.faults.program import PATIENCE_S
from tests.support.children import forked, together, told_by_child, without_privileges
from tests.support.records import attempt, drill, make_earlier, open_at, raw


def begin_at(path: Path) -> str:
    """Opens the record, begins a drill, appends one answer; gives the number of answers."""
    with open_at(path, PATIENCE_S) as record:
        name = f"drill-{os.getpid()}"
        record.start_drill(drill(id=name))
        record.append(attempt(0, uid=f"uid-{os.getpid()}", drill=name))
        return str(record.attempt_count())


@pytest.mark.long(but=1)
@pytest.mark.parametrize("often", [2, 6])
def test_kill_9_at_random_moments_loses_no_acknowledged_answer(often: int, tmp_path: Path) -> None:
    toll = kills.strike(kills.appender, tmp_path / "record.sqlite3", often, random.Random(1))
    kills.assert_unbroken(tmp_path / "record.sqlite3")
    assert toll.kills == often
    assert toll.acknowledged >= often


@pytest.mark.long
def test_kill_9_while_restoring_leaves_one_record_or_the_other(tmp_path: Path) -> None:
    assert kills.strike_restores(tmp_path, 6, random.Random(1)).startswith(
        "6 kills while restoring, every record whole"
    )


def test_a_victim_that_lies_is_found_out(tmp_path: Path) -> None:
    def liar(pipe: int) -> None:
        os.write(pipe, b"..")
        os.read(os.pipe()[0], 1)

    with pytest.raises(AssertionError, match="kill 1: 2 answers acknowledged, 0 found"):
        kills.strike(lambda path: forked(liar), tmp_path / "record.sqlite3", 1, random.Random(1))


def test_a_record_locked_by_another_program(sound: Path) -> None:
    with open_at(sound) as record, closing(sqlite3.connect(sound, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(CannotWrite, match=r"in use by another program.*Every answer saved so far is safe"):
            record.append(attempt(100))
        assert record.attempt_count() == 50, "reading goes on"
        other.execute("ROLLBACK")
        record.append(attempt(100))
        assert examine_fully(record.path) == 51


def test_a_record_another_program_keeps_to_itself(sound: Path) -> None:
    with closing(sqlite3.connect(sound, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode = EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(CannotWrite, match="in use by another program"):
            open_at(sound)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("each", [10, 60])
def test_two_programs_write_to_one_record(each: int, tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite3"

    def write(pipe: int) -> None:
        name = str(os.getpid())
        with open_at(path, PATIENCE_S) as record:
            record.start_drill(drill(id=name))
            for number in range(each):
                record.append(attempt(number, uid=f"{name}-{number}", drill=name), {"learner": name})
                record.merge([], [attempt(number, uid=f"both-{number}", drill=name)])

    together(write, 2)
    with open_at(path) as record:
        assert examine_fully(record.path) == each + each + each
        assert len({row.drill for row in record.attempts()}) == 2


def test_a_merge_lets_others_write_while_it_reads_and_counts_its_own_alone(sound: Path) -> None:
    """It has the record to itself from its first look at it, which comes once all is read."""
    with open_at(sound) as record, open_at(sound) as other:

        def attempts() -> Iterator[AttemptRow]:
            other.append(attempt(100))
            yield attempt(100)
            yield attempt(101)

        statements: list[str] = []
        record._db.set_trace_callback(statements.append)
        assert record.merge([], attempts()) == 1
        looks = [said for said in statements if said.startswith("INSERT INTO attempt")]
        assert "BEGIN IMMEDIATE" in statements[: statements.index(looks[0])]
        assert examine_fully(record.path) == 52


def test_a_migration_has_the_record_to_itself_from_its_start(sound: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    later = Migrations("fretsure")
    later._migrations = [*migrations.migrations._migrations]

    @later(name="9999_later")
    def _look_for_others(db: Database) -> None:
        other = sqlite3.connect(sound, isolation_level=None, timeout=0)
        with closing(other), pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
        db.execute("CREATE TABLE later (id INTEGER) STRICT")

    monkeypatch.setattr(migrations, "migrations", later)
    monkeypatch.setattr(schema, "STEPS", (*schema.STEPS, "9999_later"))
    monkeypatch.setitem(steps.STEPS, "9999_later", ("CREATE TABLE later (id INTEGER) STRICT",))
    with open_at(sound) as record:
        assert examine_fully(record.path) == 50


@pytest.mark.long
def test_many_programs_begin_one_record_at_once(tmp_path: Path) -> None:
    path = tmp_path / "new" / "record.sqlite3"

    def begin(pipe: int) -> None:
        os.write(pipe, f"{begin_at(path)} ".encode())

    assert len(together(begin, 6).split()) == 6
    with open_at(path) as record:
        assert examine_fully(record.path) == 6


def test_a_record_brought_up_to_date_while_it_is_looked_at_is_not_taken_for_a_stranger(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = make_earlier(tmp_path / "old.sqlite3", 2)
    raw(old, "PRAGMA journal_mode = WAL")
    taken = schema.taken

    def overtaken(db: sqlite3.Connection) -> list[str]:
        seen = taken(db)
        monkeypatch.setattr(schema, "taken", taken)
        with closing(connect(old)) as other:
            migrations.migrate(other)
        return seen

    monkeypatch.setattr(schema, "taken", overtaken)
    with closing(connect(old, read_only=True)) as db:
        assert check._difference(db) is None
    with open_at(old) as record:
        assert examine_fully(record.path) == 3


def test_a_record_is_not_brought_up_to_date_under_a_program_that_has_it_open(tmp_path: Path) -> None:
    """An older program would find its tables gone, and call the record damaged."""
    old = make_earlier(tmp_path / "old.sqlite3", 2)
    with closing(connect(old)) as older:
        older.execute("PRAGMA journal_mode = WAL")
        assert older.execute("SELECT count(*) FROM attempt").fetchone() == (3,)
        for _ in range(2):
            with pytest.raises(CannotWrite, match="is in use by another program"):
                open_at(old, 0.1)
        assert older.execute('SELECT sum("right") FROM attempt').fetchone() == (1,)
    assert backups.all_of(old) == ()
    with open_at(old) as record:
        assert examine_fully(record.path) == 3
    assert len(backups.all_of(old)) == 1


def test_two_programs_bring_one_record_up_to_date(tmp_path: Path) -> None:
    old = make_earlier(tmp_path / "old.sqlite3", 2)

    def upgrade(pipe: int) -> None:
        with open_at(old, PATIENCE_S) as record:
            os.write(pipe, f"{record.attempt_count()} ".encode())

    assert together(upgrade, 4) == b"3 3 3 3 "


def test_a_disk_that_fills_up_and_is_emptied_again(sound: Path) -> None:
    """A limit on the size of files stands for the full disk: writing past it fails in the same place."""

    def fill() -> str:
        with open_at(sound) as record:
            grown = sound.with_name("record.sqlite3-wal").stat().st_size
            resource.setrlimit(resource.RLIMIT_FSIZE, (max(grown, 4096) + 60_000, resource.RLIM_INFINITY))
            kept = 50
            try:
                for number in range(50, 1000):
                    record.append(attempt(number))
                    kept += 1
            except CannotWrite as error:
                assert "cannot be opened or written" in str(error)
                assert "Make room on the disk" in str(error)
            assert 50 < kept < 1000
            assert record.attempt_count() == kept, "the drill can go on reading"
            resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
            record.append(attempt(kept))
            assert examine_fully(record.path) == kept + 1
        return "went on"

    assert told_by_child(fill) == "went on"


def test_no_room_for_a_new_record(tmp_path: Path) -> None:
    def begin() -> str:
        resource.setrlimit(resource.RLIMIT_FSIZE, (2048, resource.RLIM_INFINITY))
        return begin_at(tmp_path / "record.sqlite3")

    assert told_by_child(begin).startswith(f"CannotWrite: The record {tmp_path}/record.sqlite3 cannot be")
    assert list(tmp_path.iterdir()) == []


def test_no_room_for_a_backup(sound: Path, tmp_path: Path) -> None:
    def back_up() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (2048, resource.RLIM_INFINITY))
        backups.copy(sound, tmp_path / "copies" / "copy.sqlite3")

    assert told_by_child(back_up).startswith("CannotWrite: ")
    assert list((tmp_path / "copies").iterdir()) == []


def test_a_folder_that_cannot_be_written(closable: Path) -> None:
    def begin(path: Path, mode: int) -> str:
        without_privileges()
        closable.chmod(mode)
        return begin_at(path)

    path = closable / "record.sqlite3"
    assert told_by_child(lambda: begin(path, 0o500)).startswith(f"CannotWrite: The record {path} cannot be")
    assert told_by_child(lambda: begin(path, 0o700)) == "1"
    assert told_by_child(lambda: begin(path, 0o500)).startswith(f"CannotWrite: The record {path} cannot be")
    assert told_by_child(lambda: begin(path, 0o700)) == "2"


def test_a_backup_is_read_from_where_nothing_can_be_written(sound: Path, closable: Path) -> None:
    copy = closable / "copy.sqlite3"
    backups.copy(sound, copy)
    copy.chmod(0o444)

    def read() -> int:
        without_privileges()
        closable.chmod(0o500)
        return examine_fully(copy)

    assert told_by_child(read) == "50"


def test_a_path_that_leads_nowhere(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(CannotWrite, match="Not a directory"):
        open_at(tmp_path / "file" / "record.sqlite3")
    with pytest.raises(BadFile, match="is a folder"):
        open_at(tmp_path)
    with pytest.raises(CannotWrite, match="File name too long"):
        open_at(tmp_path / ("x" * 300))
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    with pytest.raises(CannotWrite, match="symbolic links"):
        open_at(tmp_path / "loop")
    with open_at(tmp_path / "record.sqlite3") as record, pytest.raises(CannotWrite, match="File name too long"):
        record.backup(tmp_path / ("y" * 300))
    with pytest.raises(CannotWrite, match="File name too long"):
        restore(tmp_path / "record.sqlite3", tmp_path / ("z" * 300), time.time())


def test_a_change_that_a_kill_cut_short_is_undone_at_the_next_start(sound: Path) -> None:
    """Such as a restored record's first start. What is half written lies beside a hot rollback journal:
    https://www.sqlite.org/lockingv3.html#hot_journals"""

    def fall_in_the_middle(pipe: int) -> None:
        with closing(connect(sound)) as db:
            db.execute("PRAGMA journal_mode = DELETE")
            db.execute("PRAGMA cache_size = 10")  # pages: the others go to the file before the transaction ends
            db.execute("BEGIN IMMEDIATE")
            db.execute("UPDATE attempt SET given = 'half written'")
            db.executemany("INSERT INTO state VALUES (?, ?)", ((f"fact:{n}", "[" + "0," * 500) for n in range(500)))
            os.kill(os.getpid(), signal.SIGKILL)

    forked(fall_in_the_middle).rest()
    assert sound.with_name(f"{sound.name}-journal").stat().st_size > 0
    with open_at(sound) as record:
        assert examine_fully(record.path) == 50
        assert not [row for row in record.attempts() if row.given == "half written"]
