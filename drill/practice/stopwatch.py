"""Time inside a drill: how much is left, and how long the learner has thought.

Measured with a clock that only grows. A pause stops both. If the wall clock has run ahead of it (the machine slept or
the program was stopped: see `steady`), or a pause fell into a question, the thinking time of that question is unknown
rather than wrong.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from drill.system.steady import ASLEEP_S


@dataclass(slots=True)
class Stopwatch:
    """Counts `length_s` seconds down, pauses aside. `now` may jump, `monotonic` may not; both in seconds."""

    now: Callable[[], float]
    monotonic: Callable[[], float]
    length_s: float
    thinking_s: float | None = None
    """Seconds from the question to the first key, of the question asked last; None while unknown."""
    _banked_s: float = 0.0
    _running_since_s: float | None = None
    _asked: tuple[float, float] | None = None
    _begun: tuple[float, float] | None = None
    """When the question was asked whose answer has been begun; None once that is no longer of use."""

    def __post_init__(self) -> None:
        self._running_since_s = self.monotonic()

    @property
    def spent_s(self) -> float:
        """Seconds drilled so far, without pauses."""
        running_s = 0.0 if self._running_since_s is None else self.monotonic() - self._running_since_s
        return self._banked_s + running_s

    @property
    def seconds_left(self) -> float:
        """Seconds until the time is up; not below 0."""
        return max(0.0, self.length_s - self.spent_s)

    @property
    def paused(self) -> bool:
        return self._running_since_s is None

    def start_thinking(self) -> None:
        """A question is on the table."""
        self.resume()
        self._asked, self._begun = (self.monotonic(), self.now()), None
        self.thinking_s = None

    def stop_thinking(self) -> None:
        """The first key of the answer; later calls change nothing."""
        if self._asked is None:
            return
        thinking_s = self.monotonic() - self._asked[0]
        slept_s = self.now() - self._asked[1] - thinking_s
        self.thinking_s = thinking_s if abs(slept_s) <= ASLEEP_S else None
        self._asked, self._begun = None, self._asked

    def go_on_thinking(self) -> None:
        """What was typed is no answer: thinking, counted from the question, ends with the next first key."""
        if self._begun is not None:
            self._asked, self._begun = self._begun, None

    def pause(self) -> None:
        """Hold the time; the open question's thinking time becomes unknown."""
        self._banked_s, self._running_since_s = self.spent_s, None
        self._asked = self._begun = None

    def resume(self) -> None:
        """Let the time run on."""
        if self._running_since_s is None:
            self._running_since_s = self.monotonic()
