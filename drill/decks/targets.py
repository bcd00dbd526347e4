"""The time in which an answer is fluent: one bar of four beats at the learner's tempo, and half a bar for parts.

The core of the subject, to play in a key when a loop starts, leaves one bar. What the whole task is made of (one note,
one relative, one finger) has half of it, but never less than LEAST_S: below that, reading and typing would be measured.
"""

from __future__ import annotations

from drill.theory.bars import bar_seconds

BAR_S = bar_seconds(80)
"""A bar at the tempo to begin with, in seconds."""
LEAST_S = 1.5
PARTS = frozenset(
    {
        "note-at-fret",
        "fret-of-note",
        "tonic-octave",
        "letter-skip",
        "relative-minor",
        "relative-major",
        "tonic-finger",
        "tonic-fret",
        "other-tonic",
    }
)
"""Families that ask for a part of the whole task."""


HEARD = frozenset({"ear-tonic"})
HEARD_S = 5.0
"""Chords and a phrase take almost four seconds to be heard, and an ear a moment more."""


def target_seconds(family_id: str, bar_s: float = BAR_S) -> float:
    """The target of a family at this length of a bar, in seconds.

    >>> target_seconds("shape-anchor"), target_seconds("fret-of-note"), target_seconds("fret-of-note", 2.0)
    (3.0, 1.5, 1.5)
    """
    if family_id in HEARD:
        return HEARD_S
    return max(bar_s / 2, LEAST_S) if family_id in PARTS else bar_s
