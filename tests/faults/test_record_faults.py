"""The record under faults, with small counts; `python -m tests.faults` runs the long ones."""

from __future__ import annotations

import os
import random
import resource
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest

from drill.errors import BadFile, CannotWrite, RecordDamaged
from drill.record import Record, backups, restore, schema
from tests.faults import bytes_at_fault, kills
from tests.faults.children import NOBODY, forked, told_by_child, without_privileges
from tests.record.samples import attempt, drill, raw, without_ids


@pytest.fixture
def sound(tmp_path: Path) -> Path:
    """The path of a closed record with fifty attempts and a backup made when there were forty."""
    path = tmp_path / "record.sqlite3"
    with open_at(path) as record:
        record.merge([drill()], map(attempt, range(40)))
    with open_at(path) as record:
        record.merge([], map(attempt, range(50)))
    return path


@pytest.fixture
def open_to_all() -> Iterator[Path]:
    """A folder an ordinary user owns; pytest's own folders are closed to them."""
    folder = Path(tempfile.mkdtemp())
    if os.geteuid() == 0:
        os.chown(folder, NOBODY, NOBODY)
    yield folder
    folder.chmod(0o700)
    shutil.rmtree(folder)


def open_at(path: Path) -> Record:
    return Record.open(path, time.time, wait_s=0.1)


def begin_at(path: Path) -> str:
    """Opens the record, begins a drill, appends one answer; gives the number of answers."""
    with open_at(path) as record:
        name = f"drill-{os.getpid()}"
        record.start_drill(drill(id=name))
        record.append(attempt(0, uid=f"uid-{os.getpid()}", drill=name))
        return str(record.attempt_count())


def test_kill_9_at_random_moments_loses_no_acknowledged_answer(tmp_path: Path) -> None:
    toll = kills.strike(kills.appender, tmp_path / "record.sqlite3", 6, random.Random(1))
    kills.assert_unbroken(tmp_path / "record.sqlite3")
    assert toll.kills == 6
    assert toll.acknowledged >= 6


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


def test_damaged_bytes_are_told_or_harmless(sound: Path, tmp_path: Path) -> None:
    found = bytes_at_fault.tally(sound, tmp_path, 40, random.Random(3))
    assert found.total() == 120
    assert found["RecordDamaged"] > found["unharmed"]


@pytest.mark.parametrize(
    ("damage", "reason"),
    [
        (lambda whole: b"", "the file is empty"),
        (lambda whole: b"Dear diary, today I practised. " * 50, "not a database"),
        (lambda whole: whole[:10_000], "malformed"),
        (lambda whole: whole[:4096] + bytes(4096) + whole[8192:], "malformed|in database|2nd reference|btree"),
    ],
    ids=["emptied", "not a database", "cut off", "a block of zeros"],
)
def test_damage_is_told_the_file_left_alone_and_the_backup_offered(
    damage: Callable[[bytes], bytes], reason: str, sound: Path
) -> None:
    hurt = damage(sound.read_bytes())
    sound.write_bytes(hurt)
    with pytest.raises(RecordDamaged, match=reason) as caught:
        open_at(sound)
    assert str(sound) in str(caught.value)
    assert sound.read_bytes() == hurt
    backup = caught.value.backup
    assert backup is not None
    assert f'holds 40 answers: fretsure restore "{backup}"' in caught.value.fix
    kept = restore(sound, backup, time.time())
    assert kept is not None
    assert kept.read_bytes() == hurt
    with open_at(sound) as record:
        assert without_ids(record.attempts()) == [attempt(number) for number in range(40)]


def test_damage_without_any_backup_says_so(sound: Path) -> None:
    shutil.rmtree(backups.folder(sound))
    sound.write_bytes(sound.read_bytes()[:5000])
    with pytest.raises(RecordDamaged, match="There is no backup of it"):
        open_at(sound)


def test_a_damaged_backup_is_not_offered(sound: Path) -> None:
    (good,) = backups.listed(sound)
    worse = good.with_name("daily-2099-01-01.sqlite3")
    worse.write_bytes(good.read_bytes()[:9000])
    sound.write_bytes(b"")
    assert backups.listed(sound) == (worse, good)
    with pytest.raises(RecordDamaged) as caught:
        open_at(sound)
    assert caught.value.backup == good


def test_damage_met_while_drilling_is_told_with_the_backup(sound: Path) -> None:
    with open_at(sound) as record:
        raw(sound, "UPDATE attempt SET given = CAST(x'ff' AS TEXT) WHERE uid = 'uid-0007'")
        with pytest.raises(RecordDamaged, match="UTF-8") as caught:
            list(record.attempts())
    assert caught.value.backup is not None


def test_damage_is_never_copied_over_a_good_backup(sound: Path, tmp_path: Path) -> None:
    whole = sound.read_bytes()
    place = whole.index(b"uid-0007drill-1note-at-fret")
    sound.write_bytes(whole[:place] + b"uid-0O07" + whole[place + 8 :])
    with pytest.raises(RecordDamaged, match=r"index|the answer uid-0O07 is not what was written"):
        backups.copy(sound, tmp_path / "copy.sqlite3")
    assert not (tmp_path / "copy.sqlite3").exists()


def test_answers_still_in_the_write_ahead_log_are_kept_aside_with_a_damaged_file(tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite3"

    def leave_a_log(pipe: int) -> None:
        begin = open_at(path)
        begin.start_drill(drill())
        begin.append(attempt(1))
        begin.backup(tmp_path / "copy.sqlite3")

    forked(leave_a_log).rest()
    log = path.with_name("record.sqlite3-wal").read_bytes()
    path.write_bytes(b"no database any more " * 400)
    kept = restore(path, tmp_path / "copy.sqlite3", time.time())
    assert kept is not None
    assert kept.with_name(kept.name + "-wal").read_bytes() == log
    with open_at(path) as record:
        assert record.check() == 1


def test_a_record_locked_by_another_program(sound: Path) -> None:
    with open_at(sound) as record, closing(sqlite3.connect(sound, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(CannotWrite, match=r"in use by another program.*Every answer kept so far is safe"):
            record.append(attempt(100))
        assert record.attempt_count() == 50, "reading goes on"
        other.execute("ROLLBACK")
        record.append(attempt(100))
        assert record.check() == 51


def test_a_record_another_program_keeps_to_itself(sound: Path) -> None:
    with closing(sqlite3.connect(sound, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode = EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(CannotWrite, match="in use by another program"):
            open_at(sound)


def test_two_programs_append_to_one_record(tmp_path: Path) -> None:
    path = tmp_path / "record.sqlite3"

    def write(name: str, pipe: int) -> None:
        with Record.open(path, time.time) as record:
            record.start_drill(drill(id=name))
            for number in range(60):
                record.append(attempt(number, uid=f"{name}-{number}", drill=name), {"learner": name})

    for child in [forked(partial(write, name)) for name in ("left", "right")]:
        child.rest()
    with open_at(path) as record:
        assert record.check() == 120
        assert {row.drill for row in record.attempts()} == {"left", "right"}


def test_many_programs_begin_one_record_at_once(tmp_path: Path) -> None:
    path = tmp_path / "new" / "record.sqlite3"

    def begin(pipe: int) -> None:
        os.write(pipe, f"{begin_at(path)} ".encode())

    said = b"".join([child.rest() for child in [forked(begin) for _ in range(6)]])
    assert len(said.split()) == 6
    with open_at(path) as record:
        assert record.check() == 6


def test_two_programs_bring_one_record_up_to_date(sound: Path) -> None:
    raw(sound, f"DELETE FROM _sqlite_migrations WHERE name = '{schema.known_steps()[-1]}'")
    raw(sound, "DROP INDEX attempt_by_time", "DROP INDEX attempt_by_card")

    def upgrade(pipe: int) -> None:
        with Record.open(sound, time.time) as record:
            os.write(pipe, f"{record.attempt_count()} ".encode())

    said = b"".join([child.rest() for child in [forked(upgrade) for _ in range(4)]])
    assert said == b"50 50 50 50 "


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
            assert record.check() == kept + 1
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


def test_a_folder_that_cannot_be_written(open_to_all: Path) -> None:
    def begin(path: Path, mode: int) -> str:
        without_privileges()
        open_to_all.chmod(mode)
        return begin_at(path)

    path = open_to_all / "record.sqlite3"
    assert told_by_child(lambda: begin(path, 0o500)).startswith(f"CannotWrite: The record {path} cannot be")
    assert told_by_child(lambda: begin(path, 0o700)) == "1"
    assert told_by_child(lambda: begin(path, 0o500)).startswith(f"CannotWrite: The record {path} cannot be")
    assert told_by_child(lambda: begin(path, 0o700)) == "2"


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
