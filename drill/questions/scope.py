"""What part of the subject a run of questions covers."""

from typing import NamedTuple

from drill.questions.facets import Facets, by_name
from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key
from drill.theory.neck import MOST_FRETS, STANDARD, Neck
from drill.theory.shapes import ShapeId


class Scope(NamedTuple):
    """Strings, frets, keys and shapes to ask about, on one neck.

    `frets` is the inclusive range of frets to ask about; `naturals_only` leaves sharps and flats out.
    """

    neck: Neck = Neck(STANDARD)
    strings: tuple[int, ...] = (6, 5)
    frets: tuple[int, int] = (0, 12)
    naturals_only: bool = False
    keys: tuple[Key, ...] = PRACTICAL_KEYS
    shapes: tuple[ShapeId, ...] = (ShapeId.on(6), ShapeId.on(5))
    loops: tuple[str, ...] = ()

    @property
    def fret_range(self) -> range:
        """The frets to ask about that this neck has."""
        return range(self.frets[0], min(self.frets[1], self.neck.last_fret) + 1)


def scope_of(facets: Facets, neck: Neck) -> Scope:
    """The narrowest scope that holds a card of these facets, if any family asks it at all."""
    named = dict(by_name(facets))
    return Scope(
        neck=neck,
        strings=(named["string"],) if named.get("string") in neck.tuning.strings else (),
        frets=(0, MOST_FRETS),
        keys=(named["key"],) if "key" in named else KEYS,
        shapes=(named["shape"],) if "shape" in named else (),
        loops=(named["loop"],) if "loop" in named else (),
    )
