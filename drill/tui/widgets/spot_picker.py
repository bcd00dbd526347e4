"""The map of strength: one whose spots can be clicked, and one with a spot picked by arrow keys or a click."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.events import Click
from textual.message import Message
from textual.reactive import reactive

from drill.present.neck_drawing import Drawing, Look, NeckMap
from drill.theory.neck import STANDARD, Neck, Spot
from drill.tui.widgets.neck_view import NeckView


class StrengthMap(NeckView):
    """Shows `strengths` (and `figures`, if any) on `neck`; posts `Touched` for a click on a spot."""

    neck: reactive[Neck] = reactive(Neck(STANDARD), layout=True)
    look: reactive[Look] = reactive(Look())
    strengths: reactive[Mapping[Spot, float | None]] = reactive({}, layout=True)
    figures: reactive[Mapping[Spot, str] | None] = reactive(None)
    picked: reactive[Spot | None] = reactive(None)
    pitch: reactive[int] = reactive(1, layout=True)
    """Rows from one string to the next."""
    strings: reactive[tuple[int, ...]] = reactive((), layout=True)
    """The strings to draw; without any, all."""

    class Touched(Message):
        """The learner clicked on a spot."""

        def __init__(self, spot: Spot) -> None:
            super().__init__()
            self.spot = spot

    def drawing(self, width: int) -> Drawing:
        return self._map(width).draw()

    def _map(self, width: int) -> NeckMap:
        look, room = self.look, max(width, 1)
        return NeckMap(
            self.neck, self.strengths, look, room, self.picked, self.figures, pitch=self.pitch, strings=self.strings
        )

    def on_click(self, event: Click) -> None:
        shown = self._map(self.size.width)
        spot = shown.spot_at(event.x - self.indent(shown.draw()), event.y)
        if spot is not None:
            self.post_message(self.Touched(spot))


class SpotPicker(StrengthMap, can_focus=True):
    """A map with one spot picked; posts `Picked` whenever the learner picks another."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left", "move(0, -1)", "Left", show=False),
        Binding("right", "move(0, 1)", "Right", show=False),
        Binding("up", "move(-1, 0)", "Up", show=False),
        Binding("down", "move(1, 0)", "Down", show=False),
    ]

    class Picked(Message):
        """Another spot is picked."""

        def __init__(self, spot: Spot) -> None:
            super().__init__()
            self.spot = spot

    def __init__(self, neck: Neck, look: Look, picked: Spot, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.set_reactive(StrengthMap.neck, neck)
        self.set_reactive(StrengthMap.look, look)
        self.set_reactive(StrengthMap.picked, picked)

    @property
    def spot(self) -> Spot:
        """The picked spot."""
        assert self.picked is not None  # set at the start, and never set to None
        return self.picked

    def action_move(self, rows: int, columns: int) -> None:
        """Move the pick down and right by so many rows and columns, as seen on the screen."""
        down = rows if self.look.low_string == "bottom" else -rows
        right = columns if self.look.hand == "right" else -columns
        spot = Spot(self.spot.string + down, self.spot.fret + right)
        if self.neck.holds(spot):
            self.picked = spot

    def watch_picked(self) -> None:
        self.post_message(self.Picked(self.spot))

    def on_strength_map_touched(self, event: StrengthMap.Touched) -> None:
        self.picked = event.spot
