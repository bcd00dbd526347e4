"""The bar in which an answer is wanted: four marks that fill, one with each beat."""

from __future__ import annotations

from textual.content import Content

from drill.theory.bars import BEATS_IN_A_BAR

MARK_COLUMNS = 6
"""Columns of a mark, where it is drawn as a block."""


def beat_marks(begun: int, wanted: int, scale: int) -> Content:
    """Four marks, filled as far as beats have begun; those after the first `wanted` come too late, and are smaller.

    They are dots, or blocks where letters are larger than scale 1.
    """
    over = "  the bar is over" if begun > BEATS_IN_A_BAR else ""
    if scale <= 1:
        marks = "  ".join(("●○" if beat <= wanted else "•·")[beat > begun] for beat in _BEATS)
    else:
        row = " ".join(("█░" if beat <= wanted else "▒·")[beat > begun] * MARK_COLUMNS * (scale - 1) for beat in _BEATS)
        marks = "\n".join([row] * (scale - 1))
    return Content.assemble((marks, "$primary"), (over, "$neck-quiet"))


_BEATS = range(1, BEATS_IN_A_BAR + 1)
