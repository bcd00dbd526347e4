"""Movable shapes, generated rather than listed.

A shape of a five-note scale puts two consecutive scale tones on every string. Starting it on each scale tone in turn
gives five shapes; they tile the neck, for the upper note of a string in one shape is the lower note of that string in
the next. Seven-note scales work the same way with three tones a string. The finger under a note follows from the
position rule: the hand covers four frets, one finger each, and lies where the fewest notes fall outside them. Where two
hand positions are equally good, the shape has no single fingering and says so.

>>> from drill.theory.keys import parse_key
>>> from drill.theory.neck import STANDARD
>>> shape = shape_at(parse_key("D minor"), STANDARD, number=1)
>>> shape.index_fret, shape.tonic_dots("major")[0].spot
(10, Spot(string=6, fret=13))
"""

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple, Self

from drill.errors import UnknownName, UsageProblem
from drill.theory.keys import Key, Mode
from drill.theory.names import quoted
from drill.theory.neck import FRETS_PER_OCTAVE, MOST_FRETS, Neck, Spot, Tuning
from drill.theory.pitch import LETTERS, Note
from drill.theory.scales import MINOR_PENTATONIC, Formula, degree_interval, tone

HAND = 4
"""Frets under the hand: index to little finger, one fret each."""

REACH = 1
"""Frets a finger may stretch beyond the hand, the index downward and the little finger upward."""

NOTES_PER_STRING = 2
_ON_STRING = "string-"
_FOURTH, _MAJOR_THIRD = 5, 4
_C = Note(0)
MAJOR_TONIC_DEGREE = "b3"
"""The relative major's tonic, as a degree of the minor key."""


class Dot(NamedTuple):
    """One note of a shape on the neck; `finger` is 1 (index) to 4 (little), None where no one fingering is best."""

    spot: Spot
    note: Note
    degree: str
    finger: int | None

    def raised(self, frets: int) -> "Dot":
        """The same dot so many frets up the neck."""
        (string, fret), note, degree, finger = self
        return Dot(Spot(string, fret + frets), note, degree, finger)


class Pattern(NamedTuple):
    """Notes of any scale under one hand. `index_frets` has several where hand positions are equally good."""

    index_frets: tuple[int, ...]
    dots: tuple[Dot, ...]

    @property
    def stretches(self) -> int:
        """How many notes lie outside the four frets of the hand, in the lowest of its best positions."""
        return sum(not 0 <= dot.spot.fret - self.index_frets[0] < HAND for dot in self.dots)


class ShapeId(str):
    """The name of a shape: 'string-6' by the string of its minor tonic, or its number, '1' to '5'.

    It is text as the learner types it; whether there is such a shape, `find_shape` says.
    """

    __slots__ = ()

    @classmethod
    def on(cls, string: int) -> Self:
        """The name of the shape whose minor tonic lies under the index finger on this string."""
        return cls(f"{_ON_STRING}{string}")

    @property
    def string(self) -> int | None:
        """The string it is named by, None where it is named by its number."""
        number = self.removeprefix(_ON_STRING)
        return int(number) if number != self and number.isdecimal() else None


class Shape(NamedTuple):
    """A five-note shape of a minor key at one place on the neck; two fingerings have two `index_frets`."""

    key: Key
    number: int
    index_frets: tuple[int, ...]
    dots: tuple[Dot, ...]
    anchor_string: int | None
    """The lowest string on which the index finger plays the minor tonic, None where no string has it."""

    @property
    def tied(self) -> bool:
        """Whether two fingerings are equally good."""
        return len(self.index_frets) > 1

    @property
    def index_fret(self) -> int:
        """The fret under the index finger; of a tie, the lower hand position."""
        return self.index_frets[0]

    @property
    def lowest_fret(self) -> int:
        return min(dot.spot.fret for dot in self.dots)

    @property
    def highest_fret(self) -> int:
        return max(dot.spot.fret for dot in self.dots)

    @property
    def id(self) -> ShapeId:
        """'string-6' where the index finger plays the minor tonic on string 6; the number where no string has it."""
        string = self.anchor_string
        return ShapeId(self.number) if string is None else ShapeId.on(string)

    def tonic_dots(self, mode: Mode) -> tuple[Dot, ...]:
        """Where the minor or the major tonic lies in this shape, from the lowest string up."""
        degree = "1" if mode == "minor" else MAJOR_TONIC_DEGREE
        return tuple(dot for dot in self.dots if dot.degree == degree)

    def anchor_dot(self, mode: Mode) -> Dot:
        """Where the minor or the major tonic lies on the anchor string; only for a shape that has one."""
        return next(dot for dot in self.tonic_dots(mode) if dot.spot.string == self.anchor_string)


@cache
def degree_in(mode: Mode, degree: str) -> str:
    """A degree of the minor key as a key of this mode counts it; in the relative major the third is the tonic.

    >>> [degree_in("major", degree) for degree in MINOR_PENTATONIC]
    ['6', '1', '2', '3', '5']
    """
    if mode == "minor":
        return degree
    fifths = degree_interval(degree).fifths - degree_interval(MAJOR_TONIC_DEGREE).fifths
    number = str(4 * fifths % len(LETTERS) + 1)  # a fifth is four letters
    raised = (fifths - degree_interval(number).fifths) // 7
    return "#" * raised + "b" * -raised + number


def shape_at(key: Key, tuning: Tuning, number: int, capo: int = 0) -> Shape:
    """Shape 1-5 of a key (for a major key, of its relative minor), at its lowest place without open strings.

    Shape k starts on the k-th tone of the minor pentatonic scale on the lowest string.
    """
    return _lowest(key.minor, tuning, number, capo)


def placements(key: Key, neck: Neck, number: int) -> tuple[Shape, ...]:
    """Every place on the neck where the whole shape fits without open strings, from the nut up."""
    return _places(key.minor, neck, number)


def five_shapes(key: Key, tuning: Tuning, capo: int = 0) -> tuple[Shape, ...]:
    """All five shapes of a key, each at its lowest place, numbered from the minor tonic on the lowest string."""
    return tuple(shape_at(key, tuning, number, capo) for number in range(1, len(MINOR_PENTATONIC) + 1))


def shapes_anchored(key: Key, tuning: Tuning, strings: tuple[int, ...], capo: int = 0) -> tuple[Shape, ...]:
    """The shapes whose minor tonic lies under the index finger on the given strings, in the order of the strings."""
    by_string = {shape.anchor_string: shape for shape in five_shapes(key, tuning, capo)}
    return tuple(by_string[string] for string in strings if string in by_string)


def find_shape(key: Key, tuning: Tuning, name: str, capo: int = 0) -> Shape:
    """The shape of a key by its id ('string-6') or its number ('1' to '5'); raises `UnknownName`, which lists both."""
    shape = _named(key.minor, tuning, capo).get(name)
    if shape is None:
        names = ", ".join(shape.id for shape in five_shapes(key, tuning, capo))
        raise UnknownName(f"There is no shape {quoted(name)}.", f"Shapes: {names}, or 1 to 5.")
    return shape


def raised(shape: Shape, frets: int) -> Shape:
    """The same shape so many frets up the neck, or down if negative; twelve frets lead to the same key."""
    index_frets = tuple(fret + frets for fret in shape.index_frets)
    return shape._replace(index_frets=index_frets, dots=tuple(dot.raised(frets) for dot in shape.dots))


def refuse_boxless(tuning: Tuning) -> None:
    """Raise `UsageProblem` unless neighbouring strings lie a fourth or a major third apart.

    Wider or narrower gaps put two consecutive tones outside the hand's four frets, so that there is no box.
    """
    odd = [gap for gap in tuning.gaps() if gap not in (_MAJOR_THIRD, _FOURTH)]
    if odd:
        raise UsageProblem(
            f"{tuning.title} has neighbouring strings {abs(odd[0])} semitones apart; box shapes need 4 or 5.",
            "Drill notes on this tuning, or pick one in fourths for shapes.",
        )


def per_string(tonic: Note, formula: Formula, neck: Neck, start: int, count: int, octave: int = 0) -> Pattern:
    """`count` consecutive scale tones on every string, from the `start`-th tone (0 = tonic) on the lowest string.

    The tonic counted from is the first one on the lowest string (fret 0 to 11), moved by `octave`; frets can be
    below 0. Dots have fingers only where one hand position is best and reaches every note.
    """
    home = (tonic.pitch_class - neck.sounding(Spot(max(neck.tuning.strings), 0))) % FRETS_PER_OCTAVE
    home += FRETS_PER_OCTAVE * octave
    pattern = _from_the_nut(formula, neck.tuning, start, count)
    dots = (
        Dot(Spot(string, fret + home), Note(note.fifths + tonic.fifths), degree, finger)
        for (string, fret), note, degree, finger in pattern.dots
    )
    return Pattern(tuple(fret + home for fret in pattern.index_frets), tuple(dots))


@cache
def _from_the_nut(formula: Formula, tuning: Tuning, start: int, count: int) -> Pattern:
    """The pattern on a neck whose lowest open string sounds the tonic, spelled in C."""
    refuse_boxless(tuning)
    lowest = tuning.open_strings[-1].midi
    places = [
        (Spot(string, lowest + tone(formula, index).semitones - tuning.open(string).midi), index)
        for row, string in enumerate(reversed(tuning.strings))
        for index in range(start + row * count, start + (row + 1) * count)
    ]
    index_frets = hand_places([spot.fret for spot, _ in places])
    fingers = [finger_at(spot.fret, index_frets) for spot, _ in places]
    one_hand = None not in fingers
    dots = (
        Dot(spot, _C + tone(formula, index), formula[index % len(formula)], finger if one_hand else None)
        for (spot, index), finger in zip(places, fingers, strict=True)
    )
    return Pattern(index_frets, tuple(dots))


def hand_places(frets: Iterable[int]) -> tuple[int, ...]:
    """The index frets for which the fewest of these notes lie outside the hand; several if they are equally good."""
    notes = list(frets)
    outside = {
        index: sum(not index <= fret < index + HAND for fret in notes) for index in range(min(notes), max(notes) + 1)
    }
    return tuple(index for index, count in outside.items() if count == min(outside.values()))


def finger_at(fret: int, index_frets: tuple[int, ...]) -> int | None:
    """The finger on a fret by the position rule; None between two hand positions, or beyond the reach of one."""
    if len(index_frets) > 1:
        return None
    finger = fret - index_frets[0] + 1
    if not 1 - REACH <= finger <= HAND + REACH:
        return None
    return min(max(finger, 1), HAND)


@cache
def _lowest(minor: Key, tuning: Tuning, number: int, capo: int) -> Shape:
    neck = Neck(tuning, MOST_FRETS, capo)
    pattern = per_string(minor.tonic, MINOR_PENTATONIC, neck, number - 1, NOTES_PER_STRING)
    anchors = (dot.spot.string for dot in pattern.dots if dot.degree == "1" and dot.finger == 1)
    shape = Shape(minor, number, pattern.index_frets, pattern.dots, next(anchors, None))
    # no note on an open string: a stretched index finger may lie below the hand
    octaves = -((min(shape.index_fret, shape.lowest_fret) - 1) // FRETS_PER_OCTAVE)
    return raised(shape, FRETS_PER_OCTAVE * octaves) if octaves else shape


@cache
def _named(minor: Key, tuning: Tuning, capo: int) -> dict[str, Shape]:
    shapes = five_shapes(minor, tuning, capo)
    return {str(shape.number): shape for shape in shapes} | {shape.id: shape for shape in reversed(shapes)}


@cache
def _places(minor: Key, neck: Neck, number: int) -> tuple[Shape, ...]:
    shape = _lowest(minor, neck.tuning, number, neck.capo)
    lifts = range(0, neck.last_fret - shape.highest_fret + 1, FRETS_PER_OCTAVE)
    return tuple(raised(shape, frets) if frets else shape for frets in lifts)
