"""What a question is about, in block letters."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from drill.tui.widgets.block_letters import ROWS, block_letters


class SubjectView(Widget):
    """Draws a few words at a scale, 0 for not at all; nothing where they are too long for it.

    The room it takes depends on the scale and not on the words.
    """

    DEFAULT_CSS = "SubjectView { width: 100%; height: auto; }"

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._words, self._scale, self._above = "", 0, 0

    def put(self, words: str, scale: int, above: int) -> None:
        """Show words at a scale below some empty rows; only another room needs a new layout."""
        grown, self._words = (scale, above) != (self._scale, self._above), words
        self._scale, self._above = scale, above
        self.display = scale > 0
        self.refresh(layout=grown)

    @property
    def _rows(self) -> int:
        return self._above + ROWS * self._scale

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return self._rows

    def render(self) -> Content:
        rows = block_letters(self._words, self.size.width, self._scale) or ()  # the words stand below, too
        above = [""] * (self._rows - len(rows))  # what is smaller stands on the same line
        return Content.styled("\n".join((*above, *rows)), "$primary bold")
