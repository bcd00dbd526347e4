"""A card: one question with its accepted answers, the reason, and the mix-ups behind likely wrong answers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from drill.questions.answers import AnswerKind
from drill.questions.facets import Facets
from drill.questions.ids import CardName
from drill.questions.mixups.mixup import Mixup, fitting
from drill.questions.picture import Picture
from drill.theory.names import NoteLanguage
from drill.theory.neck import Neck


@dataclass(frozen=True, slots=True)
class Card:
    """One question. Sentences carry marked note names (see `wording`); answers are canonical (see `answers`).

    Two cards are equal if they ask the same on the same neck. Prompt and answers are there at once; what is needed only
    after an answer is derived when it is asked for, and anew each time.
    """

    name: CardName
    neck: Neck
    prompt: str = field(compare=False)
    kind: AnswerKind = field(compare=False)
    accepts: tuple[str, ...] = field(compare=False)
    explain: Callable[[], tuple[str, ...]] = field(compare=False)
    confuse: Callable[[], Iterable[Mixup]] = field(compare=False)
    draw_answer: Callable[[], Picture] = field(compare=False)
    draw: Callable[[], Picture] = field(compare=False, default=tuple)

    @property
    def id(self) -> str:
        """The permanent name."""
        return self.name.id

    @property
    def family(self) -> str:
        """The id of its family."""
        return self.name.family

    @property
    def facets(self) -> Facets:
        """What it is about."""
        return self.name.facets

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
    def question_picture(self) -> Picture:
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
            return Judgement(given, True)
        return Judgement(given, False, self.mixups_behind(given))

    def mixups_behind(self, given: str) -> tuple[Mixup, ...]:
        """The mix-ups that lead to a wrong answer, the likelier first; at most two, none where no confusion does."""
        return fitting((mixup for mixup in self.confuse() if mixup.answer not in self.accepts), self.kind, given)


class Judgement(NamedTuple):
    """What an answer turned out to be, with the mix-ups behind a wrong one, the likelier first."""

    given: str
    right: bool
    mixups: tuple[Mixup, ...] = ()

    @property
    def mixup(self) -> Mixup | None:
        """The likeliest of the mix-ups."""
        return self.mixups[0] if self.mixups else None
