"""The real world is read here and nowhere else; the fake one moves by hand."""

from __future__ import annotations

import io
import os
import pty
import re
import subprocess
import sys
import termios
import time
from datetime import UTC, datetime
from pathlib import Path

import pytest

from drill.system.environment import Environment, uid
from tests.support.worlds import HandClock


def modules_loaded_by(statement: str) -> set[str]:
    """The top-level modules a fresh Python has loaded after the statement."""
    code = f"import sys; {statement}; print(*{{name.partition('.')[0] for name in sys.modules}})"
    return set(subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split())


def test_a_given_path_goes_before_the_variable_and_the_variable_before_the_platform(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("FRETSURE_RECORD", str(tmp_path / "mine.sqlite3"))
    assert Environment.real(record=tmp_path / "given").record_path == tmp_path / "given"
    assert Environment.real().record_path == tmp_path / "mine.sqlite3"
    monkeypatch.setenv("FRETSURE_RECORD", "")
    assert Environment.real().record_path.name == "record.sqlite3"
    if sys.platform == "linux":  # XDG Base Directory Specification 0.8
        assert Environment.real().record_path == tmp_path / "data" / "fretsure" / "record.sqlite3"
        assert Environment.real().config_path == tmp_path / "config" / "fretsure" / "settings.toml"


def test_paths_are_absolute_and_know_the_home(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    assert Environment.real(record="a.sqlite3").record_path == tmp_path / "a.sqlite3"
    assert Environment.real(record="~/a.sqlite3").record_path == tmp_path / "home" / "a.sqlite3"


def test_a_link_is_followed_so_that_it_survives_what_replaces_its_file(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "link").symlink_to(tmp_path / "real.sqlite3")
    (tmp_path / "config" / "fretsure").mkdir(parents=True)
    (tmp_path / "config" / "fretsure" / "settings.toml").symlink_to(tmp_path / "dotfiles.toml")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    world = Environment.real(record=tmp_path / "link")
    assert world.record_path == tmp_path / "real.sqlite3"
    assert world.config_path == tmp_path / "dotfiles.toml"
    assert Environment.real(record=tmp_path / "loop").record_path == tmp_path / "loop"


def test_no_uid_comes_twice() -> None:
    first, second = Environment.real(), Environment.real()
    uids = [world.new_uid() for world in (first, second) for _ in range(500)]
    assert len(set(uids)) == 1000
    assert all(re.fullmatch(r"[0-9a-f]{12}-[0-9a-f]{12}", name) for name in uids)


def test_uids_sort_by_time() -> None:
    assert uid(0.001, b"\xff") < uid(0.002, b"\x00") < uid(1_767_600_000.0, b"\x00") < uid(4e9, b"\x00")
    assert uid(-5.0, b"\x01") == "000000000000-01"


@pytest.mark.parametrize(
    ("zone", "january", "july"),
    [("UTC", 0, 0), ("Europe/Berlin", 60, 120), ("America/St_Johns", -210, -150), ("Asia/Kathmandu", 345, 345)],
)
def test_the_offset_follows_daylight_saving(
    zone: str, january: int, july: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Offsets from the IANA time zone database."""
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    offset = Environment.real().utc_offset_minutes
    try:
        assert offset(datetime(2026, 1, 15, tzinfo=UTC).timestamp()) == january
        assert offset(datetime(2026, 7, 15, tzinfo=UTC).timestamp()) == july
    finally:
        monkeypatch.undo()
        time.tzset()


def test_a_pipe_is_no_terminal_and_a_dumb_terminal_is_none_either(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    assert not Environment.real().is_terminal
    controller, terminal = pty.openpty()
    with os.fdopen(terminal, "r+b", buffering=0) as both, io.TextIOWrapper(both) as text:
        monkeypatch.setattr(sys, "stdin", text)
        monkeypatch.setattr(sys, "stdout", text)
        monkeypatch.setenv("TERM", "xterm")
        assert not Environment.real().is_terminal, "screens are painted on standard error"
        monkeypatch.setattr(sys, "stderr", text)
        assert Environment.real().is_terminal
        monkeypatch.setenv("TERM", "dumb")
        assert not Environment.real().is_terminal
        monkeypatch.setattr(sys, "stdin", None)  # pythonw and daemons have none
        assert not Environment.real().is_terminal
    os.close(controller)


def test_the_columns_of_a_terminal_are_known_or_the_usual_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdout", io.StringIO())
    assert Environment.real().columns is None
    controller, terminal = pty.openpty()
    with os.fdopen(terminal, "r+b", buffering=0) as both, io.TextIOWrapper(both) as text:
        monkeypatch.setattr(sys, "stdout", text)
        for columns, known in ((33, 33), (0, 80)):  # a terminal that nobody gave a size says 0
            termios.tcsetwinsize(terminal, (24, columns))
            assert Environment.real().columns == known
    os.close(controller)


def test_the_program_starts_without_what_it_may_not_need() -> None:
    loaded = modules_loaded_by(
        "import drill.system.environment, drill.system.resources; drill.system.environment.Environment.real()"
    )
    assert loaded.isdisjoint({"pydantic", "sqlite3", "sqlite_utils", "textual", "rich", "uuid", "secrets"})
    assert "sqlite3" in modules_loaded_by("import drill.record"), "the question is put rightly"


def test_variables_are_not_shown_when_an_environment_is_printed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOME_SECRET", "hush")
    assert "hush" not in repr(Environment.real())


def test_the_fake_clock_moves_by_hand(fake_environment: Environment, clock: HandClock) -> None:
    start, beat = fake_environment.now(), fake_environment.monotonic()
    clock.tick(2.5)
    assert (fake_environment.now() - start, fake_environment.monotonic() - beat) == (2.5, 2.5)
    clock.jump(-86_400)
    assert (fake_environment.now() - start, fake_environment.monotonic() - beat) == (2.5 - 86_400, 2.5)
    assert fake_environment.new_uid() != fake_environment.new_uid()
