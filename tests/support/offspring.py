"""Processes that tests start: they heed signals as what a shell starts does, and none outlives its test.

Under `nohup` hanging up is ignored, and in the background of a script Ctrl+C is; children would inherit both.
"""

from __future__ import annotations

import os
import signal
from contextlib import suppress

_running: set[int] = set()


def heed_signals() -> None:
    """For a new child, before it becomes another program: from here on every signal does what it usually does."""
    for number in (signal.SIGHUP, signal.SIGQUIT, signal.SIGTERM, signal.SIGTSTP):
        signal.signal(number, signal.SIG_DFL)
    signal.signal(signal.SIGINT, signal.default_int_handler)  # where another program follows, it gets the default
    signal.pthread_sigmask(signal.SIG_SETMASK, ())


def born(pid: int) -> None:
    """Notes a child that its test has to wait for."""
    _running.add(pid)


def gone(pid: int) -> None:
    """Notes that a child has been waited for."""
    _running.discard(pid)


def end_all() -> set[int]:
    """Kills the children that a test has left behind, and gives their ids."""
    left = set(_running)
    _running.clear()
    for pid in left:
        with suppress(ChildProcessError):  # waited for already: the id may be another process's by now
            if os.waitpid(pid, os.WNOHANG) == (0, 0):
                os.kill(pid, signal.SIGKILL)
                os.waitpid(pid, 0)
    return left
