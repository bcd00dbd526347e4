"""Notices that the machine slept, or the program was stopped, between two looks at the clocks."""

from __future__ import annotations

from collections.abc import Callable

CLOCKS_APART_S = 3.0
"""The wall clock runs on in a sleep and the monotonic one, on most systems, does not: so far apart means a sleep."""
LONGEST_TICK_S = 30.0
"""Where the monotonic clock runs on too, no two looks are as far apart as this while the program runs."""


class SleepWatch:
    """Compares the wall clock (`now`) with the clock that only grows (`monotonic`), both in seconds."""

    def __init__(self, now: Callable[[], float], monotonic: Callable[[], float]) -> None:
        self._now, self._monotonic = now, monotonic
        self.reset()

    def reset(self) -> None:
        """Begin anew from this moment."""
        self._seen = (self._now(), self._monotonic())

    def slept(self) -> bool:
        """Whether there was a sleep since the last look."""
        wall, steady = (new - old for new, old in zip((self._now(), self._monotonic()), self._seen, strict=True))
        self.reset()
        return abs(wall - steady) > CLOCKS_APART_S or steady > LONGEST_TICK_S
