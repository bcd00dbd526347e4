"""A neck with the marks of a picture."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from drill.present.neck_drawing.board import Board
from drill.present.neck_drawing.frame import CELL, NARROW_CELL, Frame
from drill.present.neck_drawing.look import USUAL, Drawing, Look, Segment, short_name
from drill.questions.picture import Mark, Picture
from drill.theory.neck import Neck, Spot

WRONG = "✗"
"""The sign of a wrong answer, on the neck as in its verdict."""
WEIGHTS = {"asked": 100, "given": 50, "minor tonic": 10, "major tonic": 10, "note": 1, "step": 1}
"""How much each mark draws the window towards itself."""


def draw(
    neck: Neck,
    picture: Picture,
    look: Look = USUAL,
    width: int | None = None,
    home: range | None = None,
    pitch: int = 1,
) -> Drawing:
    """The neck with the marks of a picture, in at most `width` cells; see `MarkedNeck`."""
    return MarkedNeck(neck, picture, look, width, home, pitch).draw()


class MarkedNeck(NamedTuple):
    """A neck with the marks of a picture, to be drawn in at most `width` cells.

    Of a neck that does not fit, the drawing shows the stretch with the most of what the picture is about: the marks in
    question first, then tonics, then other notes. The stretch includes all frets of `home` where it is wide enough for
    them; a given answer that is far from it stands beside it, the neck between them folded. The drawing has at least
    one fret, however small the width. An empty picture may be `narrowed` instead, so that every fret can be pointed at.
    Strings lie `pitch` rows apart; no `strings` means all of them.
    """

    neck: Neck
    picture: Picture
    look: Look = USUAL
    width: int | None = None
    home: range | None = None
    pitch: int = 1
    strings: tuple[int, ...] = ()
    numbered: bool = True
    narrowed: bool = False

    def draw(self) -> Drawing:
        """The neck as a drawing."""
        return self._board().draw()

    def drawn_for(self, width: int) -> Drawing:
        """The drawing in at most so many cells."""
        return self._replace(width=width).draw()

    def spot_at(self, column: int, row: int) -> Spot | None:
        """The spot in a cell of the drawing, None beside the strings; `column` and `row` count from 0."""
        return self._board().spot_at(column, row)

    def _board(self) -> Board:
        texts = {mark.spot: _mark_text(mark, self.look) for mark in self.picture}
        frame = self._frame(max([CELL, *(len(segment.text) for segment in texts.values())]))
        weights = {mark.spot: WEIGHTS[mark.role] for mark in self.picture}
        return Board(frame, self._frets(frame, weights), texts, self.numbered)

    def _frets(self, frame: Frame, weights: Mapping[Spot, int]) -> Sequence[int]:
        """The frets to draw; the neck is folded where a wrong answer and the right one would not be seen together."""
        frets = frame.window(weights, self.width, self.home)
        given = next((mark.spot.fret for mark in self.picture if mark.role == "given"), None)
        together = given in frets and any(spot.fret in frets for spot in weights if spot.fret != given)
        if given is None or together or self.width is None:
            return frets
        return frame.folded(weights, self.width, self.home, given)

    def _frame(self, cell: int) -> Frame:
        frame = Frame(self.neck, self.look, cell, self.pitch, self.strings)
        narrow = frame._replace(cell=NARROW_CELL)
        if self.narrowed and not self.picture and not frame.fits(self.width) and narrow.fits(self.width):
            return narrow
        return frame.roomy(self.width)


def _mark_text(mark: Mark, look: Look) -> Segment:
    words = dot_text(mark, look)
    if mark.role == "asked":
        return Segment(f"[{words or '?'}]", "asked")
    if mark.role == "given":
        return Segment(f"{WRONG}{words}", "given")
    if mark.role == "step":
        return Segment(words or "○", "step")
    if mark.role == "note":
        return Segment(f"({words or '○'})", "note")
    sign, letter = ("◆", "m") if mark.role == "minor tonic" else ("●", "M")
    text = f"{sign}{words}{letter}"
    return Segment(text if len(text) <= CELL else text[:-1], mark.role)


def dot_text(mark: Mark, look: Look) -> str:
    """The text of a dot: what the learner wants to see, or what the picture has."""
    texts = {
        "fingers": str(mark.finger) if mark.finger else "",
        "notes": short_name(mark.note, look.language) if mark.note else "",
        "degrees": show_degree(mark.degree) if mark.degree else "",
    }
    return texts[look.show] or texts["fingers"] or texts["notes"] or texts["degrees"]


def show_degree(degree: str) -> str:
    """A degree with real signs: 'b7' is '♭7'."""
    return degree.replace("b", "♭").replace("#", "♯")
