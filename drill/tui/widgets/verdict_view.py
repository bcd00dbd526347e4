"""The verdict in words, in the room below the neck."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Region
from textual.widget import Widget


class VerdictView(Widget):
    """Words that come and go while nothing else moves: only the rows that hold some, or held some, are painted anew."""

    DEFAULT_CSS = "VerdictView { height: auto; }"

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._words, self._rows = Content(), 0

    def render(self) -> Content:
        return self._words

    def put(self, words: Content, room: int) -> None:
        """Show words. Where they do not fit into `room`, so many rows, they are `long`: the screen is laid out anew."""
        width = self.content_size.width
        rows = most_rows(words.plain, width)
        fits = width > 0 and (rows <= room or words.get_height({}, width) <= room)
        touched, self._words, self._rows = max(rows, self._rows), words, rows
        self.set_class(not fits, "long")
        if fits:
            self.refresh(Region(0, 0, width, min(touched, room)))
        else:
            self.refresh(layout=True)


def most_rows(text: str, width: int) -> int:
    """At most so many rows of so many cells a text takes, broken at words: quickly told, so sometimes too many.

    >>> most_rows("String 5, fret 3 is C.", 80), most_rows("String 5, fret 3 is C.", 12), most_rows("", 80)
    (1, 4, 0)
    """
    if not text:
        return 0
    longest = max(map(len, text.split()), default=0)
    return sum(len(line) // max(width - longest, 1) + 1 for line in text.split("\n"))
