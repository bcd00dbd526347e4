"""The way up the neck from one shape to the next.

Neighbouring shapes share a column of notes: the upper note of each string becomes the lower one. How far the next shape
lies depends on what is measured, so both measures have a name:

rise_of_lowest_note   between the lowest notes on the lowest string: 3 2 2 3 2 frets from shape 1 up
rise_of_lowest_fret   between the lowest frets of the whole shapes: 2 2 3 2 3 frets

>>> from drill.theory.keys import parse_key
>>> from drill.theory.neck import STANDARD
>>> lower, *_ = shapes_up(parse_key("Dm"), STANDARD, start="string-5")
>>> lower.index_fret, next_anchored(lower, STANDARD, 6).index_fret
(5, 10)
"""

from __future__ import annotations

from drill.errors import UnknownName
from drill.theory.keys import Key
from drill.theory.neck import Tuning
from drill.theory.shapes import Shape, find_shape, five_shapes, raised


def next_shape(shape: Shape, tuning: Tuning, capo: int = 0) -> Shape:
    """The shape whose lower notes are this one's upper notes; from the fifth it is the first, an octave up."""
    shapes = five_shapes(shape.key, tuning, capo)
    follower = shapes[shape.number % len(shapes)]
    shared_fret = shape.dots[1].spot.fret
    return raised(follower, shared_fret - follower.dots[0].spot.fret)


def shapes_up(key: Key, tuning: Tuning, start: str, capo: int = 0) -> tuple[Shape, ...]:
    """The five shapes in the order in which they follow up the neck, from the lowest place of the shape `start`."""
    shapes = [find_shape(key, tuning, start, capo)]
    while len(shapes) < len(five_shapes(key, tuning, capo)):
        shapes.append(next_shape(shapes[-1], tuning, capo))
    return tuple(shapes)


def next_anchored(shape: Shape, tuning: Tuning, string: int, capo: int = 0) -> Shape:
    """The next shape up whose minor tonic lies under the index finger on `string`, perhaps the same an octave up.

    Raises `UnknownName` where no shape of this tuning is anchored on that string.
    """
    follower = shape
    for _ in five_shapes(shape.key, tuning, capo):
        follower = next_shape(follower, tuning, capo)
        if follower.anchor_string == string:
            return follower
    raise UnknownName(f"No shape on {tuning.title} has its minor tonic under the index finger on string {string}.")


def rise_of_lowest_note(lower: Shape, upper: Shape) -> int:
    """Frets between the lowest notes of two shapes on the lowest string."""
    return upper.dots[0].spot.fret - lower.dots[0].spot.fret


def rise_of_lowest_fret(lower: Shape, upper: Shape) -> int:
    """Frets between the lowest frets used anywhere in two shapes."""
    return upper.lowest_fret - lower.lowest_fret
