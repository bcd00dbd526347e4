"""A clock that leaves out the time in which the program is stopped.

The system's monotonic clock runs on while a program is stopped (SIGSTOP) and, on some systems, while the machine
sleeps. Nobody is thinking about a question then. So a thread reads the clock twice a second; a long gap between two
readings is left out, and the wall clock is then ahead, as after a sleep.

ASLEEP_S       how far the wall clock may run ahead before the machine counts as having slept
SteadyClock    the clock
steady_clock   runs the thread that reads it
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Lock, Thread

ASLEEP_S = 3.0
"""Longer than a busy machine keeps a thread waiting."""
READING_S = 0.5


class SteadyClock:
    """The seconds of `monotonic`, without the gaps in which nothing read this clock."""

    def __init__(self, monotonic: Callable[[], float]) -> None:
        self._monotonic = monotonic
        self._seen_s = monotonic()
        self._lost_s = 0.0
        self._lock = Lock()

    def __call__(self) -> float:
        with self._lock:
            now_s = self._monotonic()
            if now_s - self._seen_s > ASLEEP_S:
                self._lost_s += now_s - self._seen_s
            self._seen_s = now_s
            return now_s - self._lost_s


@contextmanager
def steady_clock(monotonic: Callable[[], float]) -> Iterator[SteadyClock]:
    """Give a steady clock that a thread keeps reading until the block ends."""
    clock, finished = SteadyClock(monotonic), Event()

    def keep_reading() -> None:
        while not finished.wait(READING_S):
            clock()

    reader = Thread(target=keep_reading, daemon=True)
    reader.start()
    try:
        yield clock
    finally:
        finished.set()
        reader.join()
