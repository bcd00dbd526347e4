"""Statements about shapes, fingers, degrees and chords, of which the sentences of mix-ups are made (see `claims`)."""

from __future__ import annotations

from drill.questions.mixups.claims import Claim, key_words
from drill.questions.wording import (
    FINGERS,
    frets_in_words,
    named,
    named_chord,
    named_degree,
    named_key,
    named_notes,
    named_numeral,
    shape_label,
    string_label,
)
from drill.theory.chords import Chord
from drill.theory.keys import Key, Mode
from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note
from drill.theory.shapes import Shape

QUALITIES = {
    "": "major", "m": "minor", "dim": "diminished", "aug": "augmented", "7": "a dominant seventh",
    "m7": "a minor seventh", "maj7": "a major seventh", "m7b5": "half-diminished",
}  # fmt: skip
"""Kinds of chord in words, by their suffix."""


_SIGNS = {"b": "flat", "#": "sharp"}


# -- fingers and shapes ------------------------------------------------------------------------------------------------


class Holds(Claim):
    """A finger of a hand laid at an index fret holds a note."""

    finger: int
    note: Note
    spot: Spot
    index_fret: int
    neck: Neck

    def words(self) -> str:
        return f"the {FINGERS[self.finger]} finger holds {named(self.note)}"


class HoldsNothing(Claim):
    """A finger has no note of a shape on a string."""

    finger: int
    string: int
    shape: Shape
    neck: Neck

    def words(self) -> str:
        where = string_label(self.neck.tuning, self.string)
        return f"the {FINGERS[self.finger]} finger has no note of this shape on {where}"


class WouldBe(Claim):
    """The key whose tonic, or whose relative's, a finger on a note would be by the rule of the two shapes."""

    finger: int
    note: Note
    tonic: Note
    mode: Mode

    def words(self) -> str:
        where = f"the {FINGERS[self.finger]} finger on {named(self.note)}"
        return f"{key_words(self.tonic, self.mode)} is right with {where}"


class HoldsTonic(Claim):
    """Which tonic a finger holds by the rule of the two shapes."""

    finger: int
    mode: Mode

    def words(self) -> str:
        return f"the {FINGERS[self.finger]} finger holds the {self.mode} tonic"


class NoPlace(Claim):
    """A shape does not lie whole on the neck, off its open strings, if it is laid so that it reaches these frets."""

    neck: Neck
    index_fret: int
    lowest: int
    highest: int

    def words(self) -> str:
        if self.index_fret == 0:
            return "no finger holds an open string"
        if self.lowest > 0:
            return "from there the shape runs off this neck"
        place = "below the nut" if self.lowest else "on an open string"
        return f"from there the lowest note of the shape would lie {place}"


class BeginsAt(Claim):
    """Where a shape's lowest note lies on its lowest string."""

    shape: Shape
    neck: Neck

    def words(self) -> str:
        return f"the {shape_label(self.shape, self.neck.tuning)} begins at fret {self.shape.dots[0].spot.fret}"


class BelongsTo(Claim):
    """The minor key of the shape that has its lowest note at a spot."""

    shape: Shape
    neck: Neck

    def words(self) -> str:
        label = shape_label(self.shape, self.neck.tuning)
        return f"from this lowest note the {label} belongs to {named_key(self.shape.key)}"


class IndexAt(Claim):
    """The index fret of a shape."""

    shape: Shape
    neck: Neck

    def words(self) -> str:
        return f"fret {self.shape.index_fret} is the index fret of the {shape_label(self.shape, self.neck.tuning)}"


class EdgeOf(Claim):
    """The highest or the lowest fret of a shape."""

    shape: Shape
    neck: Neck
    fret: int
    highest: bool

    def words(self) -> str:
        end = "highest" if self.highest else "lowest"
        return f"fret {self.fret} is the {end} fret of the {shape_label(self.shape, self.neck.tuning)}"


class TwoWays(Claim):
    """How many frets lead from the index fret of one shape up to the next place of another, and from that on back."""

    here: Shape
    there: Shape
    frets: int
    back: int
    neck: Neck

    def words(self) -> str:
        here, there = (shape_label(shape, self.neck.tuning) for shape in (self.here, self.there))
        return f"{frets_in_words(self.back)} lead from the {there} up to the {here}; this way it is {self.frets}"


# -- degrees -----------------------------------------------------------------------------------------------------------


class DegreeUnder(Claim):
    """The degree that a finger plays on a string of a shape."""

    degree: str
    mode: Mode
    finger: int
    string: int
    shape: Shape
    neck: Neck
    elsewhere: bool = False
    """Whether the shape is another than the one the question is about."""

    def words(self) -> str:
        where = string_label(self.neck.tuning, self.string)
        shape = f" of the {shape_label(self.shape, self.neck.tuning)}" if self.elsewhere else ""
        return f"{named_degree(self.degree)} is under the {FINGERS[self.finger]} finger on {where}{shape}"


class DegreeInOther(Claim):
    """The same note counted from the other tonic."""

    degree: str
    mode: Mode
    right: str

    def words(self) -> str:
        return f"{named_degree(self.degree)} is its degree in the relative {self.mode} key"


class DegreeBeside(Claim):
    """The degree next to another in the five-note scale."""

    degree: str
    right: str
    mode: Mode
    up: bool

    def words(self) -> str:
        way = "above" if self.up else "below"
        return f"{named_degree(self.degree)} is the next note of the {self.mode} scale {way} {named_degree(self.right)}"


class NoteOfFive(Claim):
    """Which of the five notes of the scale a degree is, counted from the tonic."""

    place: int
    degree: str
    mode: Mode

    def words(self) -> str:
        ordinal = {1: "first", 2: "second", 3: "third", 4: "fourth", 5: "fifth"}[self.place]
        return f"{named_degree(self.degree)} is the {ordinal} note of the five"


class DegreeSign(Claim):
    """The same number with another sign."""

    degree: str
    right: str

    def words(self) -> str:
        degree, right = named_degree(self.degree), named_degree(self.right)
        if self.degree[0] not in _SIGNS:
            return f"{degree} leaves out the {_SIGNS[self.right[0]]} of {right}"
        if self.right[0] not in _SIGNS:
            return f"{degree} adds a {_SIGNS[self.degree[0]]} to {right}"
        return f"{degree} has a {_SIGNS[self.degree[0]]}, {right} has a {_SIGNS[self.right[0]]}"


class DegreeSemitones(Claim):
    """How many semitones a degree lies above the tonic."""

    degree: str
    semitones: int

    def words(self) -> str:
        return f"{named_degree(self.degree)} lies {self.semitones} semitones above the tonic"


class FingerNumber(Claim):
    """The number of the finger that the question names."""

    finger: int

    def words(self) -> str:
        return f"{self.finger} is the number of the finger"


# -- chords ------------------------------------------------------------------------------------------------------------


class NumeralMeans(Claim):
    """The chord of a numeral in a key."""

    numeral: str
    key: Key
    chord: Chord

    def words(self) -> str:
        return f"{named_numeral(self.numeral)} is {named_chord(self.chord)} in {named_key(self.key)}"


class NumeralSign(Claim):
    """A numeral with a sharp or a flat that the right one lacks."""

    numeral: str
    right: str

    def words(self) -> str:
        return f"{named_numeral(self.numeral)} adds a {_SIGNS[self.numeral[0]]} to {named_numeral(self.right)}"


class ChordQuality(Claim):
    """What kind of chord a chord is."""

    chord: Chord
    suffix: str

    def words(self) -> str:
        return f"{named_chord(self.chord)} is {QUALITIES[self.suffix]}"


class NotInChord(Claim):
    """A note is none of a chord's notes."""

    note: Note
    chord: Chord

    def words(self) -> str:
        return f"{named(self.note)} is not in {named_chord(self.chord)}, {named_notes(self.chord.notes)}"


class InLoop(Claim):
    """A chord sounds in the loop."""

    chord: Chord
    loop: str

    def words(self) -> str:
        return f"{named_chord(self.chord)} is in the loop"
