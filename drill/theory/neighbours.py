"""The way up the neck from one shape to the next.

Neighbouring shapes share a column of notes: the upper note of each string becomes the lower one. How far the next shape
lies depends on what is measured: 3 2 2 3 2 frets from shape 1 up between the lowest notes on the lowest string, but
2 2 3 2 3 between the lowest frets of the whole shapes.

next_shape      the neighbour up the neck
next_anchored   the next with its minor tonic under the index finger on a given string

>>> from drill.theory.keys import parse_key
>>> from drill.theory.neck import STANDARD
>>> from drill.theory.shapes import find_shape
>>> a_string = find_shape(parse_key("Dm"), STANDARD, "string-5")
>>> a_string.index_fret, next_shape(a_string, STANDARD).number, next_anchored(a_string, STANDARD, 6).index_fret
(5, 5, 10)
"""

from __future__ import annotations

from drill.errors import UnknownName
from drill.theory.neck import Tuning
from drill.theory.scales import MINOR_PENTATONIC
from drill.theory.shapes import Shape, raised, shape_at


def next_shape(shape: Shape, tuning: Tuning) -> Shape:
    """The shape whose lower notes are this one's upper notes; from the fifth it is the first, an octave up."""
    follower = shape_at(shape.key, tuning, shape.number % len(MINOR_PENTATONIC) + 1)
    shared_fret = shape.dots[1].spot.fret
    return raised(follower, shared_fret - follower.dots[0].spot.fret)


def next_anchored(shape: Shape, tuning: Tuning, string: int) -> Shape:
    """The next shape up whose minor tonic lies under the index finger on `string`, perhaps the same an octave up.

    Raises `UnknownName` where no shape of this tuning is anchored on that string.
    """
    follower = shape
    for _ in MINOR_PENTATONIC:
        follower = next_shape(follower, tuning)
        if follower.anchor_string == string:
            return follower
    raise UnknownName(f"No shape on {tuning.title} has its minor tonic under the index finger on string {string}.")
