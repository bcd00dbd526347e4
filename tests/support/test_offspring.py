"""Children of the tests: heedful of signals whatever the tests were started with, and ended with their test."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Iterator

import pytest

from tests.support import offspring
from tests.support.children import forked
from tests.support.terminal import Terminal

DEAF = (signal.SIGHUP, signal.SIGINT)
"""Ignored in what `nohup` starts, and in what a script starts in the background."""


@pytest.fixture
def started_deaf() -> Iterator[None]:
    before = {number: signal.signal(number, signal.SIG_IGN) for number in DEAF}
    yield
    for number, handler in before.items():
        signal.signal(number, handler)


@pytest.mark.parametrize("number", DEAF)
def test_a_program_in_a_terminal_heeds_what_its_tester_ignores(started_deaf: None, number: signal.Signals) -> None:
    with Terminal(["sh", "-c", "echo here; exec sleep 1000"], {"PATH": os.environ["PATH"]}) as terminal:
        terminal.wait("here")
        terminal.signal(number)
        assert terminal.wait_end() == 128 + number


def test_a_forked_child_heeds_what_its_tester_ignores(started_deaf: None) -> None:
    def tell(pipe: int) -> None:
        os.write(pipe, str([signal.getsignal(number) is not signal.SIG_IGN for number in DEAF]).encode())

    assert forked(tell).rest() == b"[True, True]"


def test_a_child_that_is_left_behind_is_ended() -> None:
    child = forked(lambda pipe: time.sleep(1000))
    os.close(child.pipe)
    assert offspring.end_all() == {child.pid}
    with pytest.raises(ProcessLookupError):
        os.kill(child.pid, 0)
