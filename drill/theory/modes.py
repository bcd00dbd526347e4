"""What marks a mode: the one note in which it differs from the major or natural minor scale, and the chord built on it.

>>> from drill.theory.chords import parse_chord
>>> from drill.theory.pitch import Note
>>> [part_in_scale(parse_chord(name), Note.of("E"), "dorian") for name in ("A7", "F#m", "G", "Amaj7", "B7")]
['mark chord', 'mark note', 'own', 'mark chord and more', 'outside']
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, NamedTuple

from drill.theory.chords import Chord
from drill.theory.pitch import Note
from drill.theory.scales import SCALES, degree_interval, spell

ScalePart = Literal["own", "mark note", "mark chord", "mark chord and more", "outside"]
OUTSIDE: tuple[ScalePart, ...] = ("mark chord and more", "outside")
"""What a chord is that does not lie wholly in the scale."""


class Mark(NamedTuple):
    """What marks a mode: a degree of its scale, and its one major triad that holds it, as a numeral and a root."""

    degree: str
    numeral: str
    root: str


MARKS: Mapping[str, Mark] = {
    "dorian": Mark("6", "IV", "4"),
    "phrygian": Mark("b2", "bII", "b2"),
    "lydian": Mark("#4", "II", "2"),
    "mixolydian": Mark("b7", "bVII", "b7"),
}
"""The modes by what marks them (degrees: Open Music Theory, diatonic modes; chords: common practice, no source)."""


def part_in_scale(chord: Chord, tonic: Note, scale: str) -> ScalePart:
    """The part a chord plays in a scale on a tonic, told by its notes alone; the bass note does not count.

    A chord of the scale is its 'own', a 'mark note' where it holds the note of the mode, and the 'mark chord' where it
    is built as `Mark` says, 'and more' with a note from outside. Any other chord with such a note is 'outside'.
    """
    sounds = {note.pitch_class for note in chord.notes}
    inside = sounds <= {note.pitch_class for note in spell(tonic, SCALES[scale])}
    mark = MARKS.get(scale)
    if mark and mark_note(tonic, scale).pitch_class in sounds:
        if chord.third != "b3" and chord.root.sounds_like(tonic + degree_interval(mark.root)):
            return "mark chord" if inside else "mark chord and more"
        return "mark note" if inside else "outside"
    return "own" if inside else "outside"


def mark_note(tonic: Note, mode: str) -> Note:
    """The note that marks a mode of `MARKS` on a tonic."""
    return tonic + degree_interval(MARKS[mode].degree)
