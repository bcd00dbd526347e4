"""The family about chord tones: which finger of a shape lands on a note of the chord that sounds."""

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from drill.questions.answers import FingerAnswer
from drill.questions.card import Ask, Card
from drill.questions.facts import Fact, chord_tone_fact
from drill.questions.families.numerals import asked_chords
from drill.questions.family import Family
from drill.questions.in_shapes import anchored, finger_of, placed
from drill.questions.mixups.mixup import Mixup
from drill.questions.mixups.shape_claims import NotInChord
from drill.questions.mixups.shapes import held, idle_fingers
from drill.questions.picture import Mark, marked_dot
from drill.questions.scope import Scope
from drill.questions.wording import (
    FINGERS,
    finger_label,
    named,
    named_chord,
    named_degree,
    named_key,
    named_notes,
    shape_label,
    string_label,
)
from drill.theory.chords import Chord
from drill.theory.harmony import numeral_of
from drill.theory.keys import Key
from drill.theory.landing import ChordTone, tones_among, tones_inside
from drill.theory.neck import Neck
from drill.theory.shapes import Dot, Shape, ShapeId


class ChordToneInShape(NamedTuple):
    """A string of a shape, and the chord that sounds."""

    key: Key
    shape: ShapeId
    chord: Chord
    string: int


class ChordToneFinger(Family[ChordToneInShape]):
    """Which of the two notes a shape has on a string belongs to a chord."""

    id = "chord-tone"
    title = "Chord tone on a string"
    idea = "Of the two notes a shape has on a string, land on the one that belongs to the sounding chord: a chord tone."
    facet_type = ChordToneInShape
    needs = ("degree-at", "chord-of-key")
    ungrouped = ("chord",)

    def spread(self, scope: Scope) -> Iterator[ChordToneInShape]:
        for key in scope.keys:
            for shape in anchored(key, scope):
                for asked in asked_chords(key):
                    on_string = Counter(tone.dot.spot.string for tone in tones_inside(shape, asked.chord))
                    for string in scope.strings:
                        if on_string[string] == 1:  # two chord tones would leave nothing to choose
                            yield ChordToneInShape(key, shape.id, asked.chord, string)

    def facts(self, facets: ChordToneInShape, neck: Neck) -> tuple[Fact, ...]:
        numeral = numeral_of(facets.chord, facets.key.minor)
        return (chord_tone_fact(neck, numeral, facets.shape, facets.string),)

    def card(self, facets: ChordToneInShape, neck: Neck) -> Card:
        key, chord, string = facets.key, facets.chord, facets.string
        shape = placed(key, facets.shape, neck)[0]
        dots = tuple(dot for dot in shape.dots if dot.spot.string == string)
        tones = tones_among(dots, chord)
        place = f"{named_key(key)}, {shape_label(shape, neck.tuning)}"
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(f"{named_chord(chord)} chord", place, "Chord-tone finger?"),
            kind=FingerAnswer(),
            accepts=tuple(str(tone.dot.finger) for tone in tones),
            explain=lambda: (
                f"chord tones of {named_chord(chord)}: {named_notes(chord.notes)}",
                "; ".join(f"{FINGERS[finger_of(dot)]} finger: {named(dot.note)}" for dot in dots),
                *(_landed(tone, chord) for tone in tones),
            ),
            confuse=lambda: _mixups(dots, chord, shape, neck),
            draw=lambda: tuple(Mark(dot.spot, "asked", finger=dot.finger) for dot in dots),
            draw_answer=lambda: tuple(marked_dot(tone.dot, key.mode) for tone in tones),
            unseen=Ask(
                f"{named_chord(chord)} chord", f"{place}, {string_label(neck.tuning, string)}", "Chord-tone finger?"
            ),
        )


def _landed(tone: ChordTone, chord: Chord) -> str:
    degree = f"the {named_degree(tone.degree)} of {named_chord(chord)}"
    return f"{named(tone.dot.note)} is {degree}: {finger_label(finger_of(tone.dot))}"


def _mixups(dots: tuple[Dot, ...], chord: Chord, shape: Shape, neck: Neck) -> Iterator[Mixup]:
    for dot in dots:
        claims = (held(dot, shape, neck), NotInChord(dot.note, chord))
        yield Mixup("not a chord tone", str(dot.finger), claims, "{0}; {1}.")
    yield from idle_fingers(shape, dots[0].spot.string, neck)
