"""Who waits at a terminal is told why; a pipe, and who need not wait, are told nothing."""

from __future__ import annotations

import io
import sqlite3
import sys
import threading
from pathlib import Path

import pytest

from drill.practice.demo import fill
from drill.system.environment import Environment
from drill.system.slow_notice import READING, notify_if_slow
from tests.support.terminal import PATIENCE_S, Terminal

NEVER_S = 3600.0
WAITERS = {
    "progress": (["progress"], "How far to trust these chances"),
    "a drill line by line": (["today", "--plain"], "1. "),
    "the program": ([], "t Today"),
}
"""Commands that need what is known of the learner, and what they show once they have it."""


class Screen(io.StringIO):
    """A terminal, or a pipe, that lets a test wait until something is said on it."""

    def __init__(self, *, terminal: bool) -> None:
        super().__init__()
        self._terminal = terminal
        self.said = threading.Event()

    def isatty(self) -> bool:
        return self._terminal

    def flush(self) -> None:
        self.said.set()


def test_long_work_is_explained_once() -> None:
    screen = Screen(terminal=True)
    with notify_if_slow(screen, after_s=0.0):
        assert screen.said.wait(PATIENCE_S)
    assert screen.getvalue() == f"{READING}\n"


def test_short_work_is_not() -> None:
    screen = Screen(terminal=True)
    before = threading.active_count()
    with notify_if_slow(screen, after_s=NEVER_S):
        assert threading.active_count() == before + 1
    assert threading.active_count() == before
    assert screen.getvalue() == ""


def test_a_pipe_is_told_nothing() -> None:
    pipe = Screen(terminal=False)
    before = threading.active_count()
    with notify_if_slow(pipe, after_s=0.0):
        assert threading.active_count() == before
    assert pipe.getvalue() == ""


def test_work_that_is_stopped_takes_the_sentence_along() -> None:
    screen = Screen(terminal=True)
    before = threading.active_count()
    with pytest.raises(KeyboardInterrupt), notify_if_slow(screen, after_s=NEVER_S):
        raise KeyboardInterrupt
    assert threading.active_count() == before


@pytest.mark.long
@pytest.mark.parametrize(("arguments", "then"), WAITERS.values(), ids=WAITERS)
def test_at_a_terminal_the_wait_for_a_record_is_explained(
    fake_environment: Environment, tmp_path: Path, arguments: list[str], then: str
) -> None:
    """What is known has to be derived from the log, and another program holds the record meanwhile."""
    fill(fake_environment)
    world = {
        "PYTHONPATH": str(Path(__file__).parents[2]),
        "FRETSURE_RECORD": str(fake_environment.record_path),
        "XDG_CONFIG_HOME": str(tmp_path),
        "HOME": str(tmp_path),
        "LANG": "C.UTF-8",
        "PATH": "/usr/bin:/bin",
    }
    other = sqlite3.connect(fake_environment.record_path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with Terminal([sys.executable, "-m", "drill", *arguments], world, columns=120) as terminal:
        terminal.wait(READING)
        other.close()
        terminal.wait(then)
