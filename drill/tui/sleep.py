"""Notices that the machine slept, or that the program was suspended, between two readings of the clocks."""

from __future__ import annotations

from collections.abc import Callable

from drill.system.steady import ASLEEP_S


class SleepWatch:
    """Compares the wall clock (`now`) with one that stops during sleep (`steady`), both in seconds."""

    def __init__(self, now: Callable[[], float], steady: Callable[[], float]) -> None:
        self._now, self._steady = now, steady
        self.reset()

    def reset(self) -> None:
        """Start again from this moment."""
        self._seen = (self._now(), self._steady())

    def slept(self) -> bool:
        """Whether the machine slept since the last reading."""
        wall, steady = (new - old for new, old in zip((self._now(), self._steady()), self._seen, strict=True))
        self.reset()
        return abs(wall - steady) > ASLEEP_S
