"""Esc pressed shortly before another key: it does what it says, and nothing is typed or judged."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from textual._ansi_sequences import ANSI_SEQUENCES_KEYS
from textual._xterm_parser import XTermParser
from textual.events import Key
from textual.message import Message

from drill.record import Record
from drill.tui.escape_key import tell_escape_apart
from tests.support.asking import answers
from tests.support.screens import begin, press, until
from tests.tui.conftest import MakeApp
from tests.tui.test_drill import asking_notes
from tests.tui.test_pause_and_copy import where

UP = "\x1b[A"
"""The sequence of the arrow key (ECMA-48)."""


@pytest.fixture
def _table() -> Iterator[None]:
    """Leaves the table of Textual as it was."""
    before = dict(ANSI_SEQUENCES_KEYS)
    yield
    ANSI_SEQUENCES_KEYS.clear()
    ANSI_SEQUENCES_KEYS.update(before)


def keys(*reads: str) -> list[str]:
    """The keys that Textual makes of what a terminal sends, the last read followed by an arrow key."""
    tell_escape_apart({"alt+x"})
    parser = XTermParser()
    messages: list[Message] = [message for read in (*reads, UP) for message in parser.feed(read)]
    assert all(isinstance(message, Key) for message in messages)
    return [message.key for message in messages if isinstance(message, Key)]


@pytest.mark.parametrize(
    ("read", "pressed"),
    [
        ("\r", ["enter"]),
        ("\r\r", ["enter", "enter"]),
        (" ", ["space"]),
        ("?", ["question_mark"]),
        ("5", ["5"]),
        ("e", ["e"]),
        ("B", ["B"]),
        ("b", ["b"]),
        ("#", ["number_sign"]),
        ("1\r", ["1", "enter"]),
    ],
)
@pytest.mark.usefixtures("_table")
def test_escape_and_a_key_in_one_read_are_both_of_them(read: str, pressed: list[str]) -> None:
    assert keys("\x1b" + read) == ["escape", *pressed, "up"]


@pytest.mark.usefixtures("_table")
def test_what_is_one_key_to_a_terminal_stays_one() -> None:
    assert keys("\x1b[B", "\x1bOP", "\x1b[Z", "\x1b\t") == ["down", "f1", "shift+tab", "shift+tab", "up"]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("typed", ["", "b", "zz"])
async def test_escape_and_enter_at_once_end_the_drill_and_judge_nothing(
    typed: str, make_app: MakeApp, record: Record
) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, *typed, "escape", "enter")
        await until(pilot, lambda: where(app) == "after")
        await pilot.pause()
        assert where(app) == "after"
    assert answers(record) == []
