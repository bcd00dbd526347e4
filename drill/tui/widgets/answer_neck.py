"""The neck of a drill: a click on a spot answers."""

from __future__ import annotations

from textual.events import Click
from textual.message import Message

from drill.present.neck_drawing import MarkedNeck
from drill.theory.neck import Spot
from drill.tui.widgets.neck_view import NeckView


class AnswerNeck(NeckView):
    """Shows a marked neck; posts `Touched` for a click on a spot."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._marked: MarkedNeck | None = None

    class Touched(Message):
        """The learner clicked on a spot."""

        def __init__(self, spot: Spot) -> None:
            super().__init__()
            self.spot = spot

    def put(self, marked: MarkedNeck) -> None:
        """Show a neck, as wide as there is room."""
        self._marked = marked
        self.painter = marked.drawn_for

    def on_click(self, event: Click) -> None:
        spot = self.spot_at(event.x, event.y)
        if spot is not None:
            event.stop()  # one click is one answer, or goes on once
            self.post_message(self.Touched(spot))

    def spot_at(self, column: int, row: int) -> Spot | None:
        """The spot in a cell of the widget."""
        if self._marked is None:
            return None
        width = self.size.width
        return self._marked._replace(width=width).spot_at(column - self.indent(self.drawing(width)), row)
