"""The beats of a bar: a row of dots, the one that sounds now filled.

It moves without a flash: a dot is lit once a bar, at most once a second (WCAG 2.2, success criterion 2.3.1, allows
three flashes a second).
"""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from drill.theory.bars import BEATS_IN_A_BAR

ON, OFF = "●", "○"


class Beats(Widget):
    """Four dots, and a note beside them. `beat` counts from 0; with none no dot is filled."""

    DEFAULT_CSS = """
    Beats { height: 1; width: 100%; content-align: center middle; text-align: center; }
    """

    beat: reactive[int | None] = reactive(None)
    note = reactive("")

    def render(self) -> Content:
        dots = "  ".join(ON if beat == self.beat else OFF for beat in range(BEATS_IN_A_BAR))
        return Content.assemble((dots, "$primary bold"), f"   {self.note}" if self.note else "")
