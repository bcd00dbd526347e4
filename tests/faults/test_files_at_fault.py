"""Whatever lies where a file should, the program neither hangs nor harms it, and says what to do."""

from __future__ import annotations

import os
import resource
import stat
import sys
from codecs import BOM_UTF8
from collections.abc import Callable
from pathlib import Path

import pytest

from drill.decks import load_deck
from drill.errors import BadFile
from drill.export import merge
from drill.record import Record, backups
from drill.system import crash_report
from drill.theory.neck import STANDARD, Neck
from tests.faults.program import Ended, run
from tests.support.asking import answers
from tests.support.children import without_privileges
from tests.support.records import attempt, drill, open_at
from tests.support.worlds import MONDAY_MORNING

STRANGE = {"folder": "a folder", "pipe": "a pipe", "socket": "a socket", "device": "a device", "link": "a device"}
"""What may lie in a file's place, and what the program calls it."""
ROOM = 2 * 10**9
"""Bytes: enough for the program, too few for an endless file."""


def lay(sort: str, path: Path) -> Path:
    """Something that is no file; gives its path."""
    path.parent.mkdir(parents=True, exist_ok=True)
    if sort == "folder":
        path.mkdir()
    elif sort == "pipe":
        os.mkfifo(path)
    elif sort == "link":
        path.symlink_to("/dev/zero")
    elif sort == "socket":
        os.mknod(path, stat.S_IFSOCK | 0o600)  # a socket can only be bound to a short name
    elif sort == "device":
        return _device(path)
    return path


def _device(path: Path) -> Path:
    """A device that never ends: one of the test's own where it may make one, for root could harm the real one."""
    try:
        os.mknod(path, stat.S_IFCHR | 0o600, Path("/dev/zero").stat().st_rdev)
    except PermissionError:
        return Path("/dev/zero")
    return path


def ran(*arguments: str, home: Path, before: Callable[[], None] = lambda: None) -> Ended:
    """What became of a command that may not take endless room, on the disk or in memory, nor endless time."""

    def bounded() -> None:
        before()
        resource.setrlimit(resource.RLIMIT_AS, (ROOM, ROOM))
        resource.setrlimit(resource.RLIMIT_FSIZE, (ROOM // 100, ROOM // 100))
        resource.setrlimit(resource.RLIMIT_CPU, (60, 60))

    return run(*arguments, home=home, before=bounded)


@pytest.mark.long(but=2)
@pytest.mark.parametrize("sort", STRANGE)
@pytest.mark.parametrize("command", [["progress"], ["today", "--plain"], ["export", "out"], ["backup", "copy"]])
def test_a_record_that_is_no_file_is_called_what_it_is(command: list[str], sort: str, tmp_path: Path) -> None:
    path = lay(sort, tmp_path / "strange")
    ended = ran("--record", str(path), *command, home=tmp_path, before=lambda: os.chdir(tmp_path))
    assert (ended.code, ended.said) == (65, "")
    assert f"is {STRANGE[sort]}, not a record. Give the path of a file with --record" in ended.complained
    assert {each.name for each in tmp_path.iterdir()} <= {"strange"}


@pytest.mark.parametrize("command", [["progress"], ["today", "--plain"], ["restore", "log.jsonl"]])
def test_the_root_of_the_disk_is_no_record(command: list[str], tmp_path: Path) -> None:
    """It has no name, so nothing can be named after it."""
    (tmp_path / "log.jsonl").write_text("{}\n")
    ended = ran("--record", "/", *command, home=tmp_path, before=lambda: os.chdir(tmp_path))
    assert (ended.code, ended.said) == (65, "")
    assert "/: is a folder, not a record. Give the path of a file with --record" in ended.complained
    assert "Traceback" not in ended.complained


@pytest.mark.long(but=2)
@pytest.mark.parametrize("sort", STRANGE)
def test_nothing_is_restored_over_what_is_no_file(sort: str, tmp_path: Path) -> None:
    """Without root's right to write anywhere: the device might be replaced."""
    with open_at(tmp_path / "other.sqlite3") as other:
        other.merge([drill()], [attempt(1)])
    (tmp_path / "other.sqlite3").chmod(0o644)
    path = lay(sort, tmp_path / "strange")
    source = str(tmp_path / "other.sqlite3")
    ended = ran("--record", str(path), "restore", source, home=tmp_path, before=without_privileges)
    assert (ended.code, ended.said) == (65, "")
    assert f"is {STRANGE[sort]}, not a record." in ended.complained
    assert not (tmp_path / "strange-backups").exists()


@pytest.mark.parametrize("sort", STRANGE)
def test_settings_that_are_no_file_are_neither_read_nor_waited_for(sort: str, tmp_path: Path) -> None:
    settings = tmp_path / "fretsure" / "settings.toml"
    lay("link" if sort == "device" else sort, settings)
    ended = ran("progress", home=tmp_path)
    assert (ended.code, ended.said) == (65, "")
    assert f"{settings.resolve()}: is {STRANGE[sort]}, not a file. Move it away;" in ended.complained


@pytest.mark.parametrize("sort", STRANGE)
def test_a_deck_that_is_no_file(sort: str, tmp_path: Path) -> None:
    path = lay(sort, tmp_path / "deck.toml")
    ended = ran("decks", "check", str(path), home=tmp_path)
    assert (ended.code, ended.said) == (65, "")
    assert f"{path}: is {STRANGE[sort]}, not a file. Give the path of a deck file." in ended.complained


@pytest.mark.parametrize("text", [f"{'a.' * 90_000}a = 1", "# " + "x" * 10**7])
def test_a_heap_of_text_is_refused_before_it_is_read_as_toml(text: str, tmp_path: Path) -> None:
    """The time `tomllib` takes for a name of many parts grows with the square of their number."""
    settings, deck = tmp_path / "fretsure" / "settings.toml", tmp_path / "deck.toml"
    settings.parent.mkdir()
    for path, arguments in ((deck, ("decks", "check", str(deck))), (settings, ("key", "Am"))):
        path.write_text(text)
        ended = ran(*arguments, home=tmp_path)
        assert (ended.code, ended.said) == (65, "")
        assert f"{path}: is too large. It may hold at most 20000 bytes." in ended.complained


@pytest.mark.long(but=1)
@pytest.mark.parametrize("sort", STRANGE)
def test_what_is_no_file_is_no_backup(sort: str, sound: Path) -> None:
    [good] = backups.all_of(sound)
    lay("link" if sort == "device" else sort, good.with_name("daily-2099-01-01.sqlite3"))
    good.with_name("daily-2099-01-02.sqlite3").symlink_to("nowhere")
    assert backups.all_of(sound) == (good,)
    sound.write_bytes(b"")
    ended = ran("progress", "--record", str(sound), home=sound.parent)
    assert ended.code == 74
    assert f'fretsure restore "{good}"' in ended.complained
    sound.unlink()
    ended = ran("today", "--plain", "--record", str(sound), home=sound.parent)
    assert ended.code == 0
    assert "a new one was started. Backups are in" in ended.complained


def test_the_report_of_a_fault_goes_over_no_file_that_a_link_leads_to(tmp_path: Path) -> None:
    victim = tmp_path / "victim"
    victim.write_text("dear diary")
    report = tmp_path / crash_report.NAME
    report.symlink_to(victim)
    crash_report.report_crash(ValueError("a half character: \ud800"), tmp_path / "record.sqlite3")
    assert victim.read_text() == "dear diary"
    assert "a half character: \\ud800" in report.read_text()
    assert (report.is_symlink(), report.stat().st_mode & 0o777) == (False, 0o600)


def test_a_mark_that_an_editor_put_first_is_no_part_of_a_log_or_a_deck(sound: Path, tmp_path: Path) -> None:
    out, deck = tmp_path / "out", tmp_path / "deck.toml"
    assert run("export", str(out), home=tmp_path).code == 0
    log = out / "attempts.jsonl"
    log.write_bytes(BOM_UTF8 + log.read_bytes())
    with Record.open(tmp_path / "new.sqlite3", lambda: MONDAY_MORNING) as record:
        assert merge(log, record) == (50, 50)
        log.write_bytes(b"\n" + log.read_bytes())
        with pytest.raises(BadFile, match="line 2"):
            merge(log, record)
    deck.write_bytes(BOM_UTF8 + b'title = "x"\nabout = "y"\n[[part]]\nfamilies = ["note-at-fret"]\n')
    assert load_deck(str(deck), Neck(STANDARD)).title == "x"


def test_a_folder_is_no_log_and_the_log_in_it_is_named(tmp_path: Path) -> None:
    ended = run("restore", str(tmp_path), home=tmp_path)
    assert (ended.code, ended.said) == (65, "")
    assert f"is a folder. Give a file, such as {tmp_path / 'attempts.jsonl'}." in ended.complained


@pytest.mark.parametrize("face", [(), ("--json",)])
def test_a_drill_reads_from_what_never_ends_a_line_only_so_long(face: tuple[str, ...], tmp_path: Path) -> None:
    def read_zeros() -> None:
        sys.stdin = Path("/dev/zero").open()  # noqa: SIM115

    ended = ran("today", "--plain", *face, home=tmp_path, before=read_zeros)
    assert (ended.code, ended.complained) == (0, "")
    with Record.open(tmp_path / "record.sqlite3", lambda: MONDAY_MORNING) as record:
        assert not answers(record)
