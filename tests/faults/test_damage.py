"""A record whose bytes are not those that were written: told, left alone, replaced by the last good backup."""

from __future__ import annotations

import random
import re
import shutil
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from drill.errors import RecordDamaged
from drill.record import backups, restore
from drill.record.check import examine_fully
from tests.faults import bytes_at_fault
from tests.support.children import forked
from tests.support.records import attempt, drill, open_at, raw, without_ids


@pytest.mark.long
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


def test_a_place_that_an_index_gets_wrong_is_found_by_the_full_check(sound: Path) -> None:
    """A uid stands in the table and in each of its three indexes."""
    whole = sound.read_bytes()
    places: list[int] = []
    while (place := whole.find(b"uid-0007", places[-1] + 1 if places else 0)) >= 0:
        places.append(place)
    assert len(places) >= 4
    for place in places:
        sound.write_bytes(whole[:place] + b"uid-0O07" + whole[place + 8 :])
        with pytest.raises(RecordDamaged), open_at(sound) as record:
            examine_fully(record.path)


@pytest.mark.long(but=3)
@pytest.mark.parametrize(
    "change",
    [
        "uid = 'uid-9999'",
        "card = 'note-at-fret:string=6:fret=9'",
        "family = 'x'",
        "deck = 'x'",
        "kind = 'shown'",
        "asked_at = asked_at + 1",
        "answered_at = answered_at + 1",
        "utc_offset_min = 0",
        "given = 'D'",
        "correct = 0",
        "mixup = ''",
        "thinking_ms = NULL",
        "target_ms = target_ms * 2",
    ],
)
def test_an_answer_changed_on_the_disk_is_found_by_the_full_check(change: str, sound: Path) -> None:
    raw(sound, f"UPDATE attempt SET {change} WHERE uid = 'uid-0007'")
    with (
        open_at(sound) as record,
        pytest.raises(RecordDamaged, match=r"uid-\d+ has changed since it was written"),
    ):
        examine_fully(record.path)


@pytest.mark.parametrize("place", [18, 19])
def test_a_record_that_damage_makes_read_only_can_be_replaced(place: int, sound: Path) -> None:
    whole = sound.read_bytes()
    sound.write_bytes(whole[:place] + b"\x03" + whole[place + 1 :])
    with pytest.raises(RecordDamaged) as caught:
        open_at(sound)
    assert caught.value.backup is not None
    restore(sound, caught.value.backup, time.time())
    with open_at(sound) as record:
        record.append(attempt(100))


def test_damage_without_any_backup_says_so(sound: Path) -> None:
    shutil.rmtree(backups.folder(sound))
    sound.write_bytes(sound.read_bytes()[:5000])
    with pytest.raises(RecordDamaged, match="There is no backup of it"):
        open_at(sound)


def test_a_damaged_backup_is_not_offered(sound: Path) -> None:
    (good,) = backups.all_of(sound)
    worse = good.with_name("daily-2099-01-01.sqlite3")
    worse.write_bytes(good.read_bytes()[:9000])
    sound.write_bytes(b"")
    assert backups.all_of(sound) == (worse, good)
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
    place = whole.index(b"two-shapesasked")
    sound.write_bytes(whole[:place] + b"two-shopes" + whole[place + 10 :])
    with pytest.raises(
        RecordDamaged, match=rf"record {re.escape(str(sound))} is damaged \(the answer uid-\d+ has changed since"
    ):
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
        assert examine_fully(record.path) == 1
