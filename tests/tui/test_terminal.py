"""The real program in a real terminal (a pseudo-terminal, read through pyte): from the first key to a second start."""

from __future__ import annotations

import re
import signal
import sys
import time
from pathlib import Path

import pytest

from drill.decks import load_deck
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from tests.support.asking import answers
from tests.support.terminal import Terminal

FRETSURE = [sys.executable, "-m", "drill"]
ENTER, ESCAPE = "\r", "\x1b"
COLOUR = re.compile(rb"\x1b\[(?:[0-9;]*;)?(?:3[0-7]|4[0-7]|9[0-7]|[34]8;[25];[0-9;]+)m")
"""A colour of foreground or background (ECMA-48, SGR)."""
QUESTION = re.compile(r"Fret (\d+), string (\d) \(.*?\) Which note\?")
SOLVED = "any key goes on"
BEATS = re.compile("[●○]  [●○]")
"""The beats of the bar, which run while a question waits for its answer."""
GUARD_S, READ_S = 1.6, 0.4
"""So long after a card that is shown solved came, or a question by itself, a key still counts for what was there."""


def settings_of(folder: Path) -> Path:
    """A folder with settings in which the deck of naturals is today's: one letter is an answer there."""
    (folder / "fretsure").mkdir()
    (folder / "fretsure" / "settings.toml").write_text('deck = "naturals"\n', encoding="utf-8")
    return folder


@pytest.fixture
def world(tmp_path: Path) -> dict[str, str]:
    root = str(Path(__file__).parents[2])
    return {
        "PYTHONPATH": root,
        "FRETSURE_RECORD": str(tmp_path / "record.sqlite3"),
        "XDG_CONFIG_HOME": str(settings_of(tmp_path)),
        "HOME": str(tmp_path),
        "LANG": "C.UTF-8",
        "PATH": "/usr/bin:/bin",
    }


def kept(world: dict[str, str]) -> int:
    """How many answers the record holds."""
    environment = Environment.real(record=world["FRETSURE_RECORD"])
    with Record.open(environment.record_path, environment.now) as record:
        return len(answers(record))


def right_answer(screen: str) -> str:
    """The answer to the question on the screen, taken from the deck."""
    deck = load_deck("naturals", Settings().neck)
    found = QUESTION.search(" ".join(screen.split()))
    assert found, screen
    return deck.card(f"note-at-fret:string={found[2]}:fret={found[1]}").accepts[0]


def asked(terminal: Terminal) -> str:
    """The screen with a question that wants an answer; a card that is shown solved before it is left by a key."""
    screen = terminal.wait(lambda text: SOLVED in text or BEATS.search(text))
    if SOLVED in screen:
        time.sleep(GUARD_S)
        terminal.type("x")
    return terminal.wait(lambda text: SOLVED not in text and BEATS.search(text))


def answer_one(terminal: Terminal) -> None:
    """Answer the question on the screen with one key and see the verdict; the next question comes by itself."""
    terminal.type(right_answer(asked(terminal)))
    terminal.wait("✓ Right")
    terminal.wait(lambda text: "✓ Right" not in text)
    time.sleep(READ_S)


@pytest.mark.long
def test_from_the_first_key_to_a_second_start_that_remembers(world: dict[str, str]) -> None:
    with Terminal(FRETSURE, world) as terminal:
        before = terminal.settings()
        terminal.wait("Welcome to fretsure")
        terminal.type(ESCAPE)
        terminal.wait("Enter starts your first")
        terminal.type(ENTER)
        for _ in range(3):
            answer_one(terminal)
        asked(terminal)
        terminal.type(ESCAPE)
        terminal.wait("3 of 3 right")
        time.sleep(GUARD_S)
        terminal.type(ENTER)
        terminal.wait("t Today")
        terminal.type("q")
        assert terminal.wait_end() == 0
        assert_given_back(terminal, before)
    assert kept(world) == 3
    with Terminal(FRETSURE, world) as terminal:
        terminal.wait(lambda text: "t Today" in text and re.search(r"6 E.*[▁▂▃▄▅▆▇█]", text) is not None)
        assert "Enter starts your first" not in terminal.text()


def test_help_breaks_its_lines_where_the_page_ends(world: dict[str, str]) -> None:
    with Terminal(FRETSURE, world, 80, 40) as terminal:
        terminal.wait("Welcome to fretsure")
        terminal.type("\x1bOP")  # F1
        screen = terminal.wait(lambda screen: "Everywhere" in screen and "Esc Back" in screen)
    entries = screen.partition("Everywhere")[2].splitlines()[1:-1]
    broken = [line for line in entries if line and not line[:4].isspace() and not line[2].isupper()]
    assert not broken, screen


@pytest.mark.long
def test_killed_in_the_middle_on_a_small_terminal_nothing_answered_is_lost(world: dict[str, str]) -> None:
    with Terminal([*FRETSURE, "today"], world, 40, 12) as terminal:
        answer_one(terminal)
        answer_one(terminal)
        asked(terminal)
        terminal.signal(signal.SIGKILL)
        assert terminal.wait_end() == 128 + signal.SIGKILL
    assert kept(world) == 2


@pytest.mark.long
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_gives_the_terminal_back_and_no_colour_is_sent_where_none_is_wanted(
    world: dict[str, str], number: signal.Signals
) -> None:
    with Terminal([*FRETSURE, "today"], {**world, "NO_COLOR": "1"}) as terminal:
        before = terminal.settings()
        asked(terminal)
        terminal.type("?")
        assert "Why:" in terminal.wait("○ Not known")
        time.sleep(GUARD_S)
        terminal.type("\r")
        asked(terminal)
        terminal.type(" ")
        assert "Which note?" not in terminal.wait("Paused time does not count."), "a pause hides the question"
        terminal.signal(number)
        assert terminal.wait_end() == 130
        assert_given_back(terminal, before)
        assert COLOUR.search(terminal.raw) is None
        assert terminal.says("Every answer given so far is saved")


def assert_given_back(terminal: Terminal, before: list[object]) -> None:
    """The terminal is as it was: its settings, and the screen before the program."""
    assert terminal.settings() == before
    assert b"\x1b[?1049l" in terminal.raw[-4000:]
