"""Who is who: whose an export is, what is merged without a question, and what is never overwritten."""

from __future__ import annotations

import io
import json
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from drill.cli.commands.record import FileRequest, ask_for_name, back_up, export_lines, restore_lines
from drill.errors import BadFile, UsageProblem
from drill.export import FILES
from drill.export.staging import called
from drill.record import LearnerRow, Record, whose
from drill.settings import Settings
from drill.system.environment import Environment
from tests.export.conftest import DRILL, attempt, exported, progress_of, world
from tests.support.records import VERSIONS


def drilled(folder: Path, *numbers: int, drill: str = "drill-1", name: str | None = None) -> Environment:
    """A world whose record holds these answers of a learner of its own."""
    here = world(folder)
    with Record.open(here.record_path, here.now) as record:
        record.start_drill(DRILL._replace(id=drill))
        for number in numbers:
            record.append(attempt(number, uid=f"{drill}-{number}", drill=drill))
        if name is not None:
            record.call(name)
    return here


def log_of(here: Environment, folder: Path) -> Path:
    exported(here, folder)
    [log] = folder.glob("attempts*.jsonl")
    return log


def owner_of(here: Environment) -> LearnerRow:
    with Record.open(here.record_path, here.now) as record:
        assert record.owner
        return record.owner


def at_a_terminal(here: Environment, typed: str) -> Environment:
    return here._replace(is_terminal=True, stdin=io.StringIO(typed), stderr=io.StringIO())


def test_an_export_says_whose_it_is_in_the_log_the_package_and_the_names_of_files(tmp_path: Path) -> None:
    here = drilled(tmp_path / "ana", 1, name="Ana Öz")
    package = exported(here, tmp_path / "export")
    identity = owner_of(here).id
    names = {path.name for path in package.iterdir()}
    assert names == {"datapackage.json"} | {
        f"{stem}-ana-öz-{identity[:8]}.{ending}"
        for stem, _, ending in (name.partition(".") for name in FILES if name != "datapackage.json")
    }
    described = json.loads((package / "datapackage.json").read_text())
    assert described["learner"] == {"id": identity, "name": "Ana Öz"}
    assert {each["path"] for each in (*described["resources"], *described["others"])} | {"datapackage.json"} == names
    first, *_ = next(package.glob("*.jsonl")).read_text().splitlines()
    assert json.loads(first) == {"type": "learner", "id": identity, "name": "Ana Öz"}


def test_of_a_folder_with_a_named_export_the_log_is_named(tmp_path: Path) -> None:
    log = log_of(drilled(tmp_path / "ana", 1, name="Ana"), tmp_path / "package")
    with pytest.raises(BadFile) as caught:
        list(restore_lines(world(tmp_path / "there"), tmp_path / "package"))
    assert caught.value.fix == f"Give a file, such as {log}."


@pytest.mark.parametrize("name", ["../../etc", "CON", "a/b\\c", "=1+1", "\x1b[2J", "\u202eana", "Юля", "x" * 80])
def test_no_name_makes_a_path_of_its_own(name: str) -> None:
    part = called(LearnerRow("1a2b3c4d5e6f", name))
    assert part.endswith("1a2b3c4d")
    assert all(ch.isalnum() or ch == "-" for ch in part)
    assert len(part.encode()) < 200


def test_a_name_is_asked_once_at_the_first_export_at_a_terminal(tmp_path: Path) -> None:
    here = at_a_terminal(drilled(tmp_path, 1), "  Ana\x1b \n")
    for _ in range(2):
        with progress_of(here) as progress:
            ask_for_name(progress, here)
    assert here.stderr.getvalue().count("What is your name?") == 1  # type: ignore[attr-defined]
    assert owner_of(here).name == "Ana"


def test_who_leaves_the_name_out_is_not_asked_again(tmp_path: Path) -> None:
    here = drilled(tmp_path, 1)
    for _ in range(2):
        here = at_a_terminal(here, "\n")
        with progress_of(here) as progress:
            ask_for_name(progress, here)
    assert here.stderr.getvalue() == ""  # type: ignore[attr-defined]
    assert owner_of(here).name == ""
    assert {path.name for path in exported(here, tmp_path / "export").iterdir()} == set(FILES)


@pytest.mark.parametrize("settings", [Settings(learner="Ana"), Settings()])
def test_nobody_is_asked_who_is_known_or_has_no_terminal(settings: Settings, tmp_path: Path) -> None:
    here = drilled(tmp_path, 1)
    here = at_a_terminal(here, "Bo\n") if settings.learner else here
    with progress_of(here, settings) as progress:
        ask_for_name(progress, here)
    assert here.stderr.getvalue() == ""  # type: ignore[attr-defined]
    assert owner_of(here).name is None


@pytest.mark.long
def test_an_empty_record_becomes_that_of_the_first_log_restored_into_it(tmp_path: Path) -> None:
    here, there = drilled(tmp_path / "here", 1, name="Ana"), world(tmp_path / "there")
    with Record.open(there.record_path, there.now) as record:
        record.identify()  # as an export of nothing makes one
    log = log_of(here, tmp_path / "package")
    list(restore_lines(there, log))
    assert owner_of(there) == owner_of(here)
    again = exported(there, tmp_path / "again")
    assert {path.name: path.read_bytes() for path in again.iterdir()} == {
        path.name: path.read_bytes() for path in (tmp_path / "package").iterdir()
    }
    with Record.open(there.record_path, there.now) as record:
        record.append(attempt(2, uid="there"))
    said, *_, copy = restore_lines(here, log_of(there, tmp_path / "back"))
    assert "1 was new" in said
    assert "before-merge-" in copy


def test_an_empty_record_that_has_a_name_takes_no_log_of_another_unasked(tmp_path: Path) -> None:
    student, teacher = drilled(tmp_path / "here", 1, name="Ben"), world(tmp_path / "there")
    log = log_of(student, tmp_path / "package")
    with Record.open(teacher.record_path, teacher.now) as record:
        record.call("Ms Adler")
    with pytest.raises(UsageProblem, match="Ben"):
        list(restore_lines(teacher, log))
    assert owner_of(teacher).name == "Ms Adler"
    with Record.open(teacher.record_path, teacher.now) as record:
        record.call("Ben")  # one learner, on a new machine
    list(restore_lines(teacher, log))
    assert owner_of(teacher) == owner_of(student)


@pytest.mark.long(but=2)
@pytest.mark.parametrize(("typed", "taken"), [("yes\n", True), ("no\n", False), ("", False)])
@pytest.mark.parametrize("sort", ["log", "backup"])
def test_a_terminal_asks_whether_this_is_you_before_an_empty_record_is_filled(
    sort: str, typed: str, taken: bool, tmp_path: Path
) -> None:
    """A teacher who has just installed the program looks at what a student sent."""
    student, teacher = drilled(tmp_path / "here", 1, name="Ben"), at_a_terminal(world(tmp_path / "there"), typed)
    given = log_of(student, tmp_path / "package") if sort == "log" else backup_of(student, tmp_path / "ben.sqlite3")
    if taken:
        *_, told = restore_lines(teacher, given)
        assert told.endswith(f"now belongs to Ben ({owner_of(student).id[:8]}).")
    else:
        with pytest.raises(UsageProblem, match=f"a {sort} of Ben|the {sort} of Ben") as caught:
            list(restore_lines(teacher, given))
        assert "Nothing was restored" in caught.value.fix
        assert "--record" in caught.value.fix
    assert teacher.stderr.getvalue().count("Is this you?") == 1  # type: ignore[attr-defined]
    with Record.open(teacher.record_path, teacher.now) as record:
        assert record.attempt_count() == taken
        assert record.owner == (owner_of(student) if taken else None)


@pytest.mark.parametrize("sort", ["log", "backup"])
def test_a_terminal_does_not_ask_who_said_it_or_keeps_a_record_beside_their_own(sort: str, tmp_path: Path) -> None:
    student = drilled(tmp_path / "here", 1, name="Ben")
    given = log_of(student, tmp_path / "package") if sort == "log" else backup_of(student, tmp_path / "ben.sqlite3")
    said, beside, named = (at_a_terminal(world(tmp_path / each), "") for each in ("said", "beside", "named"))
    list(restore_lines(said, given, mine=True))
    told = list(restore_lines(beside._replace(is_record_typed=True), given))
    assert not any("move" in line for line in told), "a record for this very log is not to be moved away"
    if sort == "log":  # one learner on a new machine, who has said so
        with Record.open(named.record_path, named.now) as record:
            record.call("Ben")
        list(restore_lines(named, given))
    for here in (said, beside, named):
        assert here.stderr.getvalue() == ""  # type: ignore[attr-defined]


def test_the_log_of_another_is_refused_and_nothing_is_changed(tmp_path: Path) -> None:
    teacher = drilled(tmp_path / "teacher", 1)
    student = drilled(tmp_path / "student", 2, drill="drill-2", name="Ben")
    log = log_of(student, tmp_path / "package")
    with pytest.raises(UsageProblem, match="Ben") as caught:
        list(restore_lines(teacher, log))
    assert all(words in caught.value.fix for words in ("--mine", "fretsure class", "--record"))
    with Record.open(teacher.record_path, teacher.now) as record:
        assert record.attempt_count() == 1


def test_a_log_without_an_identity_counts_as_anothers(tmp_path: Path) -> None:
    here = drilled(tmp_path, 1)
    with pytest.raises(UsageProblem, match="is the log of somebody"):
        list(restore_lines(here, VERSIONS / "log-1.jsonl"))
    said, *_ = restore_lines(here, VERSIONS / "log-1.jsonl", mine=True)
    assert "were new" in said


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("typed", "merged"), [("yes\n", True), ("no\n", False), ("", False)])
def test_a_terminal_asks_whether_this_is_you(typed: str, merged: bool, tmp_path: Path) -> None:
    here = at_a_terminal(drilled(tmp_path / "here", 1), typed)
    log = log_of(drilled(tmp_path / "there", 2, drill="drill-2"), tmp_path / "package")
    if merged:
        list(restore_lines(here, log))
    else:
        with pytest.raises(UsageProblem):
            list(restore_lines(here, log))
    assert "Is this you" in here.stderr.getvalue()  # type: ignore[attr-defined]
    with Record.open(here.record_path, here.now) as record:
        assert record.attempt_count() == 1 + merged


def test_of_two_identities_the_older_one_wins_on_both_machines(tmp_path: Path) -> None:
    old = drilled(tmp_path / "old", 1, name="Ana")
    new = drilled(tmp_path / "new", 2, drill="drill-2")
    older = owner_of(old)
    list(restore_lines(new, log_of(old, tmp_path / "one"), mine=True))
    assert owner_of(new) == older
    said, *_ = restore_lines(old, log_of(new, tmp_path / "two"))
    assert "1 was new" in said, "it is known by now that both are the same"
    assert owner_of(old) == older


def test_a_copy_is_taken_before_a_merge(tmp_path: Path) -> None:
    here = drilled(tmp_path / "here", 1)
    log = log_of(drilled(tmp_path / "there", 2, drill="drill-2"), tmp_path / "package")
    *_, told = restore_lines(here, log, mine=True)
    kept = Path(told.removeprefix("A copy of the record as it was before is in ").removesuffix("."))
    list(restore_lines(here, kept))
    with Record.open(here.record_path, here.now) as record:
        assert [row.uid for row in record.attempts()] == ["drill-1-1"]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("name", [None, "Ana"])
def test_exports_of_two_learners_into_one_folder_stay_apart(name: str | None, tmp_path: Path) -> None:
    one, other = (drilled(tmp_path / each, 1, drill=each, name=name) for each in ("one", "other"))
    folder = exported(one, tmp_path / "class")
    before = {path: path.read_bytes() for path in folder.iterdir()}
    for _ in range(2):
        with progress_of(other) as progress:
            first, *_ = export_lines(progress, other, folder)
    assert f"fretsure-export-{called(owner_of(other))}" in first
    assert {path: path.read_bytes() for path in before} == before
    assert len(list(folder.iterdir())) == len(before) + 1


def backup_of(here: Environment, path: Path) -> Path:
    with Record.open(here.record_path, here.now) as record:
        record.backup(path)
    return path


@pytest.mark.parametrize(("typed", "name"), [(False, "Paul"), (True, None)])
def test_a_backup_bears_the_name_in_the_settings_unless_the_record_may_be_anothers(
    typed: bool, name: str | None, tmp_path: Path
) -> None:
    here = drilled(tmp_path / "here", 1)._replace(is_record_typed=typed)
    here.config_path.write_text('learner = "Paul"\n', encoding="utf-8")
    back_up(FileRequest(str(tmp_path / "copy.sqlite3")), here)
    found = whose(tmp_path / "copy.sqlite3")
    assert found and found.owner and found.owner.name == name


def test_settings_with_a_mistake_keep_no_record_from_being_copied(tmp_path: Path) -> None:
    here = drilled(tmp_path / "here", 1)
    here.config_path.write_text("learner = 7", encoding="utf-8")
    back_up(FileRequest(str(tmp_path / "copy.sqlite3")), here)
    assert whose(tmp_path / "copy.sqlite3")


def test_the_backup_of_another_is_refused_and_nothing_is_changed(tmp_path: Path) -> None:
    teacher = drilled(tmp_path / "teacher", 1, name="Ms Adler")
    backup = backup_of(drilled(tmp_path / "student", 2, drill="drill-2", name="Ben"), tmp_path / "ben.sqlite3")
    with pytest.raises(UsageProblem, match=r"a backup of Ben .* belongs to Ms Adler") as caught:
        list(restore_lines(teacher, backup))
    assert all(words in caught.value.fix for words in ("--mine", "--record"))
    assert owner_of(teacher).name == "Ms Adler"
    assert f"The record now belongs to Ben ({owner_of_backup(backup)})." in list(
        restore_lines(teacher, backup, mine=True)
    )
    assert owner_of(teacher).name == "Ben"


def owner_of_backup(path: Path) -> str:
    found = whose(path)
    assert found and found.owner
    return found.owner.id[:8]


@pytest.mark.parametrize(("typed", "restored"), [("yes\n", True), ("no\n", False)])
def test_a_terminal_asks_before_another_takes_the_place(typed: str, restored: bool, tmp_path: Path) -> None:
    here = at_a_terminal(drilled(tmp_path / "here", 1, name="Ana"), typed)
    backup = backup_of(drilled(tmp_path / "there", 2, drill="drill-2", name="Ben"), tmp_path / "ben.sqlite3")
    if restored:
        list(restore_lines(here, backup))
    else:
        with pytest.raises(UsageProblem):
            list(restore_lines(here, backup))
    assert "is a backup of Ben" in here.stderr.getvalue()  # type: ignore[attr-defined]
    assert owner_of(here).name == ("Ben" if restored else "Ana")


def test_ones_own_backup_and_any_in_place_of_nothing_are_restored_unasked(tmp_path: Path) -> None:
    here = drilled(tmp_path / "here", 1, name="Ana")
    backup = backup_of(here, tmp_path / "ana.sqlite3")
    list(restore_lines(here, backup))
    list(restore_lines(world(tmp_path / "new"), backup))
    damaged = drilled(tmp_path / "damaged", 2, drill="drill-2", name="Ben")
    damaged.record_path.write_bytes(b"SQLite format 3\x00" + b"\xff" * 5000)
    list(restore_lines(damaged, backup))
    assert owner_of(damaged).name == "Ana", "nobody can say whose a record was that cannot be read"


@pytest.mark.parametrize("release", sorted(VERSIONS.glob("*.sql")), ids=lambda path: path.stem)
def test_whose_a_record_is_can_be_told_of_every_release(release: Path, tmp_path: Path) -> None:
    record = tmp_path / "record.sqlite3"
    with closing(sqlite3.connect(record)) as db:
        db.executescript(release.read_text(encoding="utf-8"))
    found = whose(record)
    assert found and found.drills
    assert not found.is_anothers(found)


def test_a_merge_that_changes_whose_name_stands_says_so(tmp_path: Path) -> None:
    ana = drilled(tmp_path / "ana", name="Ana")
    with Record.open(ana.record_path, ana.now) as record:
        record.append(attempt(1, uid="early", asked_at=DRILL.started_at - 9000, answered_at=DRILL.started_at - 8000))
    ben = drilled(tmp_path / "ben", 2, drill="drill-2", name="Ben")
    was, now = owner_of(ben).id[:8], owner_of(ana).id[:8]
    said = list(restore_lines(ben, log_of(ana, tmp_path / "package"), mine=True))
    told = f"The record belonged to Ben ({was}) and now belongs to Ana ({now}), whose answers are older."
    assert told in said
    assert not any("now belongs to" in line for line in restore_lines(ben, log_of(ana, tmp_path / "package")))
