"""The twelve minor keys over their relative majors, each with its readiness."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from textual.content import Content
from textual.events import Click
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from drill.present.figures import hundredths
from drill.present.neck_drawing import band, block
from drill.theory.keys import Key
from drill.theory.names import NoteLanguage, show_note
from drill.theory.pitch import Note
from drill.tui.views import KeyPair
from drill.tui.widgets.neck_view import STYLES

COLUMN, WIDEST_COLUMN = 5, 9
"""Cells that a pair takes at least, and at most."""
LABEL = 7
TELLING = 0.1
"""From this chance on a figure stands beside the block."""


class KeyTable(Widget):
    """Pairs of relative keys side by side: the minor key, its readiness, the major key, its readiness."""

    DEFAULT_CSS = """
    KeyTable { width: 100%; height: auto; }
    """

    pairs: reactive[Sequence[KeyPair]] = reactive((), layout=True)
    language: reactive[NoteLanguage] = reactive("english")

    class Touched(Message):
        """The learner clicked on a key."""

        def __init__(self, key: Key) -> None:
            super().__init__()
            self.key = key

    def per_row(self, width: int) -> int:
        """How many pairs stand side by side: a divisor of twelve, so that rows are alike."""
        return next((n for n in (12, 6, 4, 3, 2) if LABEL + COLUMN * n <= width), 1)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return 4 * -(-len(self.pairs) // self.per_row(width))

    def render(self) -> Content:
        return Content("\n").join(self._lines(self.size.width))

    def on_click(self, event: Click) -> None:
        key = self._key_at(event.x, event.y)
        if key is not None:
            self.post_message(self.Touched(key))

    def _key_at(self, column: int, row: int) -> Key | None:
        """The key whose name or reading is drawn in a cell."""
        count = self.per_row(self.size.width)
        place = (column - self._indent(self.size.width) - LABEL) // self._column(self.size.width)
        at = row // 4 * count + place
        if not (0 <= place < count and at < len(self.pairs)):
            return None
        return self.pairs[at].minor if row % 4 < 2 else self.pairs[at].major

    def _indent(self, width: int) -> int:
        return max(0, (width - LABEL - self._column(width) * min(self.per_row(width), len(self.pairs))) // 2)

    def _column(self, width: int) -> int:
        """Cells that a pair takes."""
        return min(max((width - LABEL) // self.per_row(width), COLUMN), WIDEST_COLUMN)

    def _lines(self, width: int) -> Iterator[Content]:
        count = self.per_row(width)
        indent = " " * self._indent(width)
        for start in range(0, len(self.pairs), count):
            row = self.pairs[start : start + count]
            yield Content(indent + " minor".ljust(LABEL)) + self._names([f"{self._tonic(p.minor.tonic)}m" for p in row])
            yield Content(indent + " " * LABEL) + self._readings(
                [(pair.minor_readiness, pair.minor_part) for pair in row]
            )
            yield Content(indent + " major".ljust(LABEL)) + self._names([self._tonic(p.major.tonic) for p in row])
            yield Content(indent + " " * LABEL) + self._readings(
                [(pair.major_readiness, pair.major_part) for pair in row]
            )

    def _tonic(self, note: Note) -> str:
        return show_note(note, self.language)

    def _names(self, names: Sequence[str]) -> Content:
        column = self._column(self.size.width)
        return Content("").join(Content.styled(name.ljust(column), "bold") for name in names)

    def _readings(self, readings: Sequence[tuple[float | None, str]]) -> Content:
        column = self._column(self.size.width)
        return Content("").join(_reading(*reading, column) for reading in readings)


def _reading(readiness: float | None, part: str, column: int) -> Content:
    """A block, with a figure in per cent on the way to strong; else the part that was asked, or a dot.

    A figure below a tenth says no more than the lowest block does, and only discourages.
    """
    strength = band(readiness)
    if readiness is None:
        return Content.styled((part or "·").ljust(column), STYLES[strength])
    tells = strength != "strong" and readiness >= TELLING
    text = block(readiness) + (f"{hundredths(readiness):02d}" if tells else "")
    return Content.styled(text.ljust(column), STYLES[strength])
