"""The verdict in words, in the space below the neck."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Region
from textual.widget import Widget


class VerdictView(Widget):
    """Words that change while nothing else moves: only the rows with old or new words are repainted."""

    DEFAULT_CSS = "VerdictView { height: auto; }"

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._words, self._rows = Content(), 0

    def render(self) -> Content:
        return self._words

    def paint(self, words: Content, room: int) -> None:
        """Show as much of the words as `room` rows hold, at once: a new layout would keep them waiting."""
        width = self.content_size.width
        rows = most_rows(words.plain, width)
        touched, self._words, self._rows = max(rows, self._rows), words, rows
        self.refresh(Region(0, 0, width, min(touched, room)))

    def put(self, words: Content, room: int) -> None:
        """Show words; if they need more than `room` rows, the class `long` is set and the screen gets a new layout."""
        self.paint(words, room)
        width = self.content_size.width
        fits = width > 0 and (self._rows <= room or words.get_height({}, width) <= room)
        self.set_class(not fits, "long")
        if not fits:
            self.refresh(layout=True)


def most_rows(text: str, width: int) -> int:
    """An upper bound for the rows that a text takes when it is broken at words: quick to compute, sometimes too high.

    >>> most_rows("String 5, fret 3 is C.", 80), most_rows("String 5, fret 3 is C.", 12), most_rows("", 80)
    (1, 4, 0)
    """
    if not text:
        return 0
    longest = max(map(len, text.split()), default=0)
    return sum(len(line) // max(width - longest, 1) + 1 for line in text.split("\n"))
