"""A neck on the screen: a drawing, centred, in the colours of its roles."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import groupby
from operator import itemgetter

from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from drill.present.neck_drawing import Drawing, Line, Role

COLUMNS_PER_PITCH = 33
"""Columns for which strings may lie a row further apart, so that frets stay wider than they are high."""
WIDEST_PITCH = 6
GAPS = 5
"""Between the six strings of most necks; one of seven strings scrolls a little earlier."""
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
    "given": "$neck-given bold reverse",
    "step": "$neck-step",
    "unmet": "$neck-quiet",
    "weak": "$neck-weak",
    "middling": "$neck-middling",
    "strong": "$neck-strong",
    "picked": "$neck-asked bold reverse",
}


class NeckView(Widget):
    """Shows what `painter` draws for the width there is."""

    DEFAULT_CSS = """
    NeckView { width: 100%; height: auto; }
    """

    painter: reactive[Painter | None] = reactive(None, repaint=False)

    def __init__(self, painter: Painter | None = None, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.set_reactive(NeckView.painter, painter)
        self._painted: tuple[Painter | None, int, Drawing] = (None, 0, ())
        """The last drawing with its painter and width; Textual asks for the height before each rendering."""

    def watch_painter(self) -> None:
        """Repaint; a new layout is needed only if the new drawing has another height, and most have not."""
        self.refresh(layout=len(self.drawing(self.size.width)) != self.size.height)

    def drawing(self, width: int) -> Drawing:
        """The drawing for a width."""
        if self._painted[:2] != (self.painter, width):
            self._painted = (self.painter, width, self.painter(max(width, 1)) if self.painter else ())
        return self._painted[2]

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self.drawing(width))

    def indent(self, drawing: Drawing) -> int:
        """Cells on the left of a drawing, which stands in the middle."""
        return max(0, (self.size.width - breadth(drawing)) // 2)

    def render(self) -> Content:
        drawing = self.drawing(self.size.width)
        return Content.assemble(*_runs(drawing, " " * self.indent(drawing))).rstrip("\n")


def grown_pitch(size: Size, beside: int) -> int:
    """How many rows strings may lie apart in a window of this size where all else takes `beside` rows."""
    fits = (size.height - beside) // GAPS
    return max(1, min(fits, size.width // COLUMNS_PER_PITCH, WIDEST_PITCH))


def breadth(drawing: Drawing) -> int:
    """Cells of the longest line."""
    return max((sum(len(segment.text) for segment in line) for line in drawing), default=0)


BOARD = "on $neck-board"
"""The background of the strings, from the nut to the last fret."""


def _runs(drawing: Drawing, indent: str) -> Iterator[str | tuple[str, str]]:
    for line in drawing:
        yield indent
        yield from coloured(line)
        yield "\n"


def coloured(line: Line) -> Iterator[tuple[str, str]]:
    """A line of a drawing in runs of one style, the strings on the background of the board."""
    board = _board(line)
    styles = (f"{STYLES[each.role]} {BOARD}" if i in board else STYLES[each.role] for i, each in enumerate(line))
    # a string is drawn fret by fret: as one run it is painted three times as fast
    for style, run in groupby(zip(styles, line, strict=True), key=itemgetter(0)):
        yield "".join(each.text for _, each in run), style


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
