"""The last filter before the terminal: no text on a screen can control it, wherever the text came from."""

from __future__ import annotations

from typing import Any

from textual.color import Color
from textual.filter import LineFilter
from textual.strip import Strip

from drill.system.text import visible


class EscapeFilter(LineFilter):
    """Replaces control characters in a painted line by visible ones and keeps the width of the line."""

    def apply(self, segments: list[Any], background: Color) -> list[Any]:
        if all(segment.text.isprintable() for segment in segments):
            return segments
        shown = [segment._replace(text=visible(segment.text)) for segment in segments]
        return list(Strip(shown).adjust_cell_length(Strip(segments).cell_length))
