"""The bar in which an answer is wanted: four marks that fill, one with each beat."""

from __future__ import annotations

import math

from textual.content import Content

BEATS = 4
"""Beats of a bar."""
MARK_COLUMNS = 6
"""Columns of a mark, where it is drawn as a block."""


def beats_begun(seconds: float, beat_s: float) -> int:
    """How many beats have begun after so many seconds, the first at once; five or more once the bar is over.

    >>> beats_begun(0.0, 0.75), beats_begun(1.2, 0.75), beats_begun(3.0, 0.75), beats_begun(3.1, 0.75)
    (1, 2, 4, 5)
    """
    return max(math.ceil(round(seconds / beat_s, 6)), 1)


def beat_marks(begun: int, scale: int) -> Content:
    """Four marks, filled as far as beats have begun: dots, or blocks where letters are larger than scale 1."""
    full = min(begun, BEATS)
    over = "  the bar is over" if begun > BEATS else ""
    if scale <= 1:
        marks = "  ".join("●" if at < full else "○" for at in range(BEATS))
        return Content.assemble((marks, "$primary"), (over, "$neck-quiet"))
    row = " ".join(("█" if at < full else "░") * MARK_COLUMNS * (scale - 1) for at in range(BEATS))
    rows = [row] * (scale - 1)
    return Content.assemble(("\n".join(rows), "$primary"), (over, "$neck-quiet"))
