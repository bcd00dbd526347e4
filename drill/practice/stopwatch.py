"""Time inside a drill: how much is left, and how long the learner has thought.

Times come from a clock that only grows; a pause stops them. The wall clock beside it shows whether the machine slept or
the program was stopped: then it has run ahead (see `system.steady`). The thinking time of a question with a sleep or a
pause in it is unknown rather than wrong.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import NamedTuple

from drill.system.steady import ASLEEP_S

LONGEST_THOUGHT_S = 120.0
"""Nobody thinks about one question for longer; where only whole lines are seen, who was away is known by this."""


class Moment(NamedTuple):
    """What both clocks show at once, in seconds."""

    wall_s: float
    steady_s: float

    def slept_until(self, later: "Moment") -> bool:
        """Whether the machine slept between the two moments, or the wall clock was set."""
        return abs((later.wall_s - self.wall_s) - (later.steady_s - self.steady_s)) > ASLEEP_S


@dataclass(slots=True)
class Stopwatch:
    """Counts `length_s` seconds down, except in pauses. `now` may jump, `monotonic` may not; both in seconds."""

    now: Callable[[], float]
    monotonic: Callable[[], float]
    length_s: float
    thinking_s: float | None = None
    """Seconds from the question to the learner's first response, of the latest question; None while unknown."""
    _banked_s: float = 0.0
    _running_since_s: float | None = None
    _asked: Moment | None = None
    """When the open question was asked, while the learner thinks."""
    _responded_to: Moment | None = None
    """When the open question was asked, once the learner has responded; None if it cannot be measured any more."""
    _seen: Moment = field(init=False)
    """When `slept` last looked."""

    def __post_init__(self) -> None:
        self._running_since_s = self.monotonic()
        self._seen = self._moment()

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
        """A question was asked."""
        self.resume()
        self._asked, self._responded_to = self._moment(), None
        self.thinking_s = None

    def stop_thinking(self) -> None:
        """The learner responds: the first key, or the first note. Later calls change nothing."""
        if self._asked is None:
            return
        now = self._moment()
        self.thinking_s = None if self._asked.slept_until(now) else now.steady_s - self._asked.steady_s
        self._asked, self._responded_to = None, self._asked

    def forget_thinking(self) -> None:
        """There was nothing to think about: the answer was shown."""
        self.thinking_s = self._asked = self._responded_to = None

    def go_on_thinking(self) -> None:
        """The response was no answer: thinking, counted from the question, ends with the next response."""
        if self._responded_to is not None:
            self._asked, self._responded_to = self._responded_to, None

    def pause(self, away_s: float = 0.0) -> None:
        """Stop the time; the thinking time of the open question becomes unknown. The last `away_s` count as a pause."""
        self._banked_s, self._running_since_s = max(0.0, self.spent_s - away_s), None
        self._asked = self._responded_to = None

    def heed_absence(self) -> None:
        """Take for a pause what is too long to have been thought: nobody was there."""
        if self._asked is not None and (waited_s := self.monotonic() - self._asked.steady_s) > LONGEST_THOUGHT_S:
            self.pause(waited_s)
            self.resume()

    def resume(self) -> None:
        """Let the time run on."""
        if self._running_since_s is None:
            self._running_since_s = self.monotonic()
            self._seen = self._moment()

    def slept(self) -> bool:
        """Whether the machine slept since this was last asked, or since the time last began to run."""
        before, self._seen = self._seen, self._moment()
        return before.slept_until(self._seen)

    def _moment(self) -> Moment:
        return Moment(self.now(), self.monotonic())
