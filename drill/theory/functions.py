"""What part a chord plays in a key: one of its own chords, a common borrowing, or a stranger.

Roots are counted in semitones above the tonic and chords are reduced to triads, so that one table covers every case;
sevenths and other added notes are judged by whether they belong to the key.

>>> from drill.theory.chords import parse_chord
>>> from drill.theory.keys import parse_key
>>> function_of(parse_chord("D"), parse_key("Am")), function_of(parse_chord("D"), parse_key("C"))
(ChordFunction(kind='dorian', target=''), ChordFunction(kind='secondary dominant', target='V'))
"""

from collections.abc import Mapping
from functools import cache
from typing import Literal, NamedTuple

from drill.theory.chords import Chord
from drill.theory.keys import Key, Mode
from drill.theory.pitch import Note
from drill.theory.scales import MAJOR, NATURAL_MINOR, spell

FunctionKind = Literal[
    "own", "dorian", "mixolydian", "phrygian", "parallel minor", "parallel major tonic", "secondary dominant",
    "passing diminished", "raised fifth", "blues seventh", "foreign note", "mixolydian minor", "parallel minor tonic",
    "foreign",
]  # fmt: skip

_NEAR: tuple[FunctionKind, ...] = (
    "dorian", "mixolydian", "parallel minor", "secondary dominant", "blues seventh", "foreign note",
)  # fmt: skip
"""Borrowings so common that they hardly speak against a key; in real loops they cost it nothing beside what its own
chords gain (see `loop_evidence`)."""


class ChordFunction(NamedTuple):
    """The part a chord plays in a key; `target` is the numeral that a secondary dominant leads to."""

    kind: FunctionKind
    target: str = ""

    @property
    def distance(self) -> int:
        """How far the chord is from the key: 0 for the key's own chords, 1 for common borrowings, 2 for others."""
        return 0 if self.kind == "own" else 1 if self.kind in _NEAR else 2


_OWN = ChordFunction("own")
_FOREIGN = ChordFunction("foreign")

_FUNCTIONS: Mapping[Mode, Mapping[tuple[int, str], ChordFunction]] = {
    "major": {
        **dict.fromkeys([(0, ""), (2, "m"), (4, "m"), (5, ""), (7, ""), (9, "m"), (11, "dim")], _OWN),
        **dict.fromkeys([(3, ""), (8, ""), (5, "m"), (2, "dim")], ChordFunction("parallel minor")),
        **dict.fromkeys([(1, "dim"), (3, "dim"), (6, "dim"), (8, "dim")], ChordFunction("passing diminished")),
        (10, ""): ChordFunction("mixolydian"),
        (2, ""): ChordFunction("secondary dominant", "V"),
        (4, ""): ChordFunction("secondary dominant", "vi"),
        (9, ""): ChordFunction("secondary dominant", "ii"),
        (11, ""): ChordFunction("secondary dominant", "iii"),
        (7, "aug"): ChordFunction("raised fifth"),
        (7, "m"): ChordFunction("mixolydian minor"),
        (0, "m"): ChordFunction("parallel minor tonic"),
    },
    "minor": {
        **dict.fromkeys([(0, "m"), (2, "dim"), (3, ""), (5, "m"), (7, "m"), (8, ""), (10, "")], _OWN),
        **dict.fromkeys([(7, ""), (11, "dim")], _OWN),  # with the raised seventh of the harmonic minor
        **dict.fromkeys([(5, ""), (2, "m")], ChordFunction("dorian")),
        **dict.fromkeys([(9, "dim"), (6, "dim"), (1, "dim")], ChordFunction("passing diminished")),
        (1, ""): ChordFunction("phrygian"),
        (0, ""): ChordFunction("parallel major tonic"),
        (2, ""): ChordFunction("secondary dominant", "V"),
        (7, "aug"): ChordFunction("raised fifth"),
        (3, "aug"): ChordFunction("raised fifth"),
    },
}
"""Own chords and common borrowings (common practice, no source)."""

_RAISED_SEVENTH = 11
_RAISED_CHORDS = (7, 11)
_TONIC = Note.of("C")
"""Stands for any tonic where only distances count: its pitch class is 0."""


def above_tonic(chord: Chord, key: Key) -> int:
    """Semitones from the tonic up to the chord's root, 0 to 11."""
    return (chord.root.pitch_class - key.tonic.pitch_class) % 12


def function_of(chord: Chord, key: Key) -> ChordFunction:
    """The part a chord plays in a key. A chord without a third counts as major or minor, whichever is nearer."""
    return _function(above_tonic(chord, key), chord.suffix, key.mode)


@cache
def _function(place: int, suffix: str, mode: Mode) -> ChordFunction:
    chord = Chord(_TONIC, suffix)
    symbols = (chord.triad.suffix,) if chord.third else ("", "m")
    functions = (_FUNCTIONS[mode].get((place, symbol), _FOREIGN) for symbol in symbols)
    nearest = min(functions, key=lambda function: function.distance)
    if nearest != _OWN or {(place + note.pitch_class) % 12 for note in chord.notes} <= _sounds(place, mode):
        return nearest
    return ChordFunction("blues seventh" if chord.is_dominant_seventh else "foreign note")


def _sounds(place: int, mode: Mode) -> set[int]:
    """The notes that belong to the key under a chord at this place, in semitones above the tonic."""
    raised = {_RAISED_SEVENTH} if mode == "minor" and place in _RAISED_CHORDS else set()
    return {note.pitch_class for note in spell(_TONIC, MAJOR if mode == "major" else NATURAL_MINOR)} | raised


def tonic_chord(key: Key) -> Chord:
    """The triad on the tonic of a key."""
    return Chord(key.tonic, "m" if key.mode == "minor" else "")


def is_tonic(chord: Chord, key: Key) -> bool:
    """Whether the chord is the key's tonic chord; a chord without a third can be the tonic of either mode."""
    wanted = "" if key.mode == "major" else "m"
    return chord.root.sounds_like(key.tonic) and (chord.third is None or chord.triad.suffix == wanted)


def is_dominant(chord: Chord, key: Key) -> bool:
    """Whether the chord is the key's major dominant, with or without a seventh; its third may be left out."""
    return above_tonic(chord, key) == 7 and chord.third in ("3", None)


_MIDDLE_OF_KEY = 2  # the seven notes of a key lie from one fifth below its major tonic to five above
_FARTHEST_SPELLING = 8
_ENHARMONIC = 12


def respelled(chord: Chord, key: Key) -> Chord:
    """The chord with a root too far from the key respelled: A# in F major becomes B flat; others stay as written."""
    middle = key.signature + _MIDDLE_OF_KEY
    fifths = chord.root.fifths
    while abs(fifths - middle) > _FARTHEST_SPELLING:
        fifths += _ENHARMONIC if fifths < middle else -_ENHARMONIC
    if fifths == chord.root.fifths and chord.bass is None:
        return chord
    return Chord(Note(fifths), chord.suffix)
