"""How a drill fills its window: large letters and a roomy neck where they fit, the strings in question where not.

From the top: the time, the letters, where and what is asked, the verdict, the neck, the footer.
"""

from typing import NamedTuple

from drill.tui.widgets.block_letters import ROWS
from drill.tui.widgets.neck_view import COLUMNS_PER_PITCH, WIDEST_PITCH

LEAST_HEIGHT_WITH_FOOTER = 11
SENTENCES, NUMBERS = 2, 1
"""Rows of the question in words, and of the fret numbers."""
VERDICT_ROWS, LEAST_VERDICT_ROWS = 5, 2
"""Rows kept for a verdict before letters and neck grow, and where there is hardly room for any."""
COLUMNS_PER_SCALE = 50
"""Columns that most subjects take at scale 1, such as 'C♯ minor'."""
LARGEST_SCALE, MOST_ABOVE = 4, 3


class DrillLayout(NamedTuple):
    """The scale of the block letters, 0 for none; how many rows strings lie apart, and which are drawn."""

    scale: int
    pitch: int
    strings: tuple[int, ...]
    numbered: bool = True
    above: int = 0
    """Empty rows above the letters."""

    @property
    def letter_rows(self) -> int:
        """Rows that the block letters take."""
        return ROWS * self.scale

    @property
    def neck_rows(self) -> int:
        """Rows that the neck takes."""
        return self.pitch * (len(self.strings) - 1) + 1 + NUMBERS * self.numbered

    def shows(self, strings: tuple[int, ...]) -> bool:
        """Whether all of these strings are drawn."""
        return set(strings) <= set(self.strings)


def drill_layout(width: int, height: int, strings: tuple[int, ...], asked: tuple[int, ...]) -> DrillLayout:
    """The layout of a window of so many cells, for a neck of these strings and a question about some of them.

    >>> drill_layout(80, 24, (1, 2, 3, 4, 5, 6), (5,)).scale, drill_layout(40, 12, (1, 2, 3, 4, 5, 6), (5,)).strings
    (1, (5,))
    """
    room = rows_below_the_time(height) - SENTENCES
    whole = DrillLayout(0, 1, strings)
    if whole.neck_rows + VERDICT_ROWS > room:
        return _part(room, strings, asked)
    return _grown(whole, width, room - VERDICT_ROWS)


def rows_below_the_time(height: int) -> int:
    """Rows between the time at the top and the footer."""
    return height - (2 if height >= LEAST_HEIGHT_WITH_FOOTER else 1)


def _part(room: int, strings: tuple[int, ...], asked: tuple[int, ...]) -> DrillLayout:
    """As many strings as fit, those in question first; fret numbers give way to a string in question."""
    most = max(room - LEAST_VERDICT_ROWS, 1)
    wanted = asked[-most:]
    numbered = len(wanted) + NUMBERS <= most
    spare = most - len(wanted) - NUMBERS - VERDICT_ROWS
    others = [string for string in reversed(strings) if string not in wanted][: max(spare, 0)]
    return DrillLayout(0, 1, tuple(sorted((*wanted, *others))), numbered)


def _grown(layout: DrillLayout, width: int, room: int) -> DrillLayout:
    """Letters and neck grow in turn, each as long as it fits."""
    largest = min(max(width // COLUMNS_PER_SCALE, 1), LARGEST_SCALE)
    widest = min(max(width // COLUMNS_PER_PITCH, 1), WIDEST_PITCH)
    grew = True
    while grew:
        grew = False
        for bigger in (
            layout._replace(scale=min(layout.scale + 1, largest)),
            layout._replace(pitch=min(layout.pitch + 1, widest)),
        ):
            if bigger != layout and bigger.letter_rows + bigger.neck_rows <= room:
                layout, grew = bigger, True
                break
    spare = room - layout.letter_rows - layout.neck_rows
    return layout._replace(above=min(spare // 2, MOST_ABOVE))
