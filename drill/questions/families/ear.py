"""The family that is heard: the same five notes over one of two tonics.

The five notes fit three keys and tell none; the chords before them do.
"""

from collections.abc import Iterator
from typing import NamedTuple

from drill.questions.card import Ask, Card, Heard
from drill.questions.facets import Group
from drill.questions.facts import Fact, ear_fact
from drill.questions.family import Family, key_groups
from drill.questions.mixups.keys import wrong_rest
from drill.questions.mode_answer import ModeAnswer
from drill.questions.picture import low_tonic
from drill.questions.scope import Scope
from drill.questions.wording import named, named_chord, named_notes
from drill.theory.chords import Chord, parse_chord
from drill.theory.keys import Key, Mode
from drill.theory.neck import Neck
from drill.theory.pitch import Note

FIVE_OF_SEVEN = (0, 2, 3, 4, 6)
"""Which notes of a minor key make its pentatonic: all but the second and the sixth."""
SUBDOMINANT, DOMINANT = 3, 4
"""Where in a key's notes the roots of its fourth and its fifth chord stand, counted from 0."""


class TonicAndMode(NamedTuple):
    """The tonic on which the chords rest, and whether it is minor or major."""

    note: Note
    mode: Mode

    @property
    def key(self) -> Key:
        """The key that is heard."""
        return Key(self.note, self.mode)


class EarTonic(Family[TonicAndMode]):
    """Whether five notes are heard as minor or as major."""

    id = "ear-tonic"
    title = "Minor or major by ear"
    idea = (
        "The same five notes sound minor over one tonic, or home note, and major over another; "
        "chords tell which by where they rest."
    )
    facet_type = TonicAndMode
    needs = ("other-tonic",)
    about_the_neck = False

    def spread(self, scope: Scope) -> Iterator[TonicAndMode]:
        return (TonicAndMode(key.tonic, key.mode) for key in scope.keys)

    def facts(self, facets: TonicAndMode, neck: Neck) -> tuple[Fact, ...]:
        return (ear_fact(facets.key),)

    def groups(self, facets: TonicAndMode, neck: Neck) -> frozenset[Group]:
        return key_groups((facets.key,))

    def card(self, facets: TonicAndMode, neck: Neck) -> Card:
        key = facets.key
        phrase = heard(key)
        about = f"{_in_a_row(phrase.chords)}, then {named_notes(phrase.notes)}"
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask("Listen", "", ASK),
            unseen=Ask(about, "", ASK),
            kind=ModeAnswer(),
            accepts=(key.mode,),
            explain=lambda: _steps(key),
            confuse=lambda: wrong_rest(key),
            draw_answer=lambda: low_tonic(neck, key),
            heard=phrase,
        )


ASK = "Minor or major?"


def heard(key: Key) -> Heard:
    """A cadence of a key, and the notes of its pentatonic, which are those of its relative's as well."""
    minor = "m" if key.mode == "minor" else ""
    names = (key.notes[SUBDOMINANT].name + minor, key.notes[DOMINANT].name, key.tonic.name + minor)
    return Heard(tuple(map(parse_chord, names)), tuple(key.minor.notes[at] for at in FIVE_OF_SEVEN))


def _steps(key: Key) -> tuple[str, ...]:
    """Where the chords rest, and what lies a third above."""
    chords, notes = heard(key)
    third = key.notes[2]
    distance = "three" if key.mode == "minor" else "four"
    return (
        f"{_in_a_row(chords)} come to rest on {named_chord(chords[-1])}",
        f"so home is {named(key.tonic)}",
        f"five notes: {named_notes(notes)}",
        f"{named(third)}, {distance} frets above home, makes it {key.mode}",
    )


def _in_a_row(chords: tuple[Chord, ...]) -> str:
    """Chords one after the other, with marked notes."""
    return " ".join(map(named_chord, chords))
