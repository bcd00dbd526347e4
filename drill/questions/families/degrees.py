"""The family about degrees: which degree of the key a finger plays in a shape."""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from drill.questions.answers import DegreeAnswer
from drill.questions.card import Ask, Card
from drill.questions.facts import Fact, degree_fact
from drill.questions.family import Family
from drill.questions.in_shapes import finger_of, placed
from drill.questions.mixups.shapes import wrong_degrees
from drill.questions.picture import Mark, marked_dot
from drill.questions.scope import Scope
from drill.questions.wording import FINGERS, named_degree, shape_label, string_label
from drill.theory.keys import PRACTICAL_KEYS, Mode
from drill.theory.landing import FIFTH, FLAT_FIFTH, FOURTH, blue_notes
from drill.theory.neck import Neck
from drill.theory.shapes import HAND, Dot, Shape, ShapeId, degree_in


class DegreeInShape(NamedTuple):
    """A finger on a string of a shape, and the mode of the key that counts the degrees."""

    shape: ShapeId
    string: int
    finger: int
    mode: Mode


class DegreeAt(Family[DegreeInShape]):
    """Which degree of the key a finger plays in a shape, wherever the shape lies."""

    id = "degree-at"
    title = "Degree under a finger"
    idea = (
        "A degree numbers a note from the tonic, or home note, which is 1; "
        "each spot of a shape keeps its degree in every key."
    )
    facet_type = DegreeInShape
    needs = ("tonic-finger",)

    def spread(self, scope: Scope) -> Iterator[DegreeInShape]:
        for mode in dict.fromkeys(key.mode for key in scope.keys):
            for name in scope.shapes:
                shape = _anywhere(name, scope.neck)
                if shape is None or shape.anchor_string is None:
                    continue
                for dot in _played(name, scope.neck):
                    yield DegreeInShape(shape.id, dot.spot.string, finger_of(dot), mode)

    def facts(self, facets: DegreeInShape, neck: Neck) -> tuple[Fact, ...]:
        return (degree_fact(neck, facets.mode, facets.shape, facets.string, facets.finger),)

    def card(self, facets: DegreeInShape, neck: Neck) -> Card:
        shape, mode = _anywhere(facets.shape, neck), facets.mode
        assert shape is not None  # spread offers only shapes that this neck holds
        dot, tonics = _dot(facets, neck), shape.tonic_dots(mode)
        finger, place = FINGERS[finger_of(dot)].capitalize(), shape_label(shape, neck.tuning)
        ask = Ask(f"{finger} finger", place, f"Degree in {mode}?")
        return Card(
            self.name(facets, neck),
            neck,
            ask=ask,
            kind=DegreeAnswer(),
            accepts=(degree_in(mode, dot.degree),),
            explain=lambda: _degree_steps(shape, dot, mode, neck),
            confuse=lambda: wrong_degrees(
                dot, shape, _played(facets.shape, neck), _other_anchored(facets.shape, neck), mode, neck
            ),
            draw=lambda: (Mark(dot.spot, "asked", finger=dot.finger),),
            draw_answer=lambda: tuple({each.spot: marked_dot(each, mode) for each in (*tonics, dot)}.values()),
            unseen=ask._replace(place=f"{string_label(neck.tuning, dot.spot.string)}, {place}"),
        )


@cache
def _anywhere(name: ShapeId, neck: Neck) -> Shape | None:
    """The shape at the first place this neck has for it, in the order keys are taught."""
    places = (placed(key, name, neck) for key in PRACTICAL_KEYS[::2])
    return next((found[0] for found in places if found), None)


@cache
def _played(name: ShapeId, neck: Neck) -> tuple[Dot, ...]:
    """The notes of the shape, then the flat fifths of the blues that lie under the hand without a stretch."""
    shape = _anywhere(name, neck)
    assert shape is not None  # spread offers only shapes that this neck holds
    hand = range(shape.index_fret, shape.index_fret + HAND)
    blue = (dot for homes in blue_notes(shape) for dot in homes if dot.spot.fret in hand)
    return (*shape.dots, *blue)


def _dot(facets: DegreeInShape, neck: Neck) -> Dot:
    place = facets.string, facets.finger
    return next(dot for dot in _played(facets.shape, neck) if (dot.spot.string, dot.finger) == place)


def _degree_steps(shape: Shape, dot: Dot, mode: Mode, neck: Neck) -> tuple[str, ...]:
    """From a tonic note by note through the shape; the flat fifth of the blues is found from its neighbours."""
    if dot not in shape.dots:
        below, here, above = (named_degree(degree_in(mode, degree)) for degree in (FOURTH, FLAT_FIFTH, FIFTH))
        return f"it lies between the {below} and the {above}", f"the blue note, {here}"
    way, direction = _way_to(dot, shape, mode)
    where = string_label(neck.tuning, way[0].spot.string)
    start = f"{mode} tonic: {FINGERS[finger_of(way[0])]} finger, {where}"
    if len(way) == 1:
        return start, f"that is the {named_degree('1')}"
    path = " ".join(named_degree(degree_in(mode, each.degree)) for each in way)
    return start, f"note by note {direction}: {path}"


def _way_to(dot: Dot, shape: Shape, mode: Mode) -> tuple[tuple[Dot, ...], str]:
    """The notes from the nearest tonic below up to a note; below the lowest tonic, those from it down."""
    place = shape.dots.index(dot)
    tonics = [shape.dots.index(tonic) for tonic in shape.tonic_dots(mode)]
    if place < tonics[0]:
        return shape.dots[place : tonics[0] + 1][::-1], "down"
    return shape.dots[max(tonic for tonic in tonics if tonic <= place) : place + 1], "up"


@cache
def _other_anchored(name: ShapeId, neck: Neck) -> tuple[Shape, ...]:
    """The other shapes that every deck asks about: those anchored on the strings of the tuning."""
    names = (ShapeId.on(string) for string in neck.tuning.anchor_strings)
    return tuple(shape for other in names if other != name and (shape := _anywhere(other, neck)))
