"""What to draw on the neck: marks on spots. How a mark looks is decided where it is drawn.

A question may show less than its answer does, so a card has two pictures.
"""

from collections.abc import Iterable
from typing import Literal, NamedTuple

from drill.theory.keys import Key, Mode
from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note
from drill.theory.shapes import Dot, Shape, degree_in

Role = Literal["asked", "note", "minor tonic", "major tonic", "given", "step"]
"""What a spot is to the picture: `given` is a wrong answer beside the right one, `step` one on the way to it."""


class Mark(NamedTuple):
    """One marked spot. What is None is not drawn."""

    spot: Spot
    role: Role
    note: Note | None = None
    degree: str | None = None
    finger: int | None = None


Picture = tuple[Mark, ...]
"""Marks to draw; an empty picture is a bare neck."""

_TONIC_DEGREES: dict[str, Role] = {"1": "minor tonic", "b3": "major tonic"}


def marked_dot(dot: Dot, mode: Mode = "minor") -> Mark:
    """The mark of a shape's dot; the tonics of both relatives have roles of their own.

    `mode` is that of the key which counts the degrees.
    """
    role = _TONIC_DEGREES.get(dot.degree, "note")
    return Mark(dot.spot, role, dot.note, degree_in(mode, dot.degree), dot.finger)


def shape_picture(shapes: Iterable[Shape], mode: Mode = "minor") -> Picture:
    """All notes of some shapes, each spot once, with their degrees in a key of this mode."""
    return tuple({dot.spot: marked_dot(dot, mode) for shape in shapes for dot in shape.dots}.values())


def bare_dots(dots: Iterable[Dot]) -> Picture:
    """Where the notes of a shape lie, and nothing else about them."""
    return tuple(Mark(dot.spot, "note") for dot in dots)


def asked(spots: Iterable[Spot]) -> Picture:
    """Bare question marks."""
    return tuple(Mark(spot, "asked") for spot in spots)


def tonic_role(mode: Mode) -> Role:
    """The role of the tonic of a minor or a major key."""
    return "minor tonic" if mode == "minor" else "major tonic"


def low_notes(neck: Neck, notes: Iterable[Note]) -> Picture:
    """Some notes, each at its lowest fret on the lowest anchor string, as far as this neck has them."""
    string = neck.tuning.anchor_strings[0]
    found = ((note, neck.spots_of(note.pitch_class, (string,))) for note in notes)
    return tuple(Mark(spots[0], "note", note) for note, spots in found if spots)


def low_tonic(neck: Neck, key: Key) -> Picture:
    """The tonic of a key, where `low_notes` puts it."""
    return tuple(mark._replace(role=tonic_role(key.mode)) for mark in low_notes(neck, (key.tonic,)))
