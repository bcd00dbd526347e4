"""Where the notes of a chord lie in a shape: what to land on when the chord comes.

tones_inside         the dots of a shape that are chord tones, with their degrees in the chord
tones_among          the same for any dots
inside_and_outside   a chord's notes that the pentatonic of a key contains, and those it does not
blue_notes           where the flat fifth lies in a five-note shape: between fourth and fifth, in one or two places

>>> from drill.theory.chords import parse_chord
>>> from drill.theory.keys import parse_key
>>> from drill.theory.neck import STANDARD
>>> from drill.theory.shapes import shape_at
>>> shape = shape_at(parse_key("Am"), STANDARD, 1)
>>> [(tone.dot.spot.string, tone.dot.finger, tone.degree) for tone in tones_inside(shape, parse_chord("F"))][:2]
[(6, 1, '3'), (6, 4, '5')]
>>> inside_and_outside(parse_chord("F"), parse_key("Am"))
((Note('A'), Note('C')), (Note('F'),))
"""

from collections.abc import Iterable
from typing import NamedTuple

from drill.theory.chords import Chord
from drill.theory.keys import Key
from drill.theory.neck import Spot
from drill.theory.pitch import Note
from drill.theory.scales import MINOR_PENTATONIC, degree_interval, spell
from drill.theory.shapes import Dot, Shape, finger_at

FOURTH, FLAT_FIFTH, FIFTH = "4", "b5", "5"


class ChordTone(NamedTuple):
    """A dot of a shape that is a note of a chord, and its degree in that chord."""

    dot: Dot
    degree: str


def tones_inside(shape: Shape, chord: Chord) -> tuple[ChordTone, ...]:
    """The chord tones in the shape, from its lowest note up; they are matched by sound, so C# matches D flat."""
    return tones_among(shape.dots, chord)


def tones_among(dots: Iterable[Dot], chord: Chord) -> tuple[ChordTone, ...]:
    """The dots that are chord tones, in the same order."""
    degrees = {note.pitch_class: degree for note, degree in zip(chord.notes, chord.formula, strict=True)}
    return tuple(ChordTone(dot, degrees[dot.note.pitch_class]) for dot in dots if dot.note.pitch_class in degrees)


def inside_and_outside(chord: Chord, key: Key) -> tuple[tuple[Note, ...], tuple[Note, ...]]:
    """The notes of a chord that sound in every shape of the key, and those that sound in none.

    All shapes contain the same five notes, the pentatonic; the player has to reach for the others.
    """
    five = {note.pitch_class for note in spell(key.minor.tonic, MINOR_PENTATONIC)}
    inside = tuple(note for note in chord.notes if note.pitch_class in five)
    return inside, tuple(note for note in chord.notes if note not in inside)


def blue_notes(shape: Shape) -> tuple[tuple[Dot, ...], ...]:
    """Every flat fifth within reach of the shape, from the lowest up, each with every place where it can be played.

    It lies one fret above the fourth and one below the fifth. On one string these are the same fret; across two strings
    they are two places of one pitch.
    """
    places: list[tuple[Dot, ...]] = []
    for lower, upper in zip((None, *shape.dots), (*shape.dots, None), strict=True):
        above = [_blue(shape, lower.spot, +1)] if lower and lower.degree == FOURTH else []
        below = [_blue(shape, upper.spot, -1)] if upper and upper.degree == FIFTH else []
        if above or below:
            places.append(tuple(dict.fromkeys(above + below)))
    return tuple(places)


def _blue(shape: Shape, neighbour: Spot, step: int) -> Dot:
    spot = Spot(neighbour.string, neighbour.fret + step)
    return Dot(spot, shape.key.tonic + degree_interval(FLAT_FIFTH), FLAT_FIFTH, finger_at(spot.fret, shape.index_frets))
