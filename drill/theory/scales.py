"""Scales as formulas of degrees, spelled from any tonic.

SCALES         every scale by name
scales_called  those that a name may mean, however it is written
find_scale     the one that a name means
spell          the notes of a scale
tone           the n-th tone of a scale, also beyond the octave

A degree is written as players write it, against the major scale: 'b3' is a semitone below the major third. Letters
follow the degree numbers, so every scale comes out spelled.

>>> [note.name for note in spell(Note.of("A", -1), MINOR_PENTATONIC)]
['Ab', 'Cb', 'Db', 'Eb', 'Gb']
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache

from drill.errors import UnknownName
from drill.theory.names import quoted
from drill.theory.pitch import OCTAVE, Interval, Note

_MAJOR_SCALE_FIFTHS = (0, 2, 4, -1, 1, 3, 5)
_SEMITONE_ON_ONE_LETTER = 7  # seven fifths up, four octaves down: the augmented unison

Formula = tuple[str, ...]

MINOR_PENTATONIC: Formula = ("1", "b3", "4", "5", "b7")
MAJOR_PENTATONIC: Formula = ("1", "2", "3", "5", "6")
MAJOR: Formula = ("1", "2", "3", "4", "5", "6", "7")
NATURAL_MINOR: Formula = ("1", "2", "b3", "4", "5", "b6", "b7")

SCALES: Mapping[str, Formula] = {
    "minor pentatonic": MINOR_PENTATONIC,
    "major pentatonic": MAJOR_PENTATONIC,
    "minor blues": ("1", "b3", "4", "b5", "5", "b7"),
    "major blues": ("1", "2", "b3", "3", "5", "6"),
    "major": MAJOR,
    "natural minor": NATURAL_MINOR,
    "harmonic minor": ("1", "2", "b3", "4", "5", "b6", "7"),
    "melodic minor": ("1", "2", "b3", "4", "5", "6", "7"),
    "ionian": MAJOR,
    "dorian": ("1", "2", "b3", "4", "5", "6", "b7"),
    "phrygian": ("1", "b2", "b3", "4", "5", "b6", "b7"),
    "lydian": ("1", "2", "3", "#4", "5", "6", "7"),
    "mixolydian": ("1", "2", "3", "4", "5", "6", "b7"),
    "aeolian": NATURAL_MINOR,
    "locrian": ("1", "b2", "b3", "4", "b5", "b6", "b7"),
    "whole tone": ("1", "2", "3", "#4", "#5", "#6"),
    "whole-half diminished": ("1", "2", "b3", "4", "b5", "b6", "6", "7"),
    "half-whole diminished": ("1", "b2", "b3", "3", "#4", "5", "6", "b7"),
}
"""Every scale by its name; melodic minor is the rising form (falling, it is the natural minor)."""

SCALES_LISTED = f"Scales: {', '.join(SCALES)}."

_DIMINISHED = ("whole-half diminished", "half-whole diminished")
_ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    "minor": ("natural minor",), "pentatonic": ("major pentatonic",), "blues": ("minor blues",),
    "wholetone": ("whole tone",), "ganzton": ("whole tone",), "ganztonleiter": ("whole tone",),
    "diminished": _DIMINISHED, "octatonic": _DIMINISHED,
    "whole-half": _DIMINISHED[:1], "half-whole": _DIMINISHED[1:],
}  # fmt: skip
"""As a bare tonic is a major key, a bare pentatonic is the major one; a blues scale is the minor one."""
_SCALE_WORDS = ("scale", "tonleiter", "scala", "gamme", "escala")

_OTHER_WORDS = {
    "major": "dur maggiore majeur majeure mayor",
    "minor": "moll minore mineur mineure menor",
    "natural": "naturlich naturliches naturale naturel naturelle",
    "harmonic": "harmonisch harmonisches armonico armonica harmonique",
    "melodic": "melodisch melodisches melodico melodica melodique",
    "pentatonic": "pentatonik pentatonisch pentatonico pentatonica pentatonique",
    "ionian": "ionisch jonisch ionico jonico ionien",
    "dorian": "dorisch dorico dorien",
    "phrygian": "phrygisch frigio phrygien",
    "lydian": "lydisch lidio lydien",
    "mixolydian": "mixolydisch misolidio mixolidio mixolydien",
    "aeolian": "aolisch aeolisch eolio eolico eolien",
    "locrian": "lokrisch locrio locrien",
}
"""What German, Italian, French and Spanish call these words, without the accents of their letters."""
_IN_SHORT = {
    "major": "maj",
    "minor": "min",
    "harmonic": "harm",
    "melodic": "mel",
    "pentatonic": "penta pent",
    "dorian": "dor",
    "phrygian": "phryg",
    "lydian": "lyd",
    "mixolydian": "mixo",
    "locrian": "loc",
}
"""What players write for short (common practice, no source)."""
_IN_ENGLISH = {
    word: english for names in (_OTHER_WORDS, _IN_SHORT) for english, words in names.items() for word in words.split()
}
_BY_WORDS = {frozenset(name.split()): name for name in SCALES}
_STEPS = re.compile(r"\b(whole|half) (?=whole|half)")
"""Between these two words the order counts; a hyphen keeps them together."""


@cache
def degree_interval(degree: str) -> Interval:
    """The interval from the tonic up to a degree such as '4', 'b3' or '#5'."""
    match = re.fullmatch(r"(b*|#*)([1-7])", degree)
    if not match:
        raise UnknownName(f"{quoted(degree)} is not a scale degree.", "Write 1 to 7 with b or # before it, such as b3.")
    signs, number = match.groups()
    fifths = _MAJOR_SCALE_FIFTHS[int(number) - 1]
    fifths += _SEMITONE_ON_ONE_LETTER * (signs.count("#") - signs.count("b"))
    return Interval(fifths, (int(number) - 1 - 4 * fifths) // 7)


def scales_called(name: str, mode: str | None = None) -> tuple[str, ...]:
    """The names under which `SCALES` has what a name may mean, however it is written; none for an unknown one.

    `mode` is what was written before it, as in 'Am pentatonic'; a scale of the other mode is not meant then.

    >>> scales_called("pentatonic"), scales_called("pentatonic", "minor"), scales_called("diminished scale")
    (('major pentatonic',), ('minor pentatonic',), ('whole-half diminished', 'half-whole diminished'))
    """
    plain = _plain(name)
    if mode:
        with_mode = _BY_WORDS.get(frozenset(f"{mode} {plain}".split()))
        return (with_mode,) if with_mode else tuple(each for each in scales_called(name) if scale_mode(each) == mode)
    found = _BY_WORDS.get(frozenset(plain.split()))
    return _ALSO_CALLED.get(plain, (found,) if found else ())


def find_scale(name: str, mode: str | None = None) -> str:
    """The name under which `SCALES` has a scale, however it is written; `mode` as in `scales_called`.

    Raises `UnknownName`, which lists the scales, or those that the name may mean.

    >>> find_scale("Minor-Blues"), find_scale("mineur harmonique"), find_scale("Mollpentatonik")
    ('minor blues', 'harmonic minor', 'minor pentatonic')
    """
    found = scales_called(name, mode) or scales_called(name)
    if len(found) > 1:
        raise UnknownName(f"{quoted(name)} is the name of two scales.", f"Write {' or '.join(found)}.")
    if not found:
        raise UnknownName(f"{quoted(name)} is not a scale known here.", SCALES_LISTED)
    return found[0]


def scale_mode(name: str) -> str:
    """Whether a scale is 'minor', with a minor third and no major one, or 'major'."""
    return "minor" if "b3" in SCALES[name] and "3" not in SCALES[name] else "major"


def _plain(name: str) -> str:
    """A name in English, in lower case, without accents and without a last word that says no more than 'scale'."""
    bare = "".join(sign for sign in unicodedata.normalize("NFD", name.casefold()) if not unicodedata.combining(sign))
    words = re.sub(r"^(moll|dur)(?=pentatonik)", r"\1 ", bare.replace("-", " ")).split()
    if len(words) > 1 and words[-1] in _SCALE_WORDS:
        words.pop()
    return _STEPS.sub(r"\1-", " ".join(_IN_ENGLISH.get(word, word) for word in words))


@cache
def spell(tonic: Note, formula: Formula) -> tuple[Note, ...]:
    """The notes of a scale from its tonic up."""
    return tuple(tonic + degree_interval(degree) for degree in formula)


def tone(formula: Formula, index: int) -> Interval:
    """The interval from the tonic to the index-th tone of the scale, also beyond the octave and downward."""
    octaves, place = divmod(index, len(formula))
    return degree_interval(formula[place]) + OCTAVE * octaves
