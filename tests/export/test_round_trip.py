"""Export, restore into an empty record, export again: the same bytes. Merging doubles nothing and loses nothing."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pydantic import ValidationError

from drill.cli.commands.record import restore_lines
from drill.errors import BadFile
from drill.export import FILES, is_backup, merge
from drill.export.model import Row, json_schema, read, written
from drill.memory import dump
from drill.practice.key_press import record_key_presses
from drill.practice.learner_store import LearnerStore
from drill.record import Record
from drill.system.environment import Environment
from tests.export.conftest import DRILL, attempt, exported, progress_of, world
from tests.support.records import HEARD, SELF_CHECKED, VERSIONS, make_earlier


@pytest.mark.long
def test_the_record_comes_back_byte_by_byte(invented: Environment, package: Path, tmp_path: Path) -> None:
    there = world(tmp_path)
    said, whose = restore_lines(there, package / "attempts.jsonl")
    count = (package / "attempts.csv").read_text().count(",asked,")
    assert whose.startswith("The record was empty and now belongs to ")
    assert said.startswith(f"Of {count} answers in ")
    assert f"{count} were new" in said
    again = exported(there, tmp_path / "again")
    assert {path.name for path in again.iterdir()} == set(FILES)
    for name in FILES:
        assert (again / name).read_bytes() == (package / name).read_bytes(), name
    assert_same(invented, there)


def assert_same(one: Environment, other: Environment) -> None:
    with Record.open(one.record_path, one.now) as a, Record.open(other.record_path, other.now) as b:
        assert [row._replace(id=0) for row in a.attempts()] == [row._replace(id=0) for row in b.attempts()]
        assert list(a.drills()) == list(b.drills())
        assert dump(LearnerStore.of(a).learner) == dump(LearnerStore.of(b).learner)


def test_key_presses_and_drills_cut_short_come_back_too(tmp_path: Path) -> None:
    here, there = world(tmp_path / "here"), world(tmp_path / "there")
    with Record.open(here.record_path, here.now) as record:
        record.start_drill(DRILL)
        record.append(attempt(-2, given="é ♭ \u2028\x1b\u202e", correct=False, mixup="one fret off", thinking_ms=None))
        record.append(attempt(-1, kind="shown", given="", correct=None, thinking_ms=None))
        record_key_presses(here, LearnerStore.of(record), [0.31, 0.29, 0.33])
        record.append_landing(HEARD)
    package = exported(here, tmp_path / "package")
    list(restore_lines(there, package / "attempts.jsonl"))
    assert_same(here, there)
    again = exported(there, tmp_path / "again")
    assert [(again / name).read_bytes() for name in FILES] == [(package / name).read_bytes() for name in FILES]


def test_merging_twice_adds_nothing_and_two_records_become_one(package: Path, tmp_path: Path) -> None:
    lines = (package / "attempts.jsonl").read_text().splitlines(keepends=True)
    drills = [line for line in lines if '"type": "drill"' in line]
    answers = [line for line in lines if '"type": "attempt"' in line]
    half, answers = 200, answers[:400]
    (tmp_path / "early.jsonl").write_text("".join(drills + answers[: half + 40]))
    (tmp_path / "late.jsonl").write_text("".join(answers[half:] + drills))  # the order of the lines is nobody's concern
    there = world(tmp_path / "there")
    with Record.open(there.record_path, there.now) as record:
        assert merge(tmp_path / "late.jsonl", record) == (len(answers) - half, len(answers) - half)
        assert merge(tmp_path / "early.jsonl", record) == (half + 40, half)
        assert merge(tmp_path / "early.jsonl", record) == (half + 40, 0)
        assert [written(row) for row in record.attempts()] == [line.rstrip() for line in answers]


@pytest.mark.long
def test_a_merge_keeps_what_the_record_has_of_its_own(package: Path, tmp_path: Path) -> None:
    there = world(tmp_path)
    with Record.open(there.record_path, there.now) as record:
        record.start_drill(DRILL)
        record.append(attempt(1, card="relative-minor:key=C", family="relative-minor", given="A minor"))
        _, added = merge(package / "attempts.jsonl", record)
        assert record.attempt_count() == added + 1
    with progress_of(there) as progress:
        assert progress.learner.cards["relative-minor:key=C"].asked > 1


@pytest.mark.long(but=1)
@pytest.mark.parametrize("version", sorted(VERSIONS.iterdir()), ids=lambda path: path.name)
def test_records_and_logs_of_every_version_come_back_whole(version: Path, tmp_path: Path) -> None:
    """Each holds the same three answers, the newest two landings as well."""
    here, there = world(tmp_path / "here"), world(tmp_path / "there")
    is_record = version.suffix == ".sql"
    knows_learners = is_record and int(version.stem) >= 3
    list(restore_lines(here, make_earlier(tmp_path / "old.sqlite3", int(version.stem)) if is_record else version))
    with Record.open(here.record_path, here.now) as record:
        assert [(row.given, row.correct, row.kind) for row in record.attempts()] == [
            ("C", True, "asked"),
            ("b flat", False, "asked"),
            ("", None, "shown"),
        ]
        if not knows_learners:
            assert {(row.how, row.learner) for row in record.attempts()} == {("typed", None)}
        assert len(list(record.landings())) == (2 if knows_learners else 0)
    package = exported(here, tmp_path / "package")
    assert '"right"' not in (package / "attempts.jsonl").read_text()
    list(restore_lines(there, package / "attempts.jsonl"))
    again = exported(there, tmp_path / "again")
    assert [(again / name).read_bytes() for name in FILES] == [(package / name).read_bytes() for name in FILES]


def test_a_backup_is_told_from_a_log(package: Path, tmp_path: Path) -> None:
    here, there = world(tmp_path / "here"), world(tmp_path / "there")
    with Record.open(here.record_path, here.now) as record:
        record.start_drill(DRILL)
        record.append(attempt(1))
        record.backup(tmp_path / "copy.sqlite3")
    assert is_backup(tmp_path / "copy.sqlite3")
    assert not is_backup(package / "attempts.jsonl")
    told, whose = restore_lines(there, tmp_path / "copy.sqlite3")
    assert told == f"Restored from {tmp_path / 'copy.sqlite3'}."
    assert whose.startswith("The record now belongs to a learner without a name (")
    assert_same(here, there)
    _, kept = restore_lines(there, tmp_path / "copy.sqlite3")
    assert kept.startswith("Your previous record is saved in ")


@pytest.mark.parametrize("text", ['title = "Flats"\n', "<!doctype html>\n", "\ufffd"])
def test_a_file_of_another_sort_is_told_as_such_and_what_to_give(text: str, tmp_path: Path) -> None:
    (tmp_path / "flats.toml").write_text(text, encoding="utf-8")
    with pytest.raises(BadFile, match=r"line 1: is no line of a log of fretsure\. Give a backup, an"):
        list(restore_lines(world(tmp_path), tmp_path / "flats.toml"))


def test_the_schema_describes_the_lines(package: Path) -> None:
    schema = json.loads((package / "attempts.schema.json").read_text())
    assert schema == json.loads(json.dumps(json_schema()))
    for raw in (package / "attempts.jsonl").read_text().splitlines():
        line = json.loads(raw)
        described = schema["$defs"][f"{line['type'].title()}Line"]
        assert set(line) == set(described["properties"]) == set(described["required"])
        assert raw == written(read(raw))


GOOD = json.loads(written(attempt(1)))
UNHEARD = json.loads(written(SELF_CHECKED))
BAD_LINES = {
    "not JSON": ("{'uid': 1}", "", "is damaged at character 2: it is not JSON."),
    "the first half of a line": (json.dumps(GOOD)[:90], "", ": is cut off in the middle."),
    "a word for a truth": (json.dumps(GOOD | {"correct": "yes"}), "correct", ": must be true or false."),
    "a number for a text": (json.dumps(GOOD | {"given": 5}), "given", ": must be a text in quotation marks."),
    "an endless text": (json.dumps(GOOD | {"given": "x" * 5000}), "given", ": must have at most 4000 characters."),
    "half a millisecond": (json.dumps(GOOD | {"asked_at": 0.5}), "asked_at", ": must be a whole number."),
    "less than no time": (json.dumps(GOOD | {"thinking_ms": -1}), "thinking_ms", ": must be at least 0."),
    "a list": ("[]", "", "object"),
    "no type": ('{"uid": "1"}', "", ": does not say of which type it is."),
    "another type": ('{"type": "loop"}', "", "is of the type “loop”; a log has “learner”, “drill”"),
    "a field too many": (json.dumps(GOOD | {"mood": "good"}), "mood", ": is a field that no line of a log has."),
    "a field missing": (json.dumps({k: v for k, v in GOOD.items() if k != "uid"}), "uid", ": is missing."),
    "a word for a number": (json.dumps(GOOD | {"asked_at": "noon"}), "asked_at", ": must be a whole number."),
    "a truth for a number": (json.dumps(GOOD | {"thinking_ms": True}), "thinking_ms", ": must be a whole number."),
    "a time beyond all calendars": (
        json.dumps(GOOD | {"asked_at": 10**18}),
        "asked_at",
        ": must be at most 32503680000000.",
    ),
    "an endless number": (
        json.dumps(GOOD)[:-1].replace('"target_ms": 1500', '"target_ms": 1e999') + "}",
        "target_ms",
        "",
    ),
    "a control character": (
        json.dumps(GOOD | {"uid": "\x1b[31m"}),
        "uid",
        ": must not have a character",
    ),
    "another kind": (json.dumps(GOOD | {"kind": "guessed"}), "kind", ": must be “asked” or “shown”."),
    "a verdict on a card that was shown": (json.dumps(GOOD | {"kind": "shown"}), "correct", "go with"),
    "no verdict on a card that was asked": (json.dumps(GOOD | {"correct": None}), "correct", "go with"),
    "a verdict by both its names": (
        json.dumps(GOOD | {"right": True}),
        "right",
        ": is a field that no line of a log has.",
    ),
    "an answer given in no way": (json.dumps(GOOD | {"how": "sung"}), "how", "typed"),
    "a learner without a name": (json.dumps(GOOD | {"learner": ""}), "learner", ": must not be empty."),
    "a time of what nobody heard": (json.dumps(UNHEARD | {"late_ms": 4}), "late_ms", "go with"),
    "nothing known of a landing": (json.dumps(UNHEARD | {"landed": None}), "landed", "go with"),
    "a landing of no drill": (json.dumps(UNHEARD | {"drill": "drill-2"}), "drill", "nowhere"),
    "a card of another family": (json.dumps(GOOD | {"family": "fret-of-note"}), "card", "family"),
    "a card that is none": (json.dumps(GOOD | {"card": "note-at-fret:string=6"}), "card", "is not a card"),
    "a card off every neck": (json.dumps(GOOD | {"card": "note-at-fret:string=99:fret=3"}), "card", "is not a card"),
    "a drill that is nowhere": (json.dumps(GOOD | {"drill": "drill-2"}), "drill", "nowhere"),
    "a line without end": (" " * 200_000, "", "longer"),
}


@pytest.mark.parametrize(("line", "field", "problem"), BAD_LINES.values(), ids=BAD_LINES)
def test_a_bad_line_is_named_and_nothing_is_merged(line: str, field: str, problem: str, tmp_path: Path) -> None:
    path, there = tmp_path / "attempts.jsonl", world(tmp_path)
    path.write_text(f"{written(DRILL)}\n\n{written(attempt(2))}\n{line}\n")
    with Record.open(there.record_path, there.now) as record:
        with pytest.raises(BadFile) as caught:
            merge(path, record)
        assert record.attempt_count() == 0
        assert list(record.drills()) == []
    assert str(caught.value).startswith(f"{path}, line 4{f', {field}' if field else ''}")
    assert problem in str(caught.value)
    assert caught.value.fix


OUTERMOST: list[tuple[Row, str, int, int]] = [
    (attempt(1), "asked_at", round(datetime(1900, 1, 1, tzinfo=UTC).timestamp() * 1000), -1),
    (attempt(1), "answered_at", round(datetime(3000, 1, 1, tzinfo=UTC).timestamp() * 1000), 1),
    (attempt(1), "thinking_ms", 2**53, 1),  # the largest that every reader of JSON keeps whole: RFC 8259, section 6
    (attempt(1), "thinking_ms", 0, -1),
    (attempt(1), "utc_offset_min", -35_791_394, -1),  # the minutes in 2**31 seconds: RFC 8536, section 3.2
    (HEARD, "late_ms", -(2**53), -1),
    (DRILL, "minutes", 0, -1),
    (DRILL, "minutes", 10_000, 1),
    (DRILL, "seed", 2**63 - 1, 1),  # SQLite's largest: https://www.sqlite.org/datatype3.html
]


@pytest.mark.parametrize(("row", "field", "last", "step"), OUTERMOST)
def test_a_log_of_today_stays_readable_up_to_its_limits(row: Row, field: str, last: int, step: int) -> None:
    line = json.loads(written(row))
    assert getattr(read(json.dumps(line | {field: last})), field) == last
    with pytest.raises(ValidationError, match=field):
        read(json.dumps(line | {field: last + step}))


@pytest.mark.parametrize(
    ("raw", "problem"), [(b"", "no drill and no answer"), (b"\xff\xfe\x00", "line 1"), (b"\n\n", "no drill")]
)
def test_files_that_hold_no_log(raw: bytes, problem: str, tmp_path: Path) -> None:
    path, there = tmp_path / "attempts.jsonl", world(tmp_path)
    path.write_bytes(raw)
    with Record.open(there.record_path, there.now) as record, pytest.raises(BadFile, match=problem):
        merge(path, record)


@pytest.mark.parametrize(
    ("name", "problem"),
    [("nowhere.jsonl", "cannot be read"), (".", "is a folder"), ("/dev/null", "a device, which can be read only once")],
)
def test_what_is_no_file(name: str, problem: str, tmp_path: Path) -> None:
    with pytest.raises(BadFile, match=problem):
        list(restore_lines(world(tmp_path / "there"), tmp_path / name))
    assert not (tmp_path / "there").exists()


def test_endless_brackets_are_a_bad_line(tmp_path: Path) -> None:
    path, there = tmp_path / "attempts.jsonl", world(tmp_path)
    path.write_text("[" * 90_000 + "\n")
    with Record.open(there.record_path, there.now) as record, pytest.raises(BadFile, match="line 1"):
        merge(path, record)


def test_cards_of_a_newer_program_are_kept(tmp_path: Path) -> None:
    path, there = tmp_path / "attempts.jsonl", world(tmp_path)
    newer = attempt(1, card="harp-pedal:key=C", family="harp-pedal")
    path.write_text(f"{written(DRILL)}\n{written(newer)}\n")
    with Record.open(there.record_path, there.now) as record:
        assert merge(path, record) == (1, 1)
        assert next(record.attempts()).card == "harp-pedal:key=C"
    with progress_of(there) as progress:
        assert progress.whole.seen == 0
