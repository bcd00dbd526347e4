"""A card: one question with its accepted answers, the reason, and the mix-ups behind likely wrong answers."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import NamedTuple

from drill.questions.answers import AnswerKind
from drill.questions.facets import Facets
from drill.questions.hints import beside
from drill.questions.ids import CardName
from drill.questions.mixups.mixup import Mixup, fitting
from drill.questions.picture import Picture
from drill.theory.chords import Chord
from drill.theory.neck import Neck
from drill.theory.pitch import Note


class Ask(NamedTuple):
    """A question in three parts, each to be found at a glance; notes are marked (see `wording`).

    `subject` changes from question to question: 'F minor', 'Fret 3', 'Gm'. Its small letters are part of it.
    `place` is where on the instrument: 'A-string shape', 'string 6 (low E)'; it may be empty.
    `ask` is what to answer, in at most six words: 'Index fret?'
    """

    subject: str
    place: str
    ask: str

    @property
    def line(self) -> str:
        """The whole question in one line: 'F minor, A-string shape: index fret?'"""
        about = f"{self.subject}, {self.place}" if self.place else self.subject
        return f"{about}: {self.ask[0].lower()}{self.ask[1:]}"


class Heard(NamedTuple):
    """What is played before a question is answered: the chords, and then the notes of a phrase."""

    chords: tuple[Chord, ...]
    notes: tuple[Note, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """One question. Sentences carry marked note names (see `wording`); answers are canonical (see `answers`).

    Two cards are equal if they ask the same on the same neck. Question and answers are there at once; what is needed
    only after an answer is derived when it is asked for, and anew each time.
    """

    name: CardName
    neck: Neck
    ask: Ask = field(compare=False)
    kind: AnswerKind = field(compare=False)
    accepts: tuple[str, ...] = field(compare=False)
    explain: Callable[[], tuple[str, ...]] = field(compare=False)
    confuse: Callable[[], Iterable[Mixup]] = field(compare=False)
    draw_answer: Callable[[], Picture] = field(compare=False)
    draw: Callable[[], Picture] = field(compare=False, default=tuple)
    draw_steps: Callable[[], Picture] = field(compare=False, default=tuple)
    unseen: Ask | None = field(compare=False, default=None)
    """The question for those who do not see the picture, where that tells a part of it."""
    heard: Heard | None = field(compare=False, default=None)
    """What is to be heard before the card is answered; None for a card that is read."""

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
    def prompt(self) -> str:
        """The whole question in one line, to be answered without a picture."""
        return (self.unseen or self.ask).line

    @property
    def hint(self) -> str:
        """What to type, in a few words that do not give the answer away."""
        return beside(self.kind.hint, self.accepts)

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

    @property
    def steps_picture(self) -> Picture:
        """Where on the neck the steps of the reason lie, besides the answer."""
        return self.draw_steps()

    def judge_answer(self, given: str) -> "Judgement":
        """Judge a canonical answer, as its kind reads it: not every one reads as itself ('viio' in minor)."""
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
