"""A full screen that is asked to leave leaves, or is ended: in a process of its own, stuck on purpose."""

from __future__ import annotations

import signal
import subprocess
import sys
import threading
import time

import pytest

from drill.system.signals import INTERRUPTED, STOPS, exit_on_signal
from tests.support.offspring import heed_signals
from tests.support.terminal import PATIENCE_S

STUCK = """
import os, signal, threading
from drill.system.signals import exit_on_signal
asked = []
with exit_on_signal(lambda: asked.append(1), grace_s={grace_s}):
    lock = threading.Lock()
    lock.acquire()
    print("stuck", flush=True)
    lock.acquire({blocking})
    while not asked:
        pass
print("left", flush=True)
"""


def struck(grace_s: float, *, stuck: bool, number: signal.Signals) -> tuple[int, str]:
    """The exit code of a process that gets a signal while it waits for a lock, or while it goes on, and its words."""
    program = STUCK.format(grace_s=grace_s, blocking=stuck)
    command = [sys.executable, "-c", program]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, preexec_fn=heed_signals) as process:
        try:
            assert process.stdout is not None
            assert process.stdout.readline() == "stuck\n"
            process.send_signal(number)
            said, _ = process.communicate(timeout=PATIENCE_S)
        finally:
            process.kill()
    return process.returncode, said


@pytest.mark.parametrize("number", STOPS)
def test_what_is_stuck_is_ended_in_time(number: signal.Signals) -> None:
    began = time.monotonic()
    assert struck(0.05, stuck=True, number=number) == (INTERRUPTED, "")
    assert time.monotonic() - began < 20


def test_what_leaves_in_time_goes_on_to_close_what_is_open() -> None:
    assert struck(3600.0, stuck=False, number=signal.SIGTERM) == (0, "left\n")


def test_signals_are_heeded_as_before_once_all_have_left() -> None:
    threads, heeded = threading.active_count(), [signal.getsignal(number) for number in STOPS]
    with exit_on_signal(lambda: None):
        assert [signal.getsignal(number) for number in STOPS] != heeded
    assert [signal.getsignal(number) for number in STOPS] == heeded
    assert threading.active_count() == threads
