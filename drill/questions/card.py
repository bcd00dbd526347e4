"""A card: one question with its accepted answers, the reason, and the mix-ups behind likely wrong answers."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Literal, NamedTuple

from drill.questions.answers import AnswerKind
from drill.questions.picture import Picture
from drill.theory.names import NoteLanguage
from drill.theory.neck import Neck

if TYPE_CHECKING:
    from drill.questions.family import Family

Facets = Mapping[str, str | int]
"""What a card is about, by facet name, in the family's order: {'key': 'F minor', 'string': 6}."""

MixupName = Literal[
    "chord of the other mode",
    "counted from the nut",
    "mode not changed",
    "next degree",
    "not a chord tone",
    "one fret off",
    "one letter off",
    "one sign off",
    "other shape",
    "other string",
    "other tonic",
    "parallel for relative",
    "right note, wrong octave",
    "right sound, wrong name",
    "sharp for flat",
    "wrong finger",
    "wrong quality",
    "wrong way",
]
"""Every confusion a wrong answer can be traced to. The record keeps these names: they never change meaning."""


class Mixup(NamedTuple):
    """A wrong answer with the confusion that leads to it.

    `fact` is the one among its card's facts that it casts doubt on, while the others held; None where no single one
    failed. (To give the other tonic of two relatives, for one, takes the bond between them.)
    """

    name: MixupName
    answer: str
    sentence: str
    fact: str | None = None


class Card(NamedTuple):
    """One question. Sentences carry marked note names (see `wording`); answers are canonical (see `answers`).

    Question and answers are there at once; what only a learner who sees or misses the card needs is derived when it is
    asked for, and anew each time.
    """

    source: Family
    facets: Facets
    neck: Neck
    prompt: str
    kind: AnswerKind
    accepts: tuple[str, ...]
    explain: Callable[[], tuple[str, ...]]
    confuse: Callable[[], Iterable[Mixup]]
    draw_answer: Callable[[], Picture]
    draw: Callable[[], Picture] = tuple

    @property
    def id(self) -> str:
        """The permanent name."""
        return self.source.card_id(self.facets, self.neck)

    @property
    def family(self) -> str:
        """The id of its family."""
        return self.source.id

    @property
    def because(self) -> tuple[str, ...]:
        """The reason, step by step, to an accepted answer."""
        return self.explain()

    @property
    def mixups(self) -> tuple[Mixup, ...]:
        """The mix-ups that lead to a wrong answer, one for each: of two explanations the first stands."""
        found: dict[str, Mixup] = {}
        for mixup in self.confuse():
            if mixup.answer not in self.accepts:
                found.setdefault(mixup.answer, mixup)
        return tuple(found.values())

    @property
    def shown(self) -> Picture:
        """What the question draws on the neck."""
        return self.draw()

    @property
    def answer_picture(self) -> Picture:
        """What the answer draws on the neck."""
        return self.draw_answer()

    def judge(self, text: str, language: NoteLanguage = "english") -> Judgement:
        """Read and judge one typed answer; raises `UnknownName` if it cannot be read."""
        given = self.kind.read(text, language)
        if given in self.accepts:
            return Judgement(given, True, None)
        return Judgement(given, False, next((mixup for mixup in self.mixups if mixup.answer == given), None))

    def __eq__(self, other: object) -> bool:
        """Whether both ask the same: all the rest of a card follows from its family, facets and neck."""
        return isinstance(other, Card) and self[:3] == other[:3]

    def __ne__(self, other: object) -> bool:
        return not self == other


class Judgement(NamedTuple):
    """What an answer turned out to be."""

    given: str
    right: bool
    mixup: Mixup | None
