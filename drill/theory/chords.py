"""Chord names and the notes in them.

A chord here is what its name says: a root, a kind and perhaps another bass note, but no voicing. Ninths and
thirteenths therefore count as the second and the sixth.

parse_chord   'F#m7b5', 'B♭maj7', 'A-', 'C/E' to a Chord
parse_chords  'Am | F | C | G' to several
chord_of      the chord that some stacked notes make

>>> [note.name for note in parse_chord("E#dim").notes]
['E#', 'G#', 'B']
>>> parse_chord("bb minor"), parse_chord("Asus4"), parse_chord("Cis-7", "german")
(Chord('Bbm'), Chord('Asus4'), Chord('C#m7'))
"""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from functools import cache
from typing import NamedTuple

from drill.errors import UnknownName
from drill.theory.names import (
    LONGEST_NAME,
    NoteLanguage,
    parse_note,
    plain_circles,
    plain_dashes,
    quoted,
    show_note,
    typed_note,
)
from drill.theory.pitch import Note
from drill.theory.scales import Formula, spell


class ChordKind(NamedTuple):
    """A kind of chord: its degrees above the root, and other ways to write its suffix."""

    formula: Formula
    also: tuple[str, ...] = ()


def _kind(degrees: str, also: str = "") -> ChordKind:
    return ChordKind(tuple(degrees.split()), tuple(also.split()))


CHORD_KINDS: Mapping[str, ChordKind] = {
    "": _kind("1 3 5", "maj major M"),
    "m": _kind("1 b3 5", "min minor mi -"),
    "dim": _kind("1 b3 b5", "° o diminished"),
    "aug": _kind("1 3 #5", "+ augmented (#5)"),
    "5": _kind("1 5", "no3 (no3) omit3"),
    "sus2": _kind("1 2 5", "2"),
    "sus4": _kind("1 4 5", "sus 4"),
    "6": _kind("1 3 5 6", "maj6 M6"),
    "m6": _kind("1 b3 5 6", "min6 -6"),
    "69": _kind("1 3 5 6 2", "6/9"),
    "7": _kind("1 3 5 b7", "dom7 dominant7"),
    "maj7": _kind("1 3 5 7", "M7 ma7 j7 Δ Δ7 ∆ ∆7 △ △7 major7"),
    "m7": _kind("1 b3 5 b7", "min7 mi7 -7 minor7"),
    "m7b5": _kind("1 b3 b5 b7", "min7b5 -7b5 ø ø7 halfdim halfdiminished"),
    "dim7": _kind("1 b3 b5 bb7", "°7 o7 diminished7"),
    "mMaj7": _kind("1 b3 5 7", "mmaj7 mM7 minmaj7 m(maj7) -Δ -maj7 -M7"),
    "aug7": _kind("1 3 #5 b7", "7#5 +7 7+"),
    "maj7#5": _kind("1 3 #5 7", "M7#5 augmaj7 +maj7"),
    "7b5": _kind("1 3 b5 b7"),
    "7sus4": _kind("1 4 5 b7", "7sus"),
    "add9": _kind("1 3 5 2", "add2"),
    "madd9": _kind("1 b3 5 2", "madd2 -add9"),
    "9": _kind("1 3 5 b7 2"),
    "m9": _kind("1 b3 5 b7 2", "min9 -9"),
    "maj9": _kind("1 3 5 7 2", "M9 Δ9"),
    "7b9": _kind("1 3 5 b7 b2"),
    "7#9": _kind("1 3 5 b7 #2"),
    "11": _kind("1 3 5 b7 2 4"),
    "m11": _kind("1 b3 5 b7 2 4", "min11 -11"),
    "13": _kind("1 3 5 b7 2 4 6"),
    "9sus4": _kind("1 4 5 b7 2", "9sus"),
    "13sus4": _kind("1 4 5 b7 2 6", "13sus"),
    "7sus2": _kind("1 2 5 b7"),
    "maj7sus4": _kind("1 4 5 7", "maj7sus M7sus"),
    "sus2sus4": _kind("1 2 4 5", "sus4add9 sus24"),
    "7no3": _kind("1 5 b7", "7(no3) 7omit3"),
    "add11": _kind("1 3 5 4", "add4"),
    "madd11": _kind("1 b3 5 4", "madd4 -add11"),
    "add#11": _kind("1 3 5 #4", "add#4"),
    "addb9": _kind("1 3 5 b2"),
    "add#9": _kind("1 3 5 #2"),
    "mb6": _kind("1 b3 5 b6", "m(b6) -b6"),
    "m69": _kind("1 b3 5 6 2", "m6/9 min6/9 -6/9"),
    "mMaj9": _kind("1 b3 5 7 2", "mmaj9 m(maj9) mM9 minmaj9 -maj9 -M9"),
    "m13": _kind("1 b3 5 b7 2 4 6", "min13 -13"),
    "m9b5": _kind("1 b3 b5 b7 2", "ø9 min9b5 -9b5"),
    "m7#5": _kind("1 b3 #5 b7", "min7#5 -7#5"),
    "m7b6": _kind("1 b3 5 b7 b6", "m7b13"),
    "maj13": _kind("1 3 5 7 2 4 6", "M13 Δ13"),
    "maj7#11": _kind("1 3 5 7 #4", "M7#11 Δ#11"),
    "maj9#11": _kind("1 3 5 7 2 #4", "M9#11"),
    "maj7b5": _kind("1 3 b5 7", "M7b5"),
    "dimMaj7": _kind("1 b3 b5 7", "dimmaj7 dim(maj7) °maj7 °M7 omaj7"),
    "(b5)": _kind("1 3 b5"),
    "9b5": _kind("1 3 b5 b7 2"),
    "aug9": _kind("1 3 #5 b7 2", "9#5 +9 9+"),
    "7#11": _kind("1 3 5 b7 #4"),
    "9#11": _kind("1 3 5 b7 2 #4"),
    "13#11": _kind("1 3 5 b7 2 #4 6"),
    "7b13": _kind("1 3 5 b7 b6", "7b6"),
    "9b13": _kind("1 3 5 b7 2 b6"),
    "7b9b13": _kind("1 3 5 b7 b2 b6", "7b13b9"),
    "7add11": _kind("1 3 5 b7 4", "7add4"),
    "7add13": _kind("1 3 5 b7 6", "7add6"),
    "7alt": _kind("1 3 b7 b2 #2 b5 #5", "alt"),
}
"""Every kind of chord by the suffix it is written with here (lead-sheet custom; common practice, no source)."""

_THIRDS = ("3", "b3")
_FIFTHS = ("5", "b5", "#5")
_TRIADS: Mapping[tuple[str | None, str], str] = {
    ("3", "5"): "",
    ("b3", "5"): "m",
    ("b3", "b5"): "dim",
    ("3", "#5"): "aug",
}
_ALTERED = {"-": "b", "+": "#"}
"""Signs that lower or raise what follows a number, as in 'm7-5'."""


class Chord(NamedTuple):
    """A root, a kind (a suffix of `CHORD_KINDS`), and the bass note where it is not the root."""

    root: Note
    suffix: str = ""
    bass: Note | None = None

    @property
    def formula(self) -> Formula:
        """Degrees of the chord's notes, counted from its root."""
        return CHORD_KINDS[self.suffix].formula

    @property
    def notes(self) -> tuple[Note, ...]:
        """The notes from the root up, without a foreign bass note."""
        return spell(self.root, self.formula)

    @property
    def third(self) -> str | None:
        """'3' or 'b3', None where the chord has no third."""
        return _third(self.suffix)

    @property
    def triad(self) -> "Chord":
        """The chord reduced to root, third and fifth; without a third it stays as it is."""
        return self if self.third is None else Chord(self.root, _triad(self.suffix))

    @property
    def is_dominant_seventh(self) -> bool:
        """Whether major third and minor seventh are both there: the chord that tends to resolve a fourth up."""
        return self.third == "3" and "b7" in self.formula

    @property
    def name(self) -> str:
        """ASCII name as on a lead sheet, as in 'F#m7b5' or 'C/E'."""
        return self.root.name + self.suffix + (f"/{self.bass.name}" if self.bass else "")

    def shown_in(self, language: NoteLanguage) -> str:
        """Name for a screen in a note language, as in 'B♭m7' or 'Bm7' in German."""
        bass = f"/{show_note(self.bass, language)}" if self.bass else ""
        return show_note(self.root, language) + self.suffix.replace("b", "♭").replace("#", "♯") + bass

    def typed_in(self, language: NoteLanguage) -> str:
        """Name as a keyboard types it in a note language; `parse_chord` reads it back."""
        bass = f"/{typed_note(self.bass, language)}" if self.bass else ""
        return typed_note(self.root, language) + self.suffix + bass

    def __repr__(self) -> str:
        return f"Chord({self.name!r})"


_EXAMPLES = (
    Chord(Note.of("A"), "m"),
    Chord(Note.of("F", 1), "m7b5"),
    Chord(Note.of("B"), "dim"),
    Chord(Note.of("G"), "7"),
    Chord(Note.of("C"), bass=Note.of("E")),
)


@cache
def _third(suffix: str) -> str | None:
    return next((degree for degree in CHORD_KINDS[suffix].formula if degree in _THIRDS), None)


@cache
def _triad(suffix: str) -> str:
    """The suffix of the triad within a kind of chord that has a third; an altered fifth with no triad is left out."""
    fifth = next((degree for degree in CHORD_KINDS[suffix].formula if degree in _FIFTHS), "5")
    return _TRIADS.get((_third(suffix), fifth), "" if _third(suffix) == "3" else "m")


def parse_chord(text: str, language: NoteLanguage = "english") -> Chord:
    """Read a chord as players write it; raises `UnknownName` for any other text."""
    plain = (
        plain_dashes(unicodedata.normalize("NFKC", plain_circles(text))).strip() if len(text) <= LONGEST_NAME else ""
    )
    upper, slash, below = plain.rpartition("/")
    bass = _note_or_none(below, language) if slash else None
    chord = _rooted(upper if bass else plain, language)
    if chord is None:
        raise UnknownName(
            f"{quoted(text)} is not a chord.",
            f"Write a root and a kind, as in {', '.join(chord.typed_in(language) for chord in _EXAMPLES[:-1])} "
            f"or {_EXAMPLES[-1].typed_in(language)}.",
        )
    return Chord(chord.root, chord.suffix, bass if bass != chord.root else None)


def parse_chords(text: str, language: NoteLanguage = "english") -> tuple[Chord, ...]:
    """Read several chords, separated by spaces, commas, bar lines or dashes; raises `UnknownName`."""
    words = text.replace("|", " ").replace(",", " ").split()
    return tuple(parse_chord(word, language) for word in words if word.strip("-–—"))


def chord_of(notes: Iterable[Note]) -> Chord:
    """The chord of some notes, root first; raises `UnknownName` where no kind of chord has exactly these notes."""
    root, *above = notes
    for suffix in CHORD_KINDS:
        chord = Chord(root, suffix)
        if set(chord.notes) == {root, *above}:
            return chord
    names = " ".join(note.name for note in (root, *above))
    raise UnknownName(
        f"{names} do not make a chord known here.", f"Kinds: {', '.join(suffix for suffix in CHORD_KINDS if suffix)}."
    )


def _rooted(text: str, language: NoteLanguage) -> Chord | None:
    """The longest beginning that is a note before a known suffix: 'Bb5' is B flat, 'Asus4' not a German A flat."""
    for length in range(len(text), 0, -1):
        suffix = _suffix(text[length:])
        root = _note_or_none(text[:length], language) if suffix is not None else None
        if root is not None and suffix is not None:
            return Chord(root, suffix)
    return None


def _note_or_none(text: str, language: NoteLanguage) -> Note | None:
    try:
        return parse_note(text, language) if not text.endswith("-") else None
    except UnknownName:
        return None


def _suffix(text: str) -> str | None:
    """The suffix as `CHORD_KINDS` writes it; capitals matter only for M and m."""
    plain = "".join(text.replace("♭", "b").replace("♯", "#").split())
    plain = re.sub(r"(?<=\d)[-+](?=\d)", lambda sign: _ALTERED[sign[0]], plain)
    return _suffixes().get(plain, _suffixes().get(plain.casefold().replace("(", "").replace(")", "")))


@cache
def _suffixes() -> dict[str, str]:
    return {written: suffix for suffix, kind in CHORD_KINDS.items() for written in (suffix, *kind.also)}
