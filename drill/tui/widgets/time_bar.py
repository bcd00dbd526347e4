"""The time left in the drill, as a bar."""

from __future__ import annotations

import math

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

FULL, EMPTY = "━", "╌"
LAST = "last question"


class TimeBar(Widget):
    """One line: a bar for the part of `total_s` that is left, or that this is the last question.

    It holds no figures: whoever has one bar to answer in reads none, and a pause tells the time.
    """

    DEFAULT_CSS = """
    TimeBar { height: 1; padding: 0 1; }
    """

    left_s = reactive(1.0)
    total_s = reactive(1.0)

    def put(self, left_s: float, total_s: float) -> None:
        """Show the time in whole seconds, so that most looks at the clock paint nothing."""
        self.left_s, self.total_s = float(math.ceil(left_s)), total_s

    def render(self) -> Content:
        if self.left_s <= 0:
            return Content.styled(LAST, "$neck-quiet")
        room = self.size.width
        full = round(room * min(max(self.left_s / self.total_s, 0.0), 1.0))
        return Content.assemble((FULL * full, "$primary"), (EMPTY * (room - full), "$neck-quiet"))


def clock(seconds: float) -> str:
    """Minutes and seconds, as in '4:07'; parts of a second are rounded up, and negative times are 0:00.

    >>> clock(246.2), clock(0.0), clock(-3.0)
    ('4:07', '0:00', '0:00')
    """
    whole = math.ceil(max(seconds, 0.0))
    return f"{whole // 60}:{whole % 60:02d}"
