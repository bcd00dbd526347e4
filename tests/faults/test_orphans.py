"""Side files of a record that is gone: they never enter another file, and nothing that is in them is lost."""

from __future__ import annotations

import os
import random
import shutil
import sqlite3
import time
from contextlib import closing
from pathlib import Path

import pytest

from drill.errors import CannotWrite, RecordDamaged
from drill.record import Record, backups, database_files, opening, placing, restore
from tests.faults import orphans
from tests.faults.drills import Driller
from tests.faults.program import run
from tests.support.children import forked, together, told_by_child
from tests.support.records import attempt, drill, open_at


@pytest.fixture
def orphaned(tmp_path: Path) -> Path:
    """Where a record lay until it was moved, just after the kill of a drill of at least twelve answers."""
    path = tmp_path / "record.sqlite3"
    victim = orphans.endless_drill(path)
    while len(victim.heard(10.0)) and placing._filled_log(path)[0].stat().st_size < 12 * 4096:
        pass
    victim.kill()
    victim.rest()
    path.rename(tmp_path / "moved.sqlite3")
    return path


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A backup of eight answers."""
    orphans.backup_of(8, tmp_path / "old.sqlite3")
    return tmp_path / "old.sqlite3"


def count(path: Path) -> str:
    """The answers that a process of its own finds."""
    return told_by_child(lambda: orphans.counted(path))


@pytest.mark.long
def test_orphaned_logs_of_killed_drills_enter_no_other_file(tmp_path: Path) -> None:
    told = orphans.strike(tmp_path, 6, random.Random(1))
    assert told.startswith("6 rounds, every file placed whole, no answer astray: 1 moved, then begin; ")


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("command", "answers"), [("restore", 8), ("stats", 0)])
def test_the_program_tells_where_the_log_of_a_moved_record_is_kept(
    command: str, answers: int, old: Path, tmp_path: Path
) -> None:
    path = tmp_path / "record.sqlite3"
    victim = Driller(path)
    victim.drill(3)
    victim.kill()
    victim.rest()
    path.rename(tmp_path / "moved.sqlite3")
    ended = run(*(["restore", str(old)] if command == "restore" else ["progress"]), home=tmp_path)
    assert ended.code == 0, ended.complained
    (log,) = backups.folder(path).glob("left-over-*-wal")
    told = " ".join((ended.said + ended.complained).split())
    assert f"Beside {path} were side files of another record" in told
    assert log.name in told
    assert count(path) == str(answers)
    shutil.move(log, tmp_path / "moved.sqlite3-wal")
    assert int(count(tmp_path / "moved.sqlite3")) >= 3, "as the notice says"


def test_a_log_is_set_aside_before_the_new_file_has_its_name(
    orphaned: Path, old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A program that falls in between leaves no record at all, but no mixture either."""

    def fall(temporary: Path, target: Path) -> bool:
        raise KeyboardInterrupt

    log = placing._filled_log(orphaned)[0].read_bytes()
    monkeypatch.setattr(database_files, "put_if_free", fall)
    with pytest.raises(KeyboardInterrupt):
        placing.place(old, orphaned, time.time(), 0.1, [])
    assert not database_files.existing_side_files(orphaned)
    (kept,) = backups.folder(orphaned).glob("left-over-*-wal")
    assert kept.read_bytes() == log


def test_a_record_overwritten_by_hand_takes_no_old_log_in(orphaned: Path, old: Path) -> None:
    shutil.copy2(old, orphaned)
    with open_at(orphaned) as record:
        assert [notice for notice in record.notices if "overwritten" in notice and "left-over" in notice]
    assert count(orphaned) == "8"


@pytest.mark.parametrize("suffix", ["-wal", "-shm", "-journal"])
def test_any_side_file_alone_is_kept(suffix: str, tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite3"
    path.with_name(path.name + suffix).write_bytes(b"what was left")
    with open_at(path) as record:
        assert len(record.notices) == 1
    (kept,) = backups.folder(path).glob(f"left-over-*{suffix}")
    assert kept.read_bytes() == b"what was left"
    with open_at(path) as record:
        assert record.notices == []


def answers_seen(path: Path) -> int:
    """The answers at this moment of a record to which another program may be adding."""
    with Record.open(path, time.time) as record:
        return record.attempt_count()


def test_a_log_that_a_running_drill_needs_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite3"
    victim = orphans.endless_drill(path)
    assert victim.heard(10.0)
    assert int(told_by_child(lambda: answers_seen(path))) > 0
    assert not list(backups.folder(path).glob("left-over-*"))
    victim.kill()
    victim.rest()


@pytest.mark.long
def test_many_programs_begin_where_an_orphan_lies(orphaned: Path) -> None:
    """None takes the log of the record that another has just begun for a stray one."""

    def begin(pipe: int) -> None:
        with Record.open(orphaned, time.time) as record:
            name = str(os.getpid())
            record.start_drill(drill(id=name))
            for number in range(5):
                record.append(attempt(number, uid=f"{name}-{number}", drill=name))
            os.write(pipe, b".")

    assert together(begin, 6) == b"......"
    assert count(orphaned) == "30"
    assert len(list(backups.folder(orphaned).glob("left-over-*-wal"))) == 1


def test_a_backup_takes_no_old_log_in(orphaned: Path, tmp_path: Path) -> None:
    """Its name may lie beside a log of its own, as when an earlier backup of that name was drilled with and removed."""
    log = placing._filled_log(orphaned)[0].rename(tmp_path / "copy.sqlite3-wal")
    with open_at(tmp_path / "new" / "record.sqlite3") as record:
        record.merge([drill()], [attempt(1)])
        with pytest.raises(CannotWrite, match=r"copy\.sqlite3-wal already exists and was left alone"):
            record.backup(tmp_path / "copy.sqlite3")
        today = backups.folder(record.path) / time.strftime("daily-%Y-%m-%d.sqlite3-wal", time.gmtime())
        today.parent.mkdir()
        log.rename(today)
    (daily,) = backups.all_of(record.path)
    assert count(daily) == "1"
    assert list(backups.folder(record.path).glob("left-over-*-wal"))


def test_what_was_placed_is_read_before_it_is_called_restored(
    orphaned: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As if a log had got beside the new file after all; of a few answers only, such a log can cover them all."""
    orphans.backup_of(500, tmp_path / "many.sqlite3")
    monkeypatch.setattr(placing, "_orphans", lambda path: ())
    with pytest.raises(RecordDamaged):
        restore(orphaned, tmp_path / "many.sqlite3", time.time())


def test_fewer_answers_than_the_backup_holds_are_told(sound: Path, old: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(opening, "examine_fully", lambda path: 7)
    with pytest.raises(RecordDamaged, match=r"it holds 7 of the 8 answers of the backup.*before is in .*replaced-"):
        restore(sound, old, time.time())


def test_an_answer_given_while_the_record_was_copied_aside_is_not_lost(
    sound: Path, old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other program opens the record, answers and ends between the copy and the lock: restoring is refused."""
    keep_replaced = backups.keep_replaced

    def slowly(record: Path, now_s: float) -> Path:
        kept = keep_replaced(record, now_s)
        assert told_by_child(lambda: one_more(sound)) == "51"
        return kept

    monkeypatch.setattr(backups, "keep_replaced", slowly)
    with pytest.raises(CannotWrite, match="in use by another program"):
        restore(sound, old, time.time(), wait_s=0.1)
    assert count(sound) == "51"
    assert not list(backups.folder(sound).glob("replaced-*"))


def test_no_program_gets_at_the_record_while_it_is_replaced(
    sound: Path, old: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It would write its answers into the file that is about to be replaced."""
    put_in_place, said = database_files.put_in_place, []

    def watched(temporary: Path, target: Path) -> None:
        if target == sound:
            said.append(told_by_child(lambda: one_more(sound)))
        put_in_place(temporary, target)

    monkeypatch.setattr(database_files, "put_in_place", watched)
    restore(sound, old, time.time())
    assert ["in use by another program" in words for words in said] == [True]
    assert count(sound) == "8"


def test_a_program_that_had_just_found_the_old_file_writes_nothing_beside_the_new_one(sound: Path, old: Path) -> None:
    """SQLite refuses to write to a file that has lost its name: SQLITE_READONLY_DBMOVED."""
    with closing(sqlite3.connect(sound, isolation_level=None)) as late:

        def replace(pipe: int) -> None:
            restore(sound, old, time.time())

        forked(replace).rest()
        with pytest.raises(sqlite3.OperationalError, match="readonly"):
            late.execute("PRAGMA journal_mode = WAL")
    assert count(sound) == "8"


def test_the_advice_names_every_file_to_move(sound: Path) -> None:
    shutil.rmtree(backups.folder(sound))
    sound.write_bytes(b"")
    with pytest.raises(RecordDamaged) as caught:
        open_at(sound)
    for suffix in ("", "-wal", "-shm"):
        assert f" {sound.name}{suffix}" in caught.value.fix


def test_an_index_that_lacks_an_answer_is_found_at_the_start_of_a_small_record(sound: Path) -> None:
    """`quick_check` reads no index against its table: https://www.sqlite.org/pragma.html#pragma_quick_check"""
    whole = sound.read_bytes()
    with closing(sqlite3.connect(sound)) as db:
        (page,) = db.execute("SELECT rootpage FROM sqlite_master WHERE name = 'attempt_by_card'").fetchone()
        (size,) = db.execute("PRAGMA page_size").fetchone()
    index = whole[(page - 1) * size : page * size]
    assert index.count(b"uid-0007") == 1
    sound.write_bytes(whole.replace(index, index.replace(b"uid-0007", b"uid-0006")))
    with pytest.raises(RecordDamaged, match="attempt_by_card"):
        open_at(sound)


def one_more(path: Path) -> int:
    """Appends an answer as another program would; gives how many there are."""
    with open_at(path) as record:
        record.start_drill(drill(id="late"))
        record.append(attempt(999, drill="late"))
        return record.attempt_count()
