"""The learner's own clock: time that counts for forgetting.

Pavlik & Anderson 2005: time between sessions holds less interference, so it counts at a small rate h. Here a gap
between two answers counts in full up to a short break, and the rest of it at rate h. So the clock never runs backwards,
and it does not jump where "within a session" becomes "between sessions".
"""

from __future__ import annotations

from dataclasses import dataclass

from drill.memory.constants import Constants


@dataclass(slots=True)
class Clock:
    """Counts `ticks` (seconds that count) since the learner's first answer."""

    last_s: float | None = None
    ticks: float = 0.0

    def read(self, now_s: float, constants: Constants) -> float:
        """Ticks at `now_s`. A clock that was set back counts as no time passed."""
        if self.last_s is None:
            return self.ticks
        gap = max(0.0, now_s - self.last_s)
        within = min(gap, constants.break_s)
        return self.ticks + within + constants.between_rate * (gap - within)

    def advance(self, now_s: float, constants: Constants) -> float:
        """Move to `now_s` and return the ticks there."""
        self.ticks = self.read(now_s, constants)
        self.last_s = now_s
        return self.ticks
