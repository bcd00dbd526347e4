"""An event loop that waits for nothing but work: while all its tasks sleep, it puts its clock forward instead.

So screens are tested on any machine as on one that is never busy, and a pause takes no time. While another thread works
the loop waits as any other, since what that thread does takes as long as it takes.
"""

from __future__ import annotations

import asyncio
import selectors
import threading
import time
from collections.abc import Callable
from typing import Any

from textual import _time


def let_timers_follow() -> None:
    """Let Textual's timers go by the clock of the loop, for which it has no public way."""
    _time.get_time = _loop_time


class HurryingLoop(asyncio.SelectorEventLoop):
    """Its time is that of the machine and all that it has skipped."""

    def __init__(self) -> None:
        self.skipped_s, self._older = 0.0, {*threading.enumerate()}
        super().__init__(_Impatient(self._skip))

    def time(self) -> float:
        return super().time() + self.skipped_s

    def _skip(self, seconds: float) -> bool:
        """Put the clock forward, unless a thread is alive that has begun since the loop has."""
        if not self._older.issuperset(threading.enumerate()):
            return False
        self.skipped_s += seconds
        return True


class _Impatient(selectors.DefaultSelector):
    def __init__(self, skip: Callable[[float], bool]) -> None:
        super().__init__()
        self._skip = skip

    def select(self, timeout: float | None = None) -> Any:
        ready = super().select(0)
        if ready or (timeout is not None and (timeout <= 0 or self._skip(timeout))):
            return ready
        return super().select(timeout)


def _loop_time() -> float:
    try:
        return asyncio.get_running_loop().time()
    except RuntimeError:  # outside of a loop
        return time.monotonic()
