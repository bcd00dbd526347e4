"""The family about loops: which key a chord loop is in."""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from drill.questions.answers import AnyKeyAnswer
from drill.questions.card import Ask, Card
from drill.questions.facets import Group
from drill.questions.facts import Fact, loop_fact
from drill.questions.families.relatives import tonic_pair
from drill.questions.family import Family, key_groups
from drill.questions.loop_sentences import evidence_clauses
from drill.questions.mixups.keys import near_homes, wrong_homes
from drill.questions.mixups.mixup import Mixup
from drill.questions.mixups.shape_claims import InLoop
from drill.questions.picture import Picture, low_tonic
from drill.questions.scope import Scope
from drill.questions.wording import named_chord, named_key, named_numeral
from drill.theory.chords import parse_chords
from drill.theory.loops import LoopReading, analyse_loop
from drill.theory.names import joined
from drill.theory.neck import Neck


@cache
def read_loop(text: str) -> LoopReading:
    """The keys that a loop may be in."""
    return analyse_loop(parse_chords(text))


class OneLoop(NamedTuple):
    """The chords of a loop, as on a lead sheet."""

    loop: str


class LoopTonic(Family[OneLoop]):
    """Which key a loop is in; where the chords leave it open, both relatives are right."""

    id = "loop-tonic"
    title = "Key of a loop"
    idea = "Chords that go round in a loop share a key; its tonic, the home note, is where the loop comes to rest."
    facet_type = OneLoop
    needs = ("numeral-of-chord",)
    wants = 'List chord loops: loops = ["Am F C G"]'
    about_the_neck = False

    def spread(self, scope: Scope) -> Iterator[OneLoop]:
        return (OneLoop(" ".join(chord.name for chord in read_loop(loop).chords)) for loop in scope.loops)

    def facts(self, facets: OneLoop, neck: Neck) -> tuple[Fact, ...]:
        return (loop_fact(facets.loop),)

    def groups(self, facets: OneLoop, neck: Neck) -> frozenset[Group]:
        """Every key that is a right answer."""
        return key_groups(fit.key for fit in read_loop(facets.loop).accepted)

    def card(self, facets: OneLoop, neck: Neck) -> Card:
        reading = read_loop(facets.loop)
        chords = " ".join(map(named_chord, reading.chords))
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(chords, "", "Key of this loop?"),
            kind=AnyKeyAnswer(),
            accepts=tuple(fit.key.name for fit in reading.accepted),
            explain=lambda: tuple(_reasons(reading)),
            confuse=lambda: _mixups(reading, facets.loop),
            draw_answer=lambda: _tonics(reading, neck),
        )


def _reasons(reading: LoopReading) -> Iterator[str]:
    """What each key makes of the loop, and what follows."""
    if reading.is_blues:
        yield "every chord a dominant seventh: a blues"
    for fit in reading.accepted:
        yield f"in {named_key(fit.key)}: {' '.join(map(named_numeral, fit.numerals))}"
        yield from evidence_clauses(fit)
    names = [named_key(fit.key) for fit in reading.accepted]
    if len(names) == 1:
        yield f"so the key is {names[0]}"
        return
    yield "the chords leave it open"
    yield f"where you rest decides: {joined(names, 'or')}"
    yield f"{named_key(reading.keys[0])} is the likelier"


def _tonics(reading: LoopReading, neck: Neck) -> Picture:
    """The tonic of every accepted key; of a pair of relatives, under their two fingers."""
    if reading.is_open_between_relatives:
        return tonic_pair(reading.accepted[0].key, neck)
    marks = (mark for fit in reading.accepted for mark in low_tonic(neck, fit.key))
    return tuple({mark.spot: mark for mark in marks}.values())


def _mixups(reading: LoopReading, loop: str) -> Iterator[Mixup]:
    yield from wrong_homes(tuple(fit.key for fit in reading.accepted))
    for chord in reading.chords:
        for mode in ("minor", "major") if chord.third == "b3" else ("major", "minor"):
            answer = f"{chord.root.name} {mode}"
            yield Mixup("other tonic", answer, (InLoop(chord, loop),), "{0}, but it is not where this loop comes home.")
    yield from near_homes(reading.keys)
