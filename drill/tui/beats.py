"""The bar in which an answer is wanted: four marks that fill, one with each beat."""

from __future__ import annotations

from textual.content import Content

from drill.theory.bars import BEATS_IN_A_BAR

MARK_COLUMNS = 6
"""Columns of a mark, where it is drawn as a block."""


def beat_marks(begun: int, scale: int) -> Content:
    """Four marks, filled as far as beats have begun: dots, or blocks where letters are larger than scale 1."""
    full = min(begun, BEATS_IN_A_BAR)
    over = "  the bar is over" if begun > BEATS_IN_A_BAR else ""
    if scale <= 1:
        marks = "  ".join("●" if at < full else "○" for at in range(BEATS_IN_A_BAR))
        return Content.assemble((marks, "$primary"), (over, "$neck-quiet"))
    row = " ".join(("█" if at < full else "░") * MARK_COLUMNS * (scale - 1) for at in range(BEATS_IN_A_BAR))
    rows = [row] * (scale - 1)
    return Content.assemble(("\n".join(rows), "$primary"), (over, "$neck-quiet"))
