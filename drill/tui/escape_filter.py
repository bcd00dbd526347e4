"""The last door before the terminal: no text on a screen acts on it, wherever it came from."""

from __future__ import annotations

from typing import Any

from textual.color import Color
from textual.filter import LineFilter
from textual.strip import Strip

from drill.system.text import visible


class EscapeFilter(LineFilter):
    """Writes out control characters in a painted line, which stays as wide as it was laid out."""

    def apply(self, segments: list[Any], background: Color) -> list[Any]:
        if all(segment.text.isprintable() for segment in segments):
            return segments
        shown = [segment._replace(text=visible(segment.text)) for segment in segments]
        return list(Strip(shown).adjust_cell_length(Strip(segments).cell_length))
