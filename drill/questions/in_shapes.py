"""What the families about shapes share: where a shape lies for a key, and what its dots are."""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from drill.questions.family import Family
from drill.questions.scope import Scope
from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key, Mode
from drill.theory.neck import Neck
from drill.theory.shapes import Dot, Shape, ShapeId, find_shape, placements


class KeyAndShape(NamedTuple):
    """A key, and one of its shapes."""

    key: Key
    shape: ShapeId


class ShapeFamily(Family[KeyAndShape]):
    """Families that ask about one key in one of the anchored shapes."""

    facet_type = KeyAndShape

    def spread(self, scope: Scope) -> Iterator[KeyAndShape]:
        for key in scope.keys:
            for shape in anchored(key, scope):
                yield KeyAndShape(key, shape.id)


def anchored(key: Key, scope: Scope) -> Iterator[Shape]:
    """The shapes in scope that have the minor tonic under the index finger, each at its lowest place on the neck.

    A shape with two equally good fingerings is never among them: no one fret is that of its index finger.
    """
    for name in scope.shapes:
        places = placed(key, name, scope.neck)
        if places and places[0].anchor_string:
            yield places[0]


@cache
def placed(key: Key, name: ShapeId, neck: Neck) -> tuple[Shape, ...]:
    """Every place of a shape on this neck, from the nut up; none where the neck is too short."""
    number = find_shape(PRACTICAL_KEYS[0], neck.tuning, name, neck.capo).number  # a shape has the same in every key
    return placements(key, neck, number)


def finger_of(dot: Dot) -> int:
    """The finger on a dot of a shape that has one fingering."""
    assert dot.finger is not None
    return dot.finger


@cache
def keys_of_sound(mode: Mode, pitch_class: int) -> tuple[Key, ...]:
    """Every key of the mode whose tonic sounds so, the everyday name first: F# and Gb major are both right."""
    found = [key for key in KEYS if key.mode == mode and key.tonic.pitch_class == pitch_class]
    return tuple(sorted(found, key=lambda key: key not in PRACTICAL_KEYS))
