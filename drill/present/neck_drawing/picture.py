"""A neck with the marks of a picture."""

from __future__ import annotations

from drill.present.neck_drawing.board import Board
from drill.present.neck_drawing.frame import CELL, Frame
from drill.present.neck_drawing.look import USUAL, Drawing, Look, Segment, short_name
from drill.questions.picture import Mark, Picture
from drill.theory.neck import Neck

WEIGHTS = {"asked": 100, "minor tonic": 10, "major tonic": 10, "note": 1}
"""How much each mark draws the window towards itself."""


def draw(
    neck: Neck, picture: Picture, look: Look = USUAL, width: int | None = None, home: range | None = None
) -> Drawing:
    """The neck with the marks of a picture, in at most `width` cells.

    Of a neck that does not fit, the drawing shows the stretch with the most of what the picture is about: the marks in
    question first, then tonics, then other notes. The stretch includes all frets of `home` where it is wide enough for
    them. The drawing has at least one fret, however small the width.
    """
    texts = {mark.spot: _mark_text(mark, look) for mark in picture}
    cell = max([CELL, *(len(segment.text) for segment in texts.values())])
    frame = Frame(neck, look, cell).roomy(width)
    weights = {mark.spot: WEIGHTS[mark.role] for mark in picture}
    return Board(frame, frame.window(weights, width, home), texts).draw()


def _mark_text(mark: Mark, look: Look) -> Segment:
    words = dot_text(mark, look)
    if mark.role == "asked":
        return Segment(f"[{words or '?'}]", "asked")
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
