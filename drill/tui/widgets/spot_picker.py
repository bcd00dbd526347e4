"""The map of strength with a spot picked out by arrow keys or mouse."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.events import Click
from textual.message import Message
from textual.reactive import reactive

from drill.drawing import Drawing, Look, draw_map, spot_at
from drill.theory.neck import Neck, Spot
from drill.tui.widgets.neck_view import NeckView, breadth


class SpotPicker(NeckView, can_focus=True):
    """Shows `strengths` (and `figures`, if any) on `neck`; posts `Picked` whenever another spot is picked."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "move(0, -1)", "Left", show=False),
        Binding("right", "move(0, 1)", "Right", show=False),
        Binding("up", "move(-1, 0)", "Up", show=False),
        Binding("down", "move(1, 0)", "Down", show=False),
    ]

    strengths: reactive[Mapping[Spot, float | None]] = reactive({}, layout=True)
    figures: reactive[Mapping[Spot, str] | None] = reactive(None)
    picked: reactive[Spot] = reactive(Spot(1, 0))

    class Picked(Message):
        """Another spot is picked."""

        def __init__(self, spot: Spot) -> None:
            super().__init__()
            self.spot = spot

    def __init__(self, neck: Neck, look: Look, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.neck, self.look = neck, look

    def drawing(self, width: int) -> Drawing:
        return draw_map(self.neck, self.strengths, self.look, max(width, 1), self.picked, self.figures)

    def action_move(self, rows: int, columns: int) -> None:
        """Go so many rows down and columns right, as seen on the screen."""
        down = rows if self.look.low_string == "bottom" else -rows
        right = columns if self.look.hand == "right" else -columns
        spot = Spot(self.picked.string + down, self.picked.fret + right)
        if self.neck.holds(spot):
            self.picked = spot

    def watch_picked(self, spot: Spot) -> None:
        self.post_message(self.Picked(spot))

    def on_click(self, event: Click) -> None:
        width = self.size.width
        indent = max(0, (width - breadth(self.drawing(width))) // 2)
        column = event.x - indent
        spot = spot_at(self.neck, self.strengths, self.look, width, self.picked, column, event.y)
        if spot is not None:
            self.picked = spot
