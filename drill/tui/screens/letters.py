"""The letters of the notes on one drawn page: their order, and how far apart they lie."""

from __future__ import annotations

from collections.abc import Sequence

from drill.present.letters import headlines, letters_drawing, sentences
from drill.present.neck_drawing import Drawing
from drill.present.verdicts import Line
from drill.tui.commands import bindings
from drill.tui.screens.idea import DrawnPage


class LettersScreen(DrawnPage):
    """Shown at the first start to whoever does not know the notes, before any is asked, and from help."""

    where = "letters"
    caption = "The letters"
    BINDINGS = bindings("letters")

    def drawing(self, width: int, pitch: int) -> Drawing:
        return letters_drawing(self.settings.neck, self.look, width, pitch)

    def lines(self, tall: bool) -> Sequence[Line]:
        """A newcomer reads three lines, for the first question is a minute away."""
        return sentences(self.settings.neck) if tall and not self.services.newcomer else headlines()

    @property
    def way_on(self) -> str:
        return " goes on."
