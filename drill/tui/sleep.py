"""Notices that the machine slept, or the program was stopped, between two looks at the clocks."""

from __future__ import annotations

from collections.abc import Callable

from drill.system.steady import ASLEEP_S


class SleepWatch:
    """Compares the wall clock (`now`) with one that stands still in a sleep (`steady`), both in seconds."""

    def __init__(self, now: Callable[[], float], steady: Callable[[], float]) -> None:
        self._now, self._steady = now, steady
        self.reset()

    def reset(self) -> None:
        """Begin anew from this moment."""
        self._seen = (self._now(), self._steady())

    def slept(self) -> bool:
        """Whether there was a sleep since the last look."""
        wall, steady = (new - old for new, old in zip((self._now(), self._steady()), self._seen, strict=True))
        self.reset()
        return abs(wall - steady) > ASLEEP_S
