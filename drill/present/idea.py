"""The idea of the whole, for the first start and for help: one shape, two tonics, two anchors; drawn and in sentences.

idea_neck    a neck on which the shape can be drawn, the learner's own where it has the shape
idea_drawing the shape from both its strings, or, where the width is too small for that, from the lower one
headlines    the idea in three short lines
sentences    the same, told to somebody who has never heard of it
without_shapes  what a tuning without the shape is drilled on instead
"""

from __future__ import annotations

from drill.errors import FretsureError, UsageProblem
from drill.present.neck_drawing import Drawing, Look, draw
from drill.present.verdicts import Line
from drill.questions.picture import shape_picture
from drill.questions.wording import string_label
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck, Tuning
from drill.theory.shapes import Shape, refuse_boxless, shapes_anchored

KEY = parse_key("B minor")
"""Its shape lies within ten frets from both strings, the one beside the other."""
WIDE = 46
"""The least width in cells for both places of the shape."""
_INSTEAD = "you drill notes and relative keys; shapes are for strings in fourths, as on a guitar in standard tuning."


def without_shapes(tuning: Tuning) -> str:
    """What is drilled on a tuning that has no shapes, and why it has none; empty for one that has.

    >>> without_shapes(STANDARD)
    ''
    """
    try:
        refuse_boxless(tuning)
    except UsageProblem:
        return f"In this tuning ({tuning.title}) {_INSTEAD}"
    return ""


def idea_neck(neck: Neck) -> Neck:
    """The neck to draw on: that of the learner, or a guitar's where the learner's has no such shape."""
    try:
        refuse_boxless(neck.tuning)
        return neck if len(_shapes(neck)) == len(neck.tuning.anchor_strings) else Neck(STANDARD)
    except FretsureError:
        return Neck(STANDARD)


def idea_drawing(neck: Neck, look: Look, width: int, pitch: int = 1) -> Drawing:
    """The shape on `idea_neck`, with fingers and tonics, in a width in cells; strings lie `pitch` rows apart."""
    shapes = _shapes(neck) if width >= WIDE else _shapes(neck)[:1]
    return draw(neck, shape_picture(shapes), look._replace(show="fingers"), width=width, pitch=pitch)


def headlines(neck: Neck) -> tuple[Line, ...]:
    """The idea in three lines that fit on the smallest screen, for the learner's neck."""
    low, high = idea_neck(neck).tuning.anchor_strings[:2]
    anchors = Line("Two anchors:", f"string {low} or string {high}.")
    return (
        Line("One shape:", "five notes, one hand."),
        Line("Two tonics:", "◆m finger 1, ●M finger 4."),
        Line("Your tuning:", "only notes and relatives.") if without_shapes(neck.tuning) else anchors,
    )


def sentences(neck: Neck, *, drawn: bool = True) -> tuple[Line, ...]:
    """The idea with its words explained, and with the signs of the drawing if there is one; notes are marked."""
    minor, major = (" (◆m)", " (●M)") if drawn else ("", "")
    tuning = idea_neck(neck).tuning
    low, high = (string_label(tuning, string) for string in tuning.anchor_strings[:2])
    return (
        Line("One shape:", "five notes under one hand. Move it for another key."),
        Line(
            "Two tonics:",
            f"the home notes of two relatives, keys of the same notes: minor under finger 1{minor}, major under "
            f"finger 4{major}.",
        ),
        Line("Your tuning:", f"{neck.tuning.title}. {_INSTEAD[0].upper()}{_INSTEAD[1:]}")
        if without_shapes(neck.tuning)
        else Line("Two anchors:", f"the shape begins on {low} or {high}. Both reach every key."),
    )


def _shapes(neck: Neck) -> tuple[Shape, ...]:
    strings = neck.tuning.anchor_strings
    shapes = shapes_anchored(KEY, neck.tuning, strings, neck.capo)
    return tuple(shape for shape in shapes if shape.highest_fret <= neck.last_fret)
