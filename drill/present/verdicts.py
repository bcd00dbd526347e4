"""The verdict on an answer, in the sentences that line mode and the screens share.

Verdict          what came of an answer
verdict_lines    all there is to say of it
solved_lines     a card shown with its answer, before any of its kind is asked
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from drill.present.figures import seconds
from drill.present.voice import Voice
from drill.questions.card import Card, Mixup


class Verdict(NamedTuple):
    """What came of an answer. `given` is None if the learner passed; `thinking_s` None if it could not be measured."""

    card: Card
    fresh: bool
    right: bool
    given: str | None
    mixup: Mixup | None
    thinking_s: float | None
    target_s: float
    comes_back: bool
    """Whether this drill will ask the card again."""
    strength_before: float


class Line(NamedTuple):
    """One line of text; a screen may show its lead in bold."""

    lead: str
    rest: str

    def __str__(self) -> str:
        return f"{self.lead} {self.rest}".rstrip()


def verdict_lines(verdict: Verdict, voice: Voice, joint: str = "; ") -> Iterator[Line]:
    """The ruling with the time, the mix-up, and the reason, whose steps are joined by `joint`."""
    again = "It comes back." if verdict.comes_back else ""
    yield Line(_ruling(verdict, voice), f"{_time_and_target(verdict)} {again}".strip())
    if verdict.mixup:
        yield Line("Mixed up:", f"{verdict.mixup.name}. {voice.say(verdict.mixup.sentence)}")
    yield _why(verdict.card, voice, joint)


def solved_lines(card: Card, voice: Voice, joint: str = "; ") -> Iterator[Line]:
    """What is said of a card that is shown solved: its answer and the reason."""
    yield Line(f"Answer: {_accepted(card, voice)}.", "")
    yield _why(card, voice, joint)


def _why(card: Card, voice: Voice, joint: str) -> Line:
    return Line("Why:", joint.join(map(voice.say, card.because)) + ".")


def _accepted(card: Card, voice: Voice) -> str:
    return " or ".join(card.kind.show(answer, voice.language) for answer in card.accepts)


def _ruling(verdict: Verdict, voice: Voice) -> str:
    accepted = _accepted(verdict.card, voice)
    if verdict.given is None:
        return f"Not known. It is {accepted}."
    given = verdict.card.kind.show(verdict.given, voice.language)
    return f"Right: {given}." if verdict.right else f"Wrong: {given}. It is {accepted}."


def _time_and_target(verdict: Verdict) -> str:
    """The thinking time beside the target; a pass has no time, since nothing was thought out."""
    if verdict.thinking_s is None or verdict.given is None:
        return ""
    return f"{seconds(verdict.thinking_s)}, target {seconds(verdict.target_s)}."
