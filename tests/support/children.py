"""Processes that suffer a fault, so that the test itself need not: forked, watched through a pipe, reaped."""

from __future__ import annotations

import ctypes
import os
import select
import signal
import traceback
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import NoReturn

from tests.support import offspring

CAPABILITIES_V3 = 0x20080522
DAC_OVERRIDE = 1 << 1
"""From linux/capability.h: the version of its structures, and the bit of the right to write whatever a file's mode."""


@dataclass(frozen=True, slots=True)
class Child:
    """A running process; what it writes to `pipe` is what it says it has done."""

    pid: int
    pipe: int

    def heard(self, seconds: float) -> bytes:
        """What it says within this time; nothing when it keeps silent or has ended."""
        ready, _, _ = select.select([self.pipe], [], [], seconds)
        return os.read(self.pipe, 65536) if ready else b""

    def rest(self) -> bytes:
        """Everything it says until it ends; then it is reaped."""
        said = b""
        while piece := os.read(self.pipe, 65536):
            said += piece
        os.close(self.pipe)
        os.waitpid(self.pid, 0)
        offspring.gone(self.pid)
        return said

    def kill(self) -> None:
        with suppress(ProcessLookupError):
            os.kill(self.pid, signal.SIGKILL)


def forked(work: Callable[[int], None]) -> Child:
    """A child that does `work(pipe)` and ends. It shares no open record with its parent: SQLite forbids that."""
    reading, writing = os.pipe()
    pid = os.fork()
    if pid == 0:
        os.close(reading)
        offspring.heed_signals()
        _work_and_end(work, writing)
    os.close(writing)
    offspring.born(pid)
    return Child(pid, reading)


def together(work: Callable[[int], None], count: int) -> bytes:
    """What `count` children say who are all let go at the same moment."""
    waiting, gate = os.pipe()

    def wait_then_work(pipe: int) -> None:
        os.close(gate)
        os.read(waiting, 1)  # gives nothing, when the parent closes its end
        work(pipe)

    children = [forked(wait_then_work) for _ in range(count)]
    os.close(gate)
    said = b"".join([child.rest() for child in children])
    os.close(waiting)
    return said


def told_by_child(work: Callable[[], object]) -> str:
    """What `work` gives in a process of its own, as text; `Kind: message` when it raises."""

    def tell(pipe: int) -> None:
        try:
            answer = str(work())
        except BaseException as error:
            answer = f"{type(error).__name__}: {error}"
        os.write(pipe, answer.encode())

    return forked(tell).rest().decode()


def without_privileges() -> None:
    """From here on permissions to write hold for root, too.

    Root gives up the capability to pass them over and nothing else, so the program is found even in a folder that only
    root can enter. https://man7.org/linux/man-pages/man7/capabilities.7.html, man2/capget.2.html
    """
    if os.geteuid() != 0:
        return
    libc = ctypes.CDLL(None, use_errno=True)
    header = (ctypes.c_uint32 * 2)(CAPABILITIES_V3, 0)
    sets = (ctypes.c_uint32 * 6)()  # effective, permitted, inheritable: the lower half of each, then the upper
    if libc.capget(header, sets) == 0:
        for lower in range(3):
            sets[lower] &= ~DAC_OVERRIDE
    if libc.capset(header, sets) != 0:
        raise OSError(ctypes.get_errno(), "root cannot be made to heed permissions")


def _work_and_end(work: Callable[[int], None], pipe: int) -> NoReturn:
    """Ends the child without the parent's clean-up: pytest and open files are the parent's business."""
    code = 1
    try:
        work(pipe)
        code = 0
    except BaseException:
        traceback.print_exc()
    finally:
        os._exit(code)
