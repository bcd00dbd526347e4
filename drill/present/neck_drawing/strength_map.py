"""A neck with a strength on every spot, drawn as a block that grows and a figure in per cent."""

from collections.abc import Mapping
from typing import NamedTuple

from drill.present.figures import hundredths
from drill.present.neck_drawing.board import Board
from drill.present.neck_drawing.frame import CELL, NARROW_CELL, Frame
from drill.present.neck_drawing.look import USUAL, Drawing, Look, Role, Segment
from drill.theory.neck import Neck, Spot

RAMP = "▁▂▃▄▅▆▇█"
"""Strength from none to all, in eighths."""
SURE = "▁ unsure to █ sure; ▄45 is 45% sure"
"""What a block and its figure say, for a legend."""


class NeckMap(NamedTuple):
    """A neck with a strength from 0 to 1 on each spot, to be drawn in at most `width` cells.

    A spot with None has not been asked yet and is drawn as a dot, a spot without an entry as bare string. Where the
    width is too small for figures the blocks stand alone. `picked` is put in brackets and is always inside the window.
    `figures` of at most three characters replace the per cents; an empty one leaves the block alone. Strings lie
    `pitch` rows apart; without `strings`, all are drawn.
    """

    neck: Neck
    strengths: Mapping[Spot, float | None]
    look: Look = USUAL
    width: int | None = None
    picked: Spot | None = None
    figures: Mapping[Spot, str] | None = None
    pitch: int = 1
    strings: tuple[int, ...] = ()

    def draw(self) -> Drawing:
        """The map as a drawing."""
        return self._board().draw()

    def spot_at(self, column: int, row: int) -> Spot | None:
        """The spot in a cell of the drawing, None beside the strings; `column` and `row` count from 0."""
        return self._board().spot_at(column, row)

    def _board(self) -> Board:
        frame = Frame(self.neck, self.look, CELL)
        if not frame.fits(self.width):
            frame = Frame(self.neck, self.look, NARROW_CELL)
        frame = frame.roomy(self.width)._replace(pitch=self.pitch, strings=self.strings)
        weights = dict.fromkeys(self.strengths, 1)
        if self.picked is not None:
            weights[self.picked] = len(weights) + 1  # more than all others together
        return Board(frame, frame.window(weights, self.width), self._texts(with_figures=frame.cell >= CELL))

    def _texts(self, *, with_figures: bool) -> dict[Spot, Segment]:
        figures = self.figures or {}
        texts = {
            spot: _rated(strength, figures.get(spot), with_figures=with_figures)
            for spot, strength in self.strengths.items()
        }
        if self.picked is not None:
            texts[self.picked] = _picked(texts.get(self.picked), with_figures=with_figures)
        return texts


def band(strength: float | None) -> Role:
    """The role of a strength: not asked yet, weak (below a half), middling, strong (four fifths and more)."""
    if strength is None:
        return "unmet"
    return "weak" if strength < 0.5 else "middling" if strength < 0.8 else "strong"


def block(strength: float) -> str:
    """The character of the ramp for a strength from 0 to 1."""
    return RAMP[min(int(max(strength, 0.0) * len(RAMP)), len(RAMP) - 1)]


def _rated(strength: float | None, figures: str | None, *, with_figures: bool) -> Segment:
    if strength is None:
        return Segment("·", "unmet")
    text = f"{min(hundredths(strength), 99):02d}" if figures is None else figures  # never certain: two figures fit
    return Segment(block(strength) + (text if with_figures else ""), band(strength))


def _picked(rated: Segment | None, *, with_figures: bool) -> Segment:
    if not with_figures:
        return Segment((rated.text if rated else "·") + "]", "picked")
    text = (rated.text[1:] or rated.text) if rated else " "
    return Segment(f"[{text}]" if len(text) < CELL - 1 else f"[{text}", "picked")
