"""The full-screen program always gives the terminal back (settings, modes, screen, cursor) and keeps every answer."""

from __future__ import annotations

import os
import random
import re
import shlex
import signal
import time
from pathlib import Path

import pytest

from drill.record import backups
from drill.system.steady import ASLEEP_S
from tests.faults import screens
from tests.faults.drills import GOES_ON, LESSON_GUARD_S, SOLVED, assert_remembered, screen_command
from tests.faults.program import DECK, run, variables_for
from tests.faults.screens import DrillingTerminal, modes_left
from tests.support.records import open_at
from tests.support.terminal import Terminal


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "record.sqlite3"


def test_what_a_terminal_is_left_in_is_seen() -> None:
    assert modes_left(b"text \x1b[31m more") == set()
    assert modes_left(b"\x1b[?1049h\x1b[?25l\x1b[?1000;1006h\x1b[?2004h") == {"1049", "25", "1000", "1006", "2004"}
    assert modes_left(b"\x1b[?1049h\x1b[?25l\x1b[>25u\x1b[?1049l\x1b[?25h") == {"keyboard"}


@pytest.mark.long
def test_a_signal_at_a_random_moment(path: Path) -> None:
    assert screens.strike(path, 1, random.Random(1)).startswith("1 signals")


@pytest.mark.long
def test_a_terminal_that_knows_only_ascii_and_is_closed_within_a_drill(path: Path) -> None:
    with DrillingTerminal(path, PYTHONIOENCODING="ascii").started("| a") as terminal:
        terminal.asked()
        terminal.wait(lambda screen: re.search(r"6 E  *(\[\?\] )?\|(---|\[\?\])\+---\+", screen) is not None)
        terminal.type("E\r")
        terminal.wait(GOES_ON)
        assert terminal.raw.isascii()
        terminal.close()
        assert terminal.wait_end() == 130
    assert assert_remembered(path) == 1


@pytest.mark.long
def test_a_storm_of_sizes_leaves_the_drill_standing_and_ctrl_c_ends_it(path: Path) -> None:
    chance = random.Random(4)
    with DrillingTerminal(path).started() as terminal:
        terminal.storm(150, chance)
        terminal.answer()
        terminal.interrupt()
        assert terminal.wait_end() == 130
        terminal.assert_given_back()
        assert terminal.says("interrupted. Every answer given so far is saved.")
    assert assert_remembered(path) == 1
    assert len(backups.all_of(path)) == 1


@pytest.mark.long
def test_a_program_that_lay_stopped_wakes_in_a_pause(path: Path) -> None:
    with DrillingTerminal(path).started() as terminal:
        terminal.signal(signal.SIGSTOP)
        assert os.WIFSTOPPED(os.waitpid(terminal.pid, os.WUNTRACED)[1])
        time.sleep(ASLEEP_S + 1)
        terminal.signal(signal.SIGCONT)
        terminal.wait("The computer was asleep.")


@pytest.mark.long
def test_ctrl_z_gives_the_shell_its_terminal_and_fg_comes_back(path: Path) -> None:
    """In a real shell with job control, as a learner does it."""
    with Terminal(["bash", "--norc", "--noprofile", "--noediting", "-i"], variables_for(path.parent)) as terminal:
        terminal.type(f"PS1='ready> '; cd {shlex.quote(str(path.parent))}; stty -g > before; echo go-$((40+1))\n")
        terminal.wait("go-41")
        begun = len(terminal.raw)
        terminal.type(f"{shlex.join(screen_command(path))}\n")
        terminal.wait(SOLVED)
        time.sleep(LESSON_GUARD_S)
        terminal.type("\r")
        terminal.wait("Which note?")
        terminal.wait(lambda text: SOLVED not in text)
        terminal.type("?")
        terminal.wait("Enter: next question")
        terminal.type("\x1a")
        terminal.wait(lambda _: b"Stopped" in terminal.raw)
        assert modes_left(bytes(terminal.raw[begun:])) == set()
        stopped = len(terminal.raw)
        terminal.type("stty -g > aside; echo put-$((40+2))\n")
        terminal.wait(lambda _: b"put-42" in terminal.raw[stopped:])
        terminal.type("fg\n")
        terminal.wait("suspended")
        terminal.type(" ")
        terminal.wait("Enter: next question")
        terminal.type("\x03")
        terminal.wait("You pressed Ctrl+C")
        terminal.type("e")
        terminal.wait("After the drill")
        terminal.type("\x03")
        terminal.wait(lambda _: b"interrupted. Every" in terminal.raw[stopped:])
        terminal.type("stty -g > after; echo code-$?-$((40+3))\n")
        terminal.wait(lambda _: b"-43\r\n" in terminal.raw[stopped:])
        assert modes_left(bytes(terminal.raw[begun:])) == set()
        terminal.type("exit\n")
        terminal.wait_end()
    assert len({(path.parent / name).read_text() for name in ("before", "aside", "after")}) == 1


@pytest.mark.long
def test_a_full_disk_is_told_on_the_screen_and_the_drill_can_end(path: Path) -> None:
    run("today", "--plain", "--deck", DECK, home=path.parent, reads="E\n")
    limit = path.stat().st_size // 1024 + 40
    shell = ["bash", "-c", f'ulimit -f {limit}; exec "$0" "$@"', *screen_command(path)]
    kept = 1
    with DrillingTerminal(path, command=shell).started() as terminal:
        while not terminal.refused():
            kept += 1
        assert terminal.says("Make room on the disk")
        terminal.type("\x1b")
        terminal.wait("Another drill")
        terminal.type("\x11")
        assert terminal.wait_end() == 0
        terminal.assert_given_back()
    assert assert_remembered(path) == kept


@pytest.mark.long
def test_a_record_that_cannot_be_used_is_told_before_any_screen(path: Path) -> None:
    run("today", "--plain", "--deck", DECK, home=path.parent, reads="E\n")
    path.write_bytes(path.read_bytes()[:9000])
    with DrillingTerminal(path) as terminal:
        assert terminal.wait_end() == 74
        assert b"\x1b[?1049h" not in terminal.raw
        assert terminal.says("The last good backup holds ")
        terminal.assert_given_back()


@pytest.mark.long
def test_a_way_of_colouring_that_no_screen_knows_is_told(path: Path) -> None:
    with DrillingTerminal(path, TEXTUAL_COLOR_SYSTEM="none") as terminal:
        assert terminal.wait_end() == 2
        assert terminal.says("TEXTUAL_COLOR_SYSTEM is “none”, which is not a colour system")


@pytest.mark.long
def test_a_mistake_of_the_program_is_told_in_a_sentence_and_kept_in_a_file(path: Path) -> None:
    with open_at(path):
        pass
    program = (
        "import sys\n"
        "from drill.cli.main import main\nfrom drill.practice import session\n"
        "def mistaken(self): raise LookupError('a mistake with a [/ in it \\x1b[31m')\n"
        "session.Session.ask = mistaken\n"
        "sys.exit(main())\n"
    )
    command = [screen_command(path)[0], "-c", program, *screen_command(path)[3:]]
    with DrillingTerminal(path, command=command) as terminal:
        assert terminal.wait_end() == 70
        terminal.assert_given_back()
        assert terminal.says("fretsure hit an internal error and had to stop (LookupError)")
    details = path.with_name("fretsure-fault.txt")
    assert "a mistake with a [/ in it" in details.read_text(encoding="utf-8")
    assert oct(details.stat().st_mode & 0o777) == "0o600"
