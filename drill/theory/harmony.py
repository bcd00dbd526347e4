"""The chords of a key and their roman numerals, both ways.

Numerals count on the key's own scale, so the chords of A minor are i ii° III iv v VI VII; capitals have a major third.
In ASCII a diminished chord is marked o and a half-diminished seventh /o, as in RomanText; screens show ° and ø.

>>> from drill.theory.chords import parse_chord
>>> from drill.theory.keys import parse_key
>>> [f"{chord.numeral} {chord.chord.name}" for chord in scale_chords(parse_key("F#"))][-2:]
['vi D#m', 'viio E#dim']
>>> chord_at("V7", parse_key("Am")), numeral_of(parse_chord("G#dim"), parse_key("Am"))
(Chord('E7'), '#viio')
"""

import re
import unicodedata
from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from drill.errors import UnknownName
from drill.theory.chords import Chord, chord_of
from drill.theory.keys import Key
from drill.theory.names import plain_circles, quoted
from drill.theory.pitch import LETTERS, Note

ROMANS = ("I", "II", "III", "IV", "V", "VI", "VII")
_SEMITONE = 7  # fifths from a note to the same letter a semitone higher

# What follows the roman number, with the suffix the chord then has; a capital has a major third.
_CAPITAL_ENDINGS: Mapping[str, str] = {
    "": "", "+": "aug", "aug": "aug", "7": "7", "maj7": "maj7", "M7": "maj7", "Δ": "maj7", "Δ7": "maj7", "+7": "aug7",
    "+maj7": "maj7#5", "6": "6", "sus2": "sus2", "sus4": "sus4", "5": "5",
}  # fmt: skip
_SMALL_ENDINGS: Mapping[str, str] = {
    "": "m", "o": "dim", "°": "dim", "dim": "dim", "7": "m7", "m7": "m7", "o7": "dim7", "°7": "dim7", "dim7": "dim7",
    "/o7": "m7b5", "ø": "m7b5", "ø7": "m7b5", "m7b5": "m7b5", "7b5": "m7b5", "maj7": "mMaj7", "M7": "mMaj7", "6": "m6",
}  # fmt: skip
_NUMERAL = r"(?P<signs>[b#]*)(?P<roman>VII|VI|V|IV|III|II|I|vii|vi|v|iv|iii|ii|i)(?P<ending>.*)"
_CIRCLES = {"o": "°", "/o": "ø"}
_CIRCLE = "(?<=[iv])/?o"
"""Stands right after a small numeral; the o of 'I7no3' is a letter."""
_LOWERED_IN_MINOR = (3, 6, 7)
_SEVENTH, _DIMINISHED = 7, ("dim", "dim7", "m7b5")


class ScaleChord(NamedTuple):
    """A chord of a key: the degree (1-7) of its root, its numeral and the chord."""

    degree: int
    numeral: str
    chord: Chord


@cache
def scale_chords(key: Key, sevenths: bool = False) -> tuple[ScaleChord, ...]:
    """The seven triads (or sevenths) that use only notes of the key; for a minor key, of its natural scale."""
    size = 4 if sevenths else 3
    chords = (chord_of(key.notes[(start + 2 * step) % 7] for step in range(size)) for start in range(7))
    return tuple(ScaleChord(degree, numeral_of(chord, key), chord) for degree, chord in enumerate(chords, start=1))


def dominant(key: Key) -> Chord:
    """The major chord on the fifth degree; in a minor key its third is the raised seventh."""
    return Chord(key.notes[4])


@cache
def numeral_of(chord: Chord, key: Key) -> str:
    """The roman numeral of any chord in a key, in ASCII; roots outside the scale get # or b before the number."""
    degree = (LETTERS.index(chord.root.letter) - LETTERS.index(key.tonic.letter)) % 7
    raised = (chord.root.fifths - key.notes[degree].fifths) // _SEMITONE
    signs = "#" * raised or "b" * -raised
    if chord.third == "b3":
        small = chord.suffix.removeprefix("m")  # small letters mean it already
        return signs + ROMANS[degree].lower() + _ending(_SMALL_ENDINGS, chord.suffix, small)
    return signs + ROMANS[degree] + _ending(_CAPITAL_ENDINGS, chord.suffix, chord.suffix)


def _ending(endings: Mapping[str, str], suffix: str, otherwise: str) -> str:
    return next((ending for ending, meant in endings.items() if meant == suffix), otherwise)


def show_numeral(numeral: str) -> str:
    """A numeral for a screen: 'viio' becomes 'vii°', 'bVII' becomes '♭VII'."""
    return re.sub(_CIRCLE, lambda sign: _CIRCLES[sign[0]], numeral).replace("b", "♭").replace("#", "♯")


def _plain(numeral: str) -> str:
    """The numeral as a keyboard types it, without spaces: plain letters, b and # for ♭ and ♯, one kind of circle."""
    plain = unicodedata.normalize("NFKC", plain_circles(numeral)).replace("♭", "b").replace("♯", "#")
    return "".join(plain.split())


def chord_at(numeral: str, key: Key) -> Chord:
    """The chord of a numeral in a key; raises `UnknownName` for any other text.

    In a minor key a lowered III, VI or VII means the scale's own, and vii° stands on the raised seventh.
    """
    degree, raised, suffix = _read_numeral(numeral)
    if key.mode == "minor":
        raised = _raised_in_minor(degree, raised, suffix)
    return Chord(Note(key.notes[degree - 1].fifths + _SEMITONE * raised), suffix)


def _read_numeral(numeral: str) -> tuple[int, int, str]:
    """The degree (1-7), the semitones it is raised and the chord's suffix; raises `UnknownName`."""
    match = re.fullmatch(_NUMERAL, _plain(numeral))
    if match:
        signs, roman, ending = match["signs"], match["roman"], match["ending"]
        suffix = (_CAPITAL_ENDINGS if roman.isupper() else _SMALL_ENDINGS).get(ending)
        if suffix is not None:
            return ROMANS.index(roman.upper()) + 1, signs.count("#") - signs.count("b"), suffix
    raise UnknownName(f"{quoted(numeral)} is not a roman numeral.", "Write I to VII, such as ii, V7, bVII or viio.")


def _raised_in_minor(degree: int, raised: int, suffix: str) -> int:
    """By how many semitones to raise a note of the natural minor scale, where the numeral says `raised`."""
    if raised == -1 and degree in _LOWERED_IN_MINOR:
        return 0
    if raised == 0 and degree == _SEVENTH and suffix in _DIMINISHED:
        return 1
    return raised
