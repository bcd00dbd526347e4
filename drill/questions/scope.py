"""What part of the subject a run of questions covers."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key, parse_key
from drill.theory.neck import MOST_FRETS, STANDARD, Neck


class Scope(NamedTuple):
    """Strings, frets, keys and shapes to ask about, on one neck.

    `frets` is the inclusive range of frets to ask about; `naturals_only` leaves sharps and flats out; `shapes` holds
    ids ('string-6') or numbers ('1').
    """

    neck: Neck = Neck(STANDARD)
    strings: tuple[int, ...] = (6, 5)
    frets: tuple[int, int] = (0, 12)
    naturals_only: bool = False
    keys: tuple[Key, ...] = PRACTICAL_KEYS
    shapes: tuple[str, ...] = ("string-6", "string-5")
    loops: tuple[str, ...] = ()

    @property
    def fret_range(self) -> range:
        """The frets to ask about that this neck has."""
        return range(self.frets[0], min(self.frets[1], self.neck.last_fret) + 1)


def scope_of(facets: Mapping[str, str | int], neck: Neck) -> Scope:
    """The narrowest scope that holds a card of these facets, if any family asks it at all."""
    return Scope(
        neck=neck,
        strings=(int(facets["string"]),) if facets.get("string") in neck.tuning.strings else (),
        frets=(0, MOST_FRETS),
        keys=(parse_key(str(facets["key"])),) if "key" in facets else KEYS,
        shapes=(str(facets["shape"]),) if "shape" in facets else (),
        loops=(str(facets["loop"]),) if "loop" in facets else (),
    )
