"""A clock that stands still while the program does.

The system's clock that only grows runs on while a program is stopped (SIGSTOP) and, on some systems, while the machine
sleeps. Nobody thinks at a question then. So a thread looks at it twice a second: where two looks lie far apart, the
time between them is left out, and the wall clock is seen to have run ahead, as after a sleep.

ASLEEP_S       how far the wall clock may run ahead before the machine counts as having slept
SteadyClock    the clock
steady_clock    the clock while the thread looks at it
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Event, Lock, Thread

ASLEEP_S = 3.0
"""Seconds: longer than a busy machine keeps a thread waiting."""
LOOK_S = 0.5


class SteadyClock:
    """Seconds that only grow, as `monotonic` counts them, without those in which nobody looked."""

    def __init__(self, monotonic: Callable[[], float]) -> None:
        self._monotonic = monotonic
        self._seen_s = monotonic()
        self._lost_s = 0.0
        self._one_at_a_time = Lock()

    def __call__(self) -> float:
        with self._one_at_a_time:
            now_s = self._monotonic()
            if now_s - self._seen_s > ASLEEP_S:
                self._lost_s += now_s - self._seen_s
            self._seen_s = now_s
            return now_s - self._lost_s


@contextmanager
def steady_clock(monotonic: Callable[[], float]) -> Iterator[SteadyClock]:
    """A steady clock, looked at by a thread until the block ends."""
    clock, over = SteadyClock(monotonic), Event()

    def look() -> None:
        while not over.wait(LOOK_S):
            clock()

    looking = Thread(target=look, daemon=True)
    looking.start()
    try:
        yield clock
    finally:
        over.set()
        looking.join()
