"""A loop to play over in a key that was just drilled.

>>> from drill.theory.keys import parse_key
>>> [" ".join(chord.name for chord in practice_loop(parse_key(name))) for name in ("Am", "C")]
['Am F C G', 'C G Am F']
"""

from __future__ import annotations

from drill.theory.chords import Chord
from drill.theory.harmony import chord_at
from drill.theory.keys import Key

NUMERALS = {"minor": ("i", "VI", "III", "VII"), "major": ("I", "V", "vi", "IV")}
"""The most common loop of four chords in each mode (common practice, no source); it begins on the tonic."""


def practice_loop(key: Key) -> tuple[Chord, ...]:
    """Four chords of the key that come home to its tonic."""
    return tuple(chord_at(numeral, key) for numeral in NUMERALS[key.mode])
