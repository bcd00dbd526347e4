"""Families about the chords of a key: from the numeral to the chord, and from the chord to the numeral."""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple, TypeVar

from drill.questions.answers import ChordAnswer, NumeralAnswer
from drill.questions.card import Ask, Card
from drill.questions.facts import Fact, chord_fact
from drill.questions.family import Family
from drill.questions.mixups.chords import wrong_chords, wrong_numerals
from drill.questions.picture import low_notes
from drill.questions.scope import Scope
from drill.questions.wording import named, named_chord, named_key, named_notes, named_numeral
from drill.theory.chords import Chord
from drill.theory.harmony import ScaleChord, dominant, scale_chords
from drill.theory.keys import Key
from drill.theory.neck import Neck

ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh")
_QUALITIES = {"": "major", "m": "minor", "dim": "diminished"}


@cache
def asked_chords(key: Key) -> tuple[ScaleChord, ...]:
    """The seven triads of the key; for a minor key the major chord on the fifth degree too, which leads home."""
    own = scale_chords(key)
    if key.mode == "major":
        return own
    return (*own[:5], ScaleChord(5, "V", dominant(key)), *own[5:])


class KeyAndNumeral(NamedTuple):
    """A chord of a key, by its numeral."""

    key: Key
    numeral: str

    @property
    def asked(self) -> ScaleChord:
        """The chord with its degree and its numeral."""
        return next(each for each in asked_chords(self.key) if each.numeral == self.numeral)


class KeyAndChord(NamedTuple):
    """A chord of a key, by its name."""

    key: Key
    chord: Chord

    @property
    def asked(self) -> ScaleChord:
        """The chord with its degree and its numeral."""
        return next(each for each in asked_chords(self.key) if each.chord == self.chord)


F = TypeVar("F", KeyAndNumeral, KeyAndChord)


class _ChordFamily(Family[F]):
    """Both directions between numeral and chord."""

    needs = ("signature",)
    about_the_neck = False

    def facts(self, facets: F, neck: Neck) -> tuple[Fact, ...]:
        return (chord_fact(facets.key, facets.asked.numeral),)


class ChordOfKey(_ChordFamily[KeyAndNumeral]):
    """Which triad a numeral means in a key."""

    id = "chord-of-key"
    title = "Chord of a numeral"
    idea = (
        "A roman numeral says on which note of the key a triad, a chord of three notes, stands: "
        "capitals major, small letters minor."
    )
    facet_type = KeyAndNumeral

    def spread(self, scope: Scope) -> Iterator[KeyAndNumeral]:
        return (KeyAndNumeral(key, each.numeral) for key in scope.keys for each in asked_chords(key))

    def card(self, facets: KeyAndNumeral, neck: Neck) -> Card:
        key, asked = facets.key, facets.asked
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named_key(key), "", f"Which triad is {named_numeral(asked.numeral)}?"),
            kind=ChordAnswer(),
            accepts=(asked.chord.name,),
            explain=lambda: (*_steps(key, asked), f"so it is {named_chord(asked.chord)}"),
            confuse=lambda: wrong_chords(key, asked),
            draw_answer=lambda: low_notes(neck, asked.chord.notes),
        )


class NumeralOfChord(_ChordFamily[KeyAndChord]):
    """Which numeral a chord has in a key."""

    id = "numeral-of-chord"
    title = "Numeral of a chord"
    idea = (
        "A roman numeral says on which note of the key a chord stands: "
        "capitals for major, small letters for minor and diminished."
    )
    facet_type = KeyAndChord

    def spread(self, scope: Scope) -> Iterator[KeyAndChord]:
        return (KeyAndChord(key, each.chord) for key in scope.keys for each in asked_chords(key))

    def card(self, facets: KeyAndChord, neck: Neck) -> Card:
        key, asked = facets.key, facets.asked
        small = asked.numeral.removesuffix("o")
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named_chord(asked.chord), named_key(key), "Which numeral?"),
            kind=NumeralAnswer(key),
            accepts=tuple(dict.fromkeys((asked.numeral, small))),
            explain=lambda: (*_steps(key, asked), _written(asked)),
            confuse=lambda: wrong_numerals(key, asked),
            draw=lambda: low_notes(neck, asked.chord.notes[:1]),
            draw_answer=lambda: low_notes(neck, asked.chord.notes),
        )


def _steps(key: Key, asked: ScaleChord) -> tuple[str, ...]:
    chord = asked.chord
    is_own = chord in {each.chord for each in scale_chords(key)}
    raised = f"raise {named(key.notes[6])} to {named(chord.notes[1])}, which leads home"
    return (
        f"{named_key(key)}: {named_notes(key.notes)}",
        f"its {ORDINALS[asked.degree - 1]} note is {named(chord.root)}",
        *(() if is_own else (raised,)),
        f"stack thirds: {named_notes(chord.notes)}, a {_QUALITIES[chord.suffix]} chord",
    )


def _written(asked: ScaleChord) -> str:
    letters = "capitals" if asked.numeral.isupper() else "small letters"
    return f"{_QUALITIES[asked.chord.suffix]}, so {letters}: {named_numeral(asked.numeral)}"
