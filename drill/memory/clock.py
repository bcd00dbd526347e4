"""The learner's own clock: time that counts for forgetting.

Pavlik & Anderson 2005: time between sessions holds less interference, so it counts at a small rate h. Here a gap
between two answers counts in full up to a short break, and the rest of it at rate h. So the clock never runs backwards,
and it does not jump where "within a session" becomes "between sessions".
"""

from __future__ import annotations

from dataclasses import dataclass

from drill.memory.constants import Constants
from drill.memory.recent import BREAK_S


@dataclass(slots=True)
class Clock:
    """Counts `ticks` (seconds that count) since the learner's first answer."""

    last_s: float | None = None
    ticks: float = 0.0
    began: float = 0.0
    """Ticks when the latest drill began: at the first answer after a break of BREAK_S."""

    def read(self, now_s: float, constants: Constants) -> float:
        """Ticks at `now_s`. A clock that was set back counts as no time passed."""
        if self.last_s is None:
            return self.ticks
        gap = max(0.0, now_s - self.last_s)
        within = min(gap, constants.break_s)
        return self.ticks + within + constants.between_rate * (gap - within)

    def begins_drill(self, now_s: float) -> bool:
        """Whether an answer at `now_s` begins a new drill: the one before it is longer ago than a break."""
        return self.last_s is None or now_s - self.last_s > BREAK_S

    def advance(self, now_s: float, constants: Constants) -> float:
        """Move to `now_s` and return the ticks there."""
        self.ticks = self.read(now_s, constants)
        if self.begins_drill(now_s):
            self.began = self.ticks
        self.last_s = now_s
        return self.ticks
