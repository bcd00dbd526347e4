"""A neck on the screen: whatever drawing it is given, centred, in the colours of its roles."""

from __future__ import annotations

from collections.abc import Callable

from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from drill.drawing import Drawing, Line, Role

Painter = Callable[[int], Drawing]
"""Draws for a width in cells."""

STYLES: dict[Role, str] = {
    "label": "$neck-quiet",
    "string": "$neck-string",
    "nut": "$neck-nut bold",
    "number": "$neck-quiet",
    "inlay": "$neck-inlay bold",
    "beyond": "$neck-asked bold",
    "asked": "$neck-asked bold reverse",
    "note": "$neck-note",
    "minor tonic": "$neck-minor bold",
    "major tonic": "$neck-major bold",
    "unmet": "$neck-quiet",
    "weak": "$neck-weak",
    "middling": "$neck-middling",
    "strong": "$neck-strong",
    "picked": "$neck-asked bold reverse",
}


class NeckView(Widget):
    """Shows what `painter` draws for the width there is."""

    painter: reactive[Painter | None] = reactive(None, layout=True)

    def __init__(self, painter: Painter | None = None, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.set_reactive(NeckView.painter, painter)

    def drawing(self, width: int) -> Drawing:
        """What is shown at a width."""
        return self.painter(max(width, 1)) if self.painter else ()

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self.drawing(width))

    def render(self) -> Content:
        drawing = self.drawing(self.size.width)
        indent = " " * max(0, (self.size.width - breadth(drawing)) // 2)
        return Content("\n").join(Content(indent) + coloured(line) for line in drawing)


def breadth(drawing: Drawing) -> int:
    """Cells of the longest line."""
    return max((sum(len(segment.text) for segment in line) for line in drawing), default=0)


BOARD = "on $neck-board"
"""What lies under the strings, from the nut to the last fret."""


def coloured(line: Line) -> Content:
    """A line of a drawing with the colours of its roles, the strings on the wood of the board."""
    board = _board(line)
    return Content.assemble(
        *(
            (each.text, f"{STYLES[each.role]} {BOARD}" if i in board else STYLES[each.role])
            for i, each in enumerate(line)
        )
    )


def _board(line: Line) -> range:
    """Which segments lie on the board: on one side of the nut, or all but the label where the nut is out of sight."""
    roles = [segment.role for segment in line]
    if "string" not in roles:
        return range(0)
    mirrored = roles[-1] == "label"
    if "nut" in roles:
        nut = roles.index("nut")
        return range(nut) if mirrored else range(nut + 1, len(line))
    return range(len(line) - 1) if mirrored else range(1, len(line))
