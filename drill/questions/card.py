"""A card: one question with its accepted answers, the reason, and the mix-ups behind likely wrong answers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal, NamedTuple

from drill.questions.answers import AnswerKind
from drill.questions.picture import Picture
from drill.theory.names import NoteLanguage

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
    """A wrong answer with the confusion that leads to it; `fact` is the fact it casts doubt on, if a single one."""

    name: MixupName
    answer: str
    sentence: str
    fact: str | None = None


class Card(NamedTuple):
    """One question. Sentences carry marked note names (see `wording`); answers are canonical (see `answers`)."""

    id: str
    family: str
    facets: Facets
    prompt: str
    kind: AnswerKind
    accepts: tuple[str, ...]
    because: tuple[str, ...]
    mixups: tuple[Mixup, ...]
    shown: Picture
    answer_picture: Picture

    def judge(self, text: str, language: NoteLanguage = "english") -> Judgement:
        """Read and judge one typed answer; raises `UnknownName` if it cannot be read."""
        given = self.kind.read(text, language)
        if given in self.accepts:
            return Judgement(given, True, None)
        return Judgement(given, False, next((mixup for mixup in self.mixups if mixup.answer == given), None))


class Judgement(NamedTuple):
    """What an answer turned out to be."""

    given: str
    right: bool
    mixup: Mixup | None


def likely(mixups: Iterable[Mixup], accepts: tuple[str, ...]) -> tuple[Mixup, ...]:
    """The mix-ups that lead to a wrong answer, one for each: of two explanations the first stands."""
    found: dict[str, Mixup] = {}
    for mixup in mixups:
        if mixup.answer not in accepts:
            found.setdefault(mixup.answer, mixup)
    return tuple(found.values())
