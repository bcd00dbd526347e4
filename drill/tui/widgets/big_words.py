"""A few words as large as they fit, to be read from where a guitar is held."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from drill.tui.widgets.block_letters import ROWS, block_letters


class BigWords(Widget):
    """Words in block letters of at most `scale`; plain where the screen is too narrow for them."""

    DEFAULT_CSS = """
    BigWords { width: 100%; height: auto; color: $primary; text-style: bold; }
    """

    words = reactive("", layout=True)
    short = reactive("", layout=True)
    """What to draw instead where the words are too long for block letters."""
    scale = reactive(1, layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(ROWS, len(self._rows(width)))  # words that change move nothing

    def render(self) -> Content:
        width = self.size.width
        rows = self._rows(width)
        indent = " " * max(0, (width - max(map(len, rows))) // 2)
        return Content("\n".join(indent + row for row in rows))

    def _rows(self, width: int) -> tuple[str, ...]:
        drawn = (block_letters(words, width, self.scale) for words in (self.words, self.short) if words)
        return next(filter(None, drawn), (self.words[:width],))
