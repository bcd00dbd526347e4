"""The notes of a shape by their spots."""

from __future__ import annotations

from drill.theory.neck import Spot
from drill.theory.shapes import Dot, Shape


def dot_at(shape: Shape, spot: Spot) -> Dot | None:
    """The dot of a shape on a spot, None where the shape has no note."""
    return next((dot for dot in shape.dots if dot.spot == spot), None)
