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

    def __init__(self, *, first: bool = False) -> None:
        super().__init__()
        self._first = first
        """Whether the first drill comes next."""

    def drawing(self, width: int, pitch: int) -> Drawing:
        return letters_drawing(self.services.deck.neck, self.look, width, pitch)

    def lines(self, tall: bool) -> Sequence[Line]:
        """A newcomer reads three lines, for the first question is a minute away."""
        return sentences(self.services.deck.neck) if tall and not self.services.newcomer else headlines()

    @property
    def way_on(self) -> str:
        return " goes on." if self._first else super().way_on

    def action_do_continue(self) -> None:
        if self._first:
            self.navigator.open("ready")
        else:
            super().action_do_continue()
