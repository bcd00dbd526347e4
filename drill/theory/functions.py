"""What part a chord plays in a key: one of its own chords, a common borrowing, or a stranger.

Roots are counted in semitones above the tonic and chords by their triad, so that a table says it all; sevenths and
other colours are judged by whether their notes belong to the key.

>>> from drill.theory.chords import parse_chord
>>> from drill.theory.keys import parse_key
>>> role_of(parse_chord("D"), parse_key("Am")).why
'borrowed, as in the dorian mode'
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from drill.theory.chords import Chord
from drill.theory.keys import Key, Mode
from drill.theory.pitch import Note
from drill.theory.scales import MAJOR, NATURAL_MINOR, spell

OWN, MODAL, BORROWED, RARE, FOREIGN = 0, 2, 3, 6, 9
"""How far chords are from a key; the figures are ours and matter only beside the weights in `loops`."""


class Role(NamedTuple):
    """How far a chord is from a key, 0 for its own chords, and why it is not its own."""

    distance: int
    why: str = ""


_FOREIGN = Role(FOREIGN, "foreign to the key")
_PARALLEL_MINOR = Role(BORROWED, "borrowed from the parallel minor")
_PASSING = Role(BORROWED, "a passing diminished chord")
_AUGMENTED = Role(BORROWED, "a dominant with a raised fifth")


def _dominant_of(numeral: str) -> Role:
    return Role(BORROWED, f"the dominant of {numeral}")


_ROLES: Mapping[Mode, Mapping[tuple[int, str], Role]] = {
    "major": {
        **dict.fromkeys([(0, ""), (2, "m"), (4, "m"), (5, ""), (7, ""), (9, "m"), (11, "dim")], Role(OWN)),
        **dict.fromkeys([(3, ""), (8, ""), (5, "m"), (2, "dim")], _PARALLEL_MINOR),
        **dict.fromkeys([(1, "dim"), (3, "dim"), (6, "dim"), (8, "dim")], _PASSING),
        (10, ""): Role(BORROWED, "borrowed, as in the mixolydian mode"),
        (2, ""): _dominant_of("V"),
        (4, ""): _dominant_of("vi"),
        (9, ""): _dominant_of("ii"),
        (11, ""): _dominant_of("iii"),
        (7, "aug"): _AUGMENTED,
        (7, "m"): Role(RARE, "the minor chord of the mixolydian mode"),
        (0, "m"): Role(RARE, "the tonic of the parallel minor"),
    },
    "minor": {
        **dict.fromkeys([(0, "m"), (2, "dim"), (3, ""), (5, "m"), (7, "m"), (8, ""), (10, "")], Role(OWN)),
        **dict.fromkeys([(7, ""), (11, "dim")], Role(OWN)),  # with the raised seventh of the harmonic minor
        **dict.fromkeys([(5, ""), (2, "m")], Role(MODAL, "borrowed, as in the dorian mode")),
        **dict.fromkeys([(9, "dim"), (6, "dim"), (1, "dim")], _PASSING),
        (1, ""): Role(BORROWED, "borrowed, as in the phrygian mode"),
        (0, ""): Role(BORROWED, "the tonic of the parallel major"),
        (2, ""): _dominant_of("V"),
        (7, "aug"): _AUGMENTED,
        (3, "aug"): _AUGMENTED,
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


def role_of(chord: Chord, key: Key) -> Role:
    """The part a chord plays in a key. A chord without a third is taken for the nearest that has one."""
    return _role(above_tonic(chord, key), chord.suffix, key.mode)


@cache
def _role(place: int, suffix: str, mode: Mode) -> Role:
    chord = Chord(_TONIC, suffix)
    symbols = (chord.triad.suffix,) if chord.third else ("", "m")
    role = min((_ROLES[mode].get((place, symbol), _FOREIGN) for symbol in symbols), key=lambda role: role.distance)
    if role.distance > OWN or {(place + note.pitch_class) % 12 for note in chord.notes} <= _sounds(place, mode):
        return role
    if chord.is_dominant_seventh:
        return Role(BORROWED, "with the added seventh of the blues")
    return Role(BORROWED, "coloured by a note outside the key")


def _sounds(place: int, mode: Mode) -> set[int]:
    """What a chord at this place may hold, in semitones above the tonic."""
    raised = {_RAISED_SEVENTH} if mode == "minor" and place in _RAISED_CHORDS else set()
    return {note.pitch_class for note in spell(_TONIC, MAJOR if mode == "major" else NATURAL_MINOR)} | raised


def is_tonic(chord: Chord, key: Key) -> bool:
    """Whether the chord is the key's tonic chord; a chord without a third can be the tonic of either mode."""
    wanted = "" if key.mode == "major" else "m"
    return chord.root.sounds_like(key.tonic) and (chord.third is None or chord.triad.suffix == wanted)


def is_dominant(chord: Chord, key: Key) -> bool:
    """Whether the chord is the key's major dominant, with or without a seventh; its third may be left out."""
    return above_tonic(chord, key) == 7 and chord.third in ("3", None)


def holds_raised_seventh(chord: Chord, key: Key) -> bool:
    """Whether a chord of a minor key holds the raised seventh: the mark of the minor key against its relative."""
    if key.mode == "major" or above_tonic(chord, key) not in _RAISED_CHORDS:
        return False
    raised = (key.tonic.pitch_class + _RAISED_SEVENTH) % 12
    return any(note.pitch_class == raised for note in chord.notes)


_MIDDLE_OF_KEY = 2  # the seven notes of a key lie from one fifth below its major tonic to five above
_FARTHEST_SPELLING = 8
_ENHARMONIC = 12


def respelled(chord: Chord, key: Key) -> Chord:
    """The chord with its root spelled as the key would: A# in F major is B flat. What makes sense stays as written."""
    middle = key.signature + _MIDDLE_OF_KEY
    fifths = chord.root.fifths
    while abs(fifths - middle) > _FARTHEST_SPELLING:
        fifths += _ENHARMONIC if fifths < middle else -_ENHARMONIC
    if fifths == chord.root.fifths and chord.bass is None:
        return chord
    return Chord(Note(fifths), chord.suffix)
