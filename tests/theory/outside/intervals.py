"""Intervals by their names, as textbooks write them: m3, P5, A4."""

from __future__ import annotations

from drill.theory.pitch import LETTERS, Note

# Open Music Theory, intervals.md: the two everyday names of every size in semitones.
INTERVALS = {
    0: "P1 d2", 1: "A1 m2", 2: "M2 d3", 3: "A2 m3", 4: "M3 d4", 5: "A3 P4", 6: "A4 d5", 7: "P5 d6", 8: "A5 m6",
    9: "M6 d7", 10: "A6 m7", 11: "M7 d8", 12: "A7 P8",
}  # fmt: skip

_PERFECT = {"P": "", "A": "#", "d": "b"}
_MAJOR = {"M": "", "m": "b", "A": "#", "d": "bb"}


def degree_above(name: str) -> str:
    """The degree an interval leads to from the tonic: 'm3' leads to 'b3', 'd8' to 'b1'."""
    quality, number = name[0], (int(name[1:]) - 1) % 7 + 1
    return (_PERFECT if number in (1, 4, 5) else _MAJOR)[quality] + str(number)


def rise(lower: Note, upper: Note) -> tuple[int, int]:
    """Letters and semitones from a note up to the next `upper`, without whole octaves."""
    letters = LETTERS.index(upper.letter) - LETTERS.index(lower.letter)
    return letters % 7, (upper.pitch_class - lower.pitch_class) % 12
