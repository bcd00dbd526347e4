"""What other systems lack, refuse or do in another way, played on this one: see `elsewhere`."""

from __future__ import annotations

import asyncio
import errno
import json
import os
import signal
import socket
import sqlite3
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from datetime import UTC, datetime
from pathlib import Path, PurePath, PurePosixPath, PureWindowsPath
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest

from drill.cli.main import BROKEN_PIPE, main
from drill.decks import load_deck
from drill.errors import BadFile
from drill.present.dates import moment
from drill.record import Record, database_files
from drill.record.connection import _uri, connect
from drill.settings import Settings, save
from drill.system import platforms
from drill.system.environment import Environment
from drill.system.signals import exit_on_signal
from tests.support.elsewhere import as_on_windows
from tests.support.worlds import HandClock

needs_proc = pytest.mark.skipif(sys.platform != "linux", reason="whether a file is open is read from /proc")


def run(record: Path, *commands: list[str], given: str = "") -> list[str]:
    """What commands say as on Windows, one after the other; each must succeed and complain of nothing."""
    program = """
import contextlib, io, json, sys
from drill.cli.main import main
for command in json.loads(sys.argv[1]):
    said = io.StringIO()
    with contextlib.redirect_stdout(said):
        code = main(command)
    print(json.dumps([code, said.getvalue()]))
"""
    whole = json.dumps([[*command, "--record", str(record)] for command in commands])
    done = as_on_windows(program, whole, folder=record.parent, given=given)
    assert (done.returncode, done.stderr) == (0, ""), done
    codes, said = zip(*map(json.loads, done.stdout.splitlines()), strict=True)
    assert set(codes) == {0}
    return list(said)


def today() -> list[str]:
    return ["today", "--plain", "--minutes", "1"]


# -- Windows -----------------------------------------------------------------------------------------------------------


@pytest.mark.long
@needs_proc
def test_every_command_that_keeps_a_record_works_as_on_windows(tmp_path: Path) -> None:
    copy, folder = str(tmp_path / "copy.sqlite3"), tmp_path / "for my teacher"
    log = str(folder / "attempts.jsonl")
    drilled, *_, replaced, merged, progress = run(
        tmp_path / "r.sqlite3",
        today(),
        ["export", str(folder)],
        ["export", str(folder)],
        ["backup", copy],
        ["restore", copy],
        ["restore", log],
        ["progress", "--json"],
        given="?\n" * 4,
    )
    assert "Why: " in drilled
    assert "Your previous record is saved" in replaced
    assert "0 were new and were added" in merged
    assert json.loads(progress)["weeks"][0]["answers"] == 4


@pytest.mark.long
@needs_proc
def test_answers_from_before_1970_are_restored_shown_and_exported_as_on_windows(tmp_path: Path) -> None:
    """A clock that was wrong dates them so; 86,400,000 ms before 1970 the last day of 1969 begins, in UTC."""
    run(tmp_path / "r.sqlite3", today(), ["export", str(tmp_path / "out")], given="?\n")
    rows = list(map(json.loads, (tmp_path / "out" / "attempts.jsonl").read_text().splitlines()))
    drill = next(row for row in rows if row["type"] == "drill")
    answer = next(row for row in rows if row.get("kind") == "asked")
    answer |= {"asked_at": -86_400_000, "answered_at": -86_390_000, "utc_offset_min": 0}
    log = tmp_path / "old.jsonl"
    log.write_text(f"{json.dumps(drill)}\n{json.dumps(answer)}\n")
    restored, card, progress, _ = run(
        tmp_path / "old.sqlite3",
        ["restore", str(log)],
        ["progress", "--card", answer["card"]],
        ["progress", "--json"],
        ["export", str(tmp_path / "again")],
    )
    assert "1 was new" in restored
    assert "1969-12-31" in card
    assert json.loads(progress)["weeks"][0]["start"] == "1969-12-29", "the Monday of that week"
    assert "1969-12-31T00:00:00.000Z" in (tmp_path / "again" / "attempts.csv").read_text()


@pytest.mark.long
@needs_proc
def test_an_export_that_a_spreadsheet_holds_open_changes_nothing_as_on_windows(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(tmp_path / "r.sqlite3", today(), ["export", str(out)], given="E\n")
    before = {path.name: path.read_bytes() for path in out.iterdir()}
    program = "import sys; from drill.cli.main import main; held = open(sys.argv.pop(1)); sys.exit(main())"
    arguments = (str(out / "keys.csv"), "export", str(out), "--record", str(tmp_path / "r.sqlite3"))
    done = as_on_windows(program, *arguments, folder=tmp_path)
    assert done.returncode == 73
    assert "it is being used" in done.stderr
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before


@pytest.mark.parametrize(
    ("path", "written"),
    [
        (PureWindowsPath(r"\\server\share\my record.sqlite3"), "//server/share/my record.sqlite3"),
        (PureWindowsPath(r"C:\a%20b?c#d\möll.sqlite3"), "/C:/a%20b?c#d/möll.sqlite3"),
        (PurePosixPath("//server/share/r.sqlite3"), "//server/share/r.sqlite3"),
    ],
)
def test_sqlite_is_told_of_a_path_without_authority_query_or_fragment(path: PurePath, written: str) -> None:
    """The stroke before a drive's letter is SQLite's own: https://www.sqlite.org/uri.html#the_uri_path"""
    uri = urlsplit(_uri(path))
    assert (uri.scheme, uri.netloc, unquote(uri.path), uri.query, uri.fragment) == ("file", "", written, "", "")


def test_a_record_is_found_by_a_path_that_begins_like_that_of_a_network_drive(tmp_path: Path, clock: HandClock) -> None:
    """POSIX lets a system give two leading strokes a meaning; Linux and macOS take them for one."""
    with Record.open(Path(f"/{tmp_path}/r%.sqlite3"), clock.now) as record:
        assert record.attempt_count() == 0
    assert (tmp_path / "r%.sqlite3").is_file()


@pytest.mark.parametrize(
    ("at_s", "date"),
    [
        (-1.5, datetime(1969, 12, 31, 23, 59, 58, 500_000, tzinfo=UTC)),
        (-2_208_988_800, datetime(1900, 1, 1, tzinfo=UTC)),
        (32_503_680_000, datetime(3000, 1, 1, tzinfo=UTC)),
        (95_617_584_000, datetime(5000, 1, 1, tzinfo=UTC)),
    ],
)
def test_a_moment_of_any_year_is_a_date(at_s: float, date: datetime) -> None:
    """2,208,988,800 s lie between 1900 and 1970: RFC 868. The others: `date -d 3000-01-01Z +%s`."""
    assert moment(at_s) == date


def test_where_the_offset_is_not_known_it_is_that_of_now(monkeypatch: pytest.MonkeyPatch) -> None:
    offset = Environment.real().utc_offset_minutes
    known = time.localtime

    def refuse(seconds: float | None = None) -> time.struct_time:
        if seconds is not None and seconds < 0:
            raise OSError(errno.EINVAL, "Invalid argument")
        return known(seconds)

    monkeypatch.setattr(time, "localtime", refuse)
    assert offset(-1.0) == offset(time.time())


def test_a_record_begun_at_once_by_two_on_a_memory_stick_stays_the_first_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """There are no links on it, and on Windows no file is renamed onto another (documentation of `os.rename`)."""

    def no_links(self: Path, target: Path) -> None:
        raise OSError(errno.EINVAL, "Incorrect function")

    def refuse(self: Path, target: Path) -> None:
        raise FileExistsError(errno.EEXIST, "Cannot create a file when that file already exists")

    monkeypatch.setattr(Path, "hardlink_to", no_links)
    monkeypatch.setattr(Path, "rename", refuse)
    ours, first = tmp_path / "ours", tmp_path / "first"
    ours.write_text("ours")
    first.write_text("first")
    assert not database_files.put_if_free(ours, first)
    assert first.read_text() == "first"


def test_nul_is_no_terminal_though_it_says_so(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    class Nul:
        """What `open("NUL")` is like on Windows: https://github.com/python/cpython/issues/72840"""

        def __init__(self) -> None:
            self._file = (tmp_path / "nul").open("w")

        def isatty(self) -> bool:
            return True

        def __getattr__(self, name: str) -> Any:
            return getattr(self._file, name)

    for name in ("stdin", "stdout", "stderr"):
        monkeypatch.setattr(sys, name, Nul())
    world = Environment.real()
    assert world.columns is None
    assert not world.is_terminal


def test_a_reader_that_left_is_no_fault_of_ours_as_on_windows(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def leave(options: object, environment: object) -> None:
        raise OSError(errno.EINVAL, "Invalid argument")

    monkeypatch.setattr("drill.cli.main.run", leave)
    assert main(["key", "Am"]) == 73, "elsewhere it means what it says"
    monkeypatch.setattr(sys, "platform", "win32")
    capsys.readouterr()
    assert main(["key", "Am"]) == BROKEN_PIPE
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize(
    ("word", "posix", "windows"),
    [
        ("naturals", "naturals", "naturals"),
        ("my deck.toml", "'my deck.toml'", '"my deck.toml"'),
        (r"C:\decks\one.toml", r"'C:\decks\one.toml'", r'"C:\decks\one.toml"'),
    ],
)
def test_a_word_is_quoted_as_the_shell_there_reads_it(
    word: str, posix: str, windows: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """cmd.exe takes a single quote for a letter like any other."""
    monkeypatch.setattr(sys, "platform", "linux")
    assert platforms.shell_quoted(word) == posix
    monkeypatch.setattr(sys, "platform", "win32")
    assert platforms.shell_quoted(word) == windows


class Nowhere(PureWindowsPath):
    """A path as Windows reads it, to no file."""

    def stat(self) -> None:
        raise FileNotFoundError


def test_a_path_to_a_deck_is_told_from_its_name_by_the_systems_own_signs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("drill.decks.loading.Path", Nowhere)
    monkeypatch.setattr(
        "drill.decks.deck_file.read", lambda path: (_ for _ in ()).throw(BadFile(str(path), "", "was read."))
    )
    with pytest.raises(BadFile, match="was read"):
        load_deck(r"decks\mine", Settings().neck)


@pytest.mark.long
def test_a_program_that_cannot_be_put_aside_does_not_offer_it() -> None:
    done = as_on_windows(
        "import sys; sys.platform = 'linux'; import drill.tui.commands as c; print(*[each.id for each in c.COMMANDS])"
    )
    assert done.stderr == ""
    assert "quit" in done.stdout.split()
    assert "suspend" not in done.stdout.split()


# -- signals -----------------------------------------------------------------------------------------------------------


@pytest.fixture
def told() -> Iterator[socket.socket]:
    """An end of a socket pair that hears of signals, as the event loop of Windows has one; the other end is read."""
    ours, theirs = socket.socketpair()
    with ours, theirs:
        for end in (ours, theirs):
            end.setblocking(False)
        before = signal.set_wakeup_fd(theirs.fileno())
        yield ours
        assert signal.set_wakeup_fd(before) == theirs.fileno(), "it hears of them again"


def wait_for(happened: Callable[[], object]) -> None:
    """Wait until it has happened; a minute is longer than any machine takes."""
    for _ in range(6000):
        if happened():
            return
        time.sleep(0.01)
    raise AssertionError("it has not happened")


@pytest.mark.usefixtures("told")
def test_a_signal_to_stop_is_heard_where_pipes_cannot_be_told_not_to_wait(monkeypatch: pytest.MonkeyPatch) -> None:
    """Windows before Python 3.12: no os.set_blocking, and set_wakeup_fd takes a pipe as it is."""
    set_blocking, set_wakeup_fd = os.set_blocking, signal.set_wakeup_fd

    def as_it_is(descriptor: int, **options: bool) -> int:
        if descriptor != -1:
            set_blocking(descriptor, False)
        return set_wakeup_fd(descriptor, **options)

    monkeypatch.setattr(signal, "set_wakeup_fd", as_it_is)
    monkeypatch.delattr(os, "set_blocking")
    left: list[int] = []
    with exit_on_signal(lambda: left.append(1)):
        signal.raise_signal(signal.SIGTERM)
        wait_for(lambda: left)
    assert left == [1]


def test_whoever_heard_of_signals_before_hears_of_the_others(told: socket.socket) -> None:
    known = signal.signal(signal.SIGUSR1, lambda number, frame: None)
    heard = bytearray()

    def listen() -> bool:
        with suppress(BlockingIOError):
            heard.extend(told.recv(16))
        return bool(heard)

    try:
        with exit_on_signal(lambda: None):
            signal.raise_signal(signal.SIGUSR1)
            wait_for(listen)
    finally:
        signal.signal(signal.SIGUSR1, known)
    assert heard == bytes([signal.SIGUSR1])


def test_an_event_loop_goes_on_to_heed_its_own_signals() -> None:
    async def run_to_the_signal() -> None:
        heard = asyncio.Event()
        loop = asyncio.get_running_loop()
        loop.add_signal_handler(signal.SIGUSR1, heard.set)
        try:
            with exit_on_signal(lambda: None):
                signal.raise_signal(signal.SIGUSR1)
                await asyncio.wait_for(heard.wait(), 60)
        finally:
            loop.remove_signal_handler(signal.SIGUSR1)

    asyncio.run(run_to_the_signal())


@pytest.mark.long
def test_a_window_that_is_closed_ends_the_program_in_order_as_on_windows() -> None:
    """Closing the window, logging off and Ctrl+Break arrive as SIGBREAK, number 21: played by one that exists here."""
    done = as_on_windows(
        "import signal; signal.SIGBREAK = signal.SIGTERM; del signal.SIGTERM\n"
        "from drill.system.signals import CLOSING, sigterm_as_interrupt\n"
        "with sigterm_as_interrupt():\n"
        "    try:\n"
        "        signal.raise_signal(CLOSING[0])\n"
        "    except KeyboardInterrupt:\n"
        "        print('in order', len(CLOSING))\n"
    )
    assert (done.stdout, done.stderr) == ("in order 1\n", "")


# -- macOS -------------------------------------------------------------------------------------------------------------


def test_sqlite_is_asked_for_the_disk_itself(tmp_path: Path) -> None:
    """On macOS an answer is else only in the drive's memory: https://www.sqlite.org/pragma.html#pragma_fullfsync

    Checkpoints are included: with fullfsync on, says that page, checkpoint_fullfsync does not matter.
    """
    sqlite3.connect(tmp_path / "r.sqlite3").close()
    with closing(connect(tmp_path / "r.sqlite3")) as db:
        assert db.execute("PRAGMA fullfsync").fetchone() == (1,)


@pytest.mark.parametrize("drive_knows", [True, False])
def test_files_go_to_the_disk_itself_as_on_macos(
    drive_knows: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """F_FULLFSYNC is 51 in Apple's <sys/fcntl.h>. A drive that does not know it gets an ordinary fsync."""
    fcntl = pytest.importorskip("fcntl")
    asked: list[str] = []

    def control(descriptor: int, command: int) -> int:
        asked.append(f"fcntl {command}")
        if not drive_knows:
            raise OSError(errno.ENOTSUP, "Operation not supported")
        return 0

    monkeypatch.setattr(fcntl, "F_FULLFSYNC", 51, raising=False)
    monkeypatch.setattr(fcntl, "fcntl", control)
    monkeypatch.setattr(os, "fsync", lambda descriptor: asked.append("fsync"))
    save(Settings(), tmp_path / "settings.toml")
    once = ["fcntl 51"] if drive_knows else ["fcntl 51", "fsync"]
    assert asked == once * 2, "the file, then the folder it lies in"
