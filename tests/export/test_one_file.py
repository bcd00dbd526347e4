"""An export as one file to mail: what is in it, who can read it, and what it refuses; a name given, and given anew."""

from __future__ import annotations

import io
import shlex
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from drill.cli.commands.record import ExportRequest, export_record, restore_lines
from drill.errors import BadFile, CannotWrite, UsageProblem
from drill.export import FILES, one_file
from drill.export.one_file import export_one
from drill.record import Record
from drill.settings import Settings, save
from drill.system.environment import Environment
from tests.export.conftest import exported, progress_of, world
from tests.export.test_identity import at_a_terminal, drilled, owner_of

NOTHING = ExportRequest()


def mailed(here: Environment, file: Path) -> Path:
    """The export of this world as one file."""
    with progress_of(here) as progress:
        export_one(progress, file)
    return file


def test_it_holds_the_whole_export_in_a_folder_of_the_learners_name(tmp_path: Path) -> None:
    here = drilled(tmp_path, 1, 2, name="Ana")
    folder = f"fretsure-export-ana-{owner_of(here).id[:8]}"
    package = exported(here, tmp_path / "export")
    with zipfile.ZipFile(mailed(here, tmp_path / "ana.zip")) as archive:
        assert archive.testzip() is None
        read = {name: archive.read(name) for name in archive.namelist()}
    assert read == {f"{folder}/{path.name}": path.read_bytes() for path in package.iterdir()}
    assert len(read) == len(FILES)


@pytest.mark.long
def test_it_is_small_the_same_each_time_and_for_its_owner_only(invented: Environment, tmp_path: Path) -> None:
    one, again = (mailed(invented, tmp_path / name).read_bytes() for name in ("one.zip", "again.zip"))
    assert one == again
    assert len(one) < 300_000, "a mail with three months of drills"
    assert (tmp_path / "one.zip").stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("year_s", [-1e9, 1e11])
def test_a_clock_that_shows_a_year_no_archive_holds(year_s: float, tmp_path: Path) -> None:
    here = drilled(tmp_path, 1)
    assert zipfile.is_zipfile(mailed(here._replace(now=lambda: year_s), tmp_path / "one.zip"))


def test_what_has_the_name_already_stays_and_nobody_is_asked_first(tmp_path: Path) -> None:
    here = at_a_terminal(drilled(tmp_path, 1), "Ana\n")
    for name in ("one", "calendar"):
        target = tmp_path / f"{name}.zip"
        target.write_text("mine")
        with pytest.raises(CannotWrite, match="already exists"):
            export_record(NOTHING._replace(**{name: str(target)}), here)
        assert target.read_text() == "mine"
    assert here.stderr.getvalue() == ""  # type: ignore[attr-defined]
    with pytest.raises(CannotWrite):
        mailed(here, tmp_path / "nowhere" / "one.zip")


@pytest.mark.parametrize(("name", "wanted"), [("ana.txt", "ana.zip"), ("ana", "ana.zip"), ("", "mine.zip")])
def test_a_name_by_which_no_class_knows_it_is_refused(name: str, wanted: str, tmp_path: Path) -> None:
    with pytest.raises(UsageProblem, match=r"does not end in \.zip") as caught:
        export_record(NOTHING._replace(one=name and str(tmp_path / name)), drilled(tmp_path, 1))
    assert caught.value.fix == f"Write: fretsure export --one {wanted}"


@pytest.mark.parametrize(
    ("name", "option"), [("Paul.zip", "--one"), ("Paul.ZIP", "--one"), ("drill.ics", "--calendar")]
)
def test_a_folder_with_the_name_of_a_file_is_refused_with_the_option_that_was_forgotten(
    name: str, option: str, tmp_path: Path
) -> None:
    with pytest.raises(UsageProblem, match="is the name of a file") as refused:
        export_record(NOTHING._replace(folder=str(tmp_path / name)), drilled(tmp_path, 1))
    assert refused.value.fix.startswith("For one file, write: fretsure export ")
    assert shlex.split(refused.value.fix)[-2:] == [option, str(tmp_path / name)]
    assert not (tmp_path / name).exists()


def test_a_calendar_under_the_name_of_another_kind_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UsageProblem, match=r"ends in \.txt, but what is written is \.ics") as refused:
        export_record(NOTHING._replace(calendar=str(tmp_path / "drill.txt")), drilled(tmp_path, 1))
    assert refused.value.fix == f"Give it the name {tmp_path / 'drill.ics'}"
    assert not (tmp_path / "drill.txt").exists()


def test_a_folder_that_is_there_is_written_to_whatever_its_name(tmp_path: Path) -> None:
    (tmp_path / "Paul.zip").mkdir()
    export_record(NOTHING._replace(folder=str(tmp_path / "Paul.zip")), drilled(tmp_path, 1))
    assert (tmp_path / "Paul.zip" / "datapackage.json").exists()


def test_why_no_temporary_file_can_be_written_is_told_as_the_system_tells_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(**options: str) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(one_file, "TemporaryDirectory", refuse)
    with pytest.raises(CannotWrite) as caught:
        mailed(world(tmp_path), tmp_path / "mine.zip")
    assert caught.value.message == "Temporary files cannot be written (Permission denied); nothing was exported."
    assert not (tmp_path / "mine.zip").exists()


@pytest.mark.long
def test_restored_it_gives_the_same_record_and_merged_again_nothing_new(tmp_path: Path) -> None:
    here, there = drilled(tmp_path / "here", 1, 2, name="Ana"), world(tmp_path / "there")
    file = mailed(here, tmp_path / "ana.zip")
    said, whose = restore_lines(there, file)
    assert "2 were new" in said
    assert whose == (
        f"The record was empty and now belongs to Ana ({owner_of(here).id[:8]}). If you are somebody else, move "
        f"{there.record_path} away before you drill, and see how a student does with: fretsure class {file}"
    )
    assert owner_of(there) == owner_of(here)
    again = exported(there, tmp_path / "again")
    assert {path.name: path.read_bytes() for path in again.iterdir()} == {
        path.name: path.read_bytes() for path in exported(here, tmp_path / "first").iterdir()
    }
    [said] = restore_lines(here, file)
    assert "0 were new" in said


def test_the_mailed_file_of_another_is_refused_as_a_log_is(tmp_path: Path) -> None:
    here = drilled(tmp_path / "here", 1)
    with pytest.raises(UsageProblem, match="is the log of Ben"):
        list(restore_lines(here, mailed(drilled(tmp_path / "ben", 2, drill="b", name="Ben"), tmp_path / "ben.zip")))


LINE = '{"type": "learner", "id": "x", "name": null}\n'


def _slip(archive: zipfile.ZipFile) -> None:
    archive.writestr("../attempts.jsonl", LINE)


def _bomb(archive: zipfile.ZipFile) -> None:
    archive.writestr("attempts.jsonl", b"\0" * 50_000_000)


def _two(archive: zipfile.ZipFile) -> None:
    archive.writestr("ana/attempts.jsonl", LINE)
    archive.writestr("ben/attempts.jsonl", LINE)


def _none(archive: zipfile.ZipFile) -> None:
    archive.writestr("holiday.txt", "sun")


def _bad_line(archive: zipfile.ZipFile) -> None:
    archive.writestr("__MACOSX/._attempts.jsonl", b"\0\5\7")
    archive.writestr("attempts.jsonl", '{"type": "drill"}\n')


@pytest.mark.parametrize(
    ("harm", "why"),
    [
        (_slip, "outside its folder"), (_bomb, "too large"), (_two, "several logs"), (_none, "no log"),
        (_bad_line, "line 1, id"),
    ],
)  # fmt: skip
def test_an_archive_that_is_no_export_changes_nothing(
    harm: Callable[[zipfile.ZipFile], None], why: str, tmp_path: Path
) -> None:
    here = drilled(tmp_path / "here", 1)
    with zipfile.ZipFile(tmp_path / "gift.zip", "w", zipfile.ZIP_DEFLATED) as archive:
        harm(archive)
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(BadFile, match=why):
        list(restore_lines(here, tmp_path / "gift.zip"))
    assert sorted(tmp_path.rglob("*")) == before


@pytest.mark.parametrize("cut", [10, 400, -30])
def test_a_mail_cut_short_is_told(cut: int, tmp_path: Path) -> None:
    here = drilled(tmp_path / "here", 1)
    whole = mailed(here, tmp_path / "whole.zip").read_bytes()
    (tmp_path / "cut.zip").write_bytes(whole[:cut])
    with pytest.raises(BadFile, match="damaged archive"):
        list(restore_lines(world(tmp_path / "there"), tmp_path / "cut.zip"))


def test_a_bit_turned_over_on_the_way_is_told(tmp_path: Path) -> None:
    here = drilled(tmp_path / "here", *range(300))
    raw = bytearray(mailed(here, tmp_path / "whole.zip").read_bytes())
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        [log] = [each for each in archive.infolist() if each.filename.endswith(".jsonl")]
    raw[log.header_offset + 200] ^= 1
    (tmp_path / "turned.zip").write_bytes(raw)
    there = world(tmp_path / "there")
    with pytest.raises(BadFile):
        list(restore_lines(there, tmp_path / "turned.zip"))
    with Record.open(there.record_path, there.now) as record:
        assert record.attempt_count() == 0


def test_a_name_can_be_given_and_given_anew(tmp_path: Path) -> None:
    here = at_a_terminal(drilled(tmp_path, 1), "Ann\n")
    export_record(NOTHING._replace(folder=str(tmp_path / "export")), here)
    assert owner_of(here).name == "Ann"
    export_record(NOTHING._replace(folder=str(tmp_path / "export"), name=" Anna\x1b[2J  "), here)
    assert owner_of(here).name == "Anna[2J"
    assert all("anna" in path.name for path in (tmp_path / "export").iterdir() if path.name != "datapackage.json")
    export_record(NOTHING._replace(folder=str(tmp_path / "export"), name=""), here)
    assert owner_of(here).name == ""
    assert {path.name for path in exported(here, tmp_path / "bare").iterdir()} == set(FILES)


def test_nobody_asks_in_a_pipe(tmp_path: Path) -> None:
    here = drilled(tmp_path, 1)._replace(stdin=io.StringIO("Ana\n"))
    export_record(NOTHING._replace(one=str(tmp_path / "one.zip")), here)
    assert (here.stderr.getvalue(), here.stdin.read()) == ("", "Ana\n")  # type: ignore[attr-defined]
    assert owner_of(here).name is None


def test_without_a_name_two_mails_unpacked_in_one_folder_stay_apart(tmp_path: Path) -> None:
    for each in ("one", "other"):
        with zipfile.ZipFile(mailed(drilled(tmp_path / each, 1, drill=each), tmp_path / f"{each}.zip")) as archive:
            archive.extractall(tmp_path / "class")
    assert len(list((tmp_path / "class").iterdir())) == 2
    assert len(list((tmp_path / "class").glob("*/datapackage.json"))) == 2


def test_the_name_of_the_settings_serves_a_record_that_has_none(tmp_path: Path) -> None:
    here = drilled(tmp_path, 1)
    save(Settings(learner="Ana"), here.config_path)
    export_record(NOTHING._replace(folder=str(tmp_path / "export")), here)
    assert list((tmp_path / "export").glob("attempts-ana-*.jsonl"))
