"""The family about letters: a third up or down the alphabet of notes, the step from a key to its relative."""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from drill.questions.answers import LetterAnswer
from drill.questions.card import Ask, Card
from drill.questions.facts import Fact, letters_fact
from drill.questions.family import Family
from drill.questions.mixups.claims import LettersApart
from drill.questions.mixups.mixup import Mixup
from drill.questions.picture import low_notes
from drill.questions.scope import Scope
from drill.questions.wording import named, named_notes
from drill.theory.neck import Neck
from drill.theory.pitch import LETTERS, Note

Third = Literal["third down", "third up"]

_WAYS: dict[Third, int] = {"third down": -1, "third up": 1}
"""Downward first: from a major key to its relative minor."""


class LetterAndInterval(NamedTuple):
    """Where to start, and which way to go."""

    note: Note
    interval: Third


class LetterSkip(Family[LetterAndInterval]):
    """Which letter lies a third away."""

    id = "letter-skip"
    title = "Letter a third away"
    idea = (
        "A third skips one letter of the musical alphabet: "
        f"down from {named(Note.of('C'))}, past {named(Note.of('B'))}, it lands on {named(Note.of('A'))}."
    )
    facet_type = LetterAndInterval
    about_the_neck = False

    def spread(self, scope: Scope) -> Iterator[LetterAndInterval]:
        return (LetterAndInterval(Note.of(letter), interval) for interval in _WAYS for letter in LETTERS)

    def facts(self, facets: LetterAndInterval, neck: Neck) -> tuple[Fact, ...]:
        start, _, goal = _path(facets)
        low, high = (start, goal) if _way(facets) > 0 else (goal, start)
        return (letters_fact(low, high),)

    def card(self, facets: LetterAndInterval, neck: Neck) -> Card:
        start, between, goal = path = _path(facets)
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named(start), "", f"Letter a third {'above' if _way(facets) > 0 else 'below'}?"),
            kind=LetterAnswer(),
            accepts=(goal.name,),
            explain=lambda: (
                f"a third counts three letters: {named_notes(path)}",
                f"skip {named(between)}, land on {named(goal)}",
            ),
            confuse=lambda: _mixups(facets),
            draw=lambda: low_notes(neck, (start,)),
            draw_answer=lambda: low_notes(neck, (start, goal)),
        )


def _way(facets: LetterAndInterval) -> int:
    return _WAYS[facets.interval]


def _letter(facets: LetterAndInterval, steps: int) -> Note:
    """The letter so many steps the asked way."""
    start = LETTERS.index(facets.note.letter)
    return Note.of(LETTERS[(start + steps * _way(facets)) % len(LETTERS)])


def _path(facets: LetterAndInterval) -> tuple[Note, Note, Note]:
    return _letter(facets, 0), _letter(facets, 1), _letter(facets, 2)


def _mixups(facets: LetterAndInterval) -> Iterator[Mixup]:
    start, up = facets.note, _way(facets) > 0
    other, between, far, fifth = (_letter(facets, steps) for steps in (-2, 1, 3, 4))
    yield Mixup("wrong way", other.name, (LettersApart(other, start, 3, not up),), "{0}: the wrong way.")
    yield Mixup("one letter off", between.name, (LettersApart(between, start, 2, up),), "{0}; a third skips it.")
    yield Mixup("one letter off", far.name, (LettersApart(far, start, 4, up),), "{0}; a third stops before it.")
    yield Mixup("question given back", start.name, (LettersApart(start, start, 1, up),), "{0}.")
    yield Mixup("two thirds for one", fifth.name, (LettersApart(fifth, start, 5, up),), "{0}, two thirds away.")
