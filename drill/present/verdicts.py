"""The verdict on an answer, in the sentences that line mode and the screens share.

Verdict          what came of an answer
verdict_lines    all there is to say of it
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from drill.present.figures import seconds
from drill.present.voice import Voice
from drill.questions.card import Card
from drill.questions.mixups.mixup import Mixup


class Verdict(NamedTuple):
    """What came of an answer. `given` is None if the learner passed; `thinking_s` None if it could not be measured."""

    card: Card
    fresh: bool
    right: bool
    given: str | None
    mixups: tuple[Mixup, ...]
    """What was confused, the likelier first."""
    thinking_s: float | None
    target_s: float
    comes_back: bool
    """Whether this drill will ask the card again."""
    strength_before: float

    @property
    def mixup(self) -> Mixup | None:
        """The likeliest of the mix-ups."""
        return self.mixups[0] if self.mixups else None


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
    for lead, mixup in zip(("Mixed up:", "Or:"), verdict.mixups, strict=False):
        yield Line(lead, f"{mixup.name}. {voice.say(mixup.sentence)}")
    yield Line("Why:", joint.join(map(voice.say, verdict.card.because)) + ".")


def _ruling(verdict: Verdict, voice: Voice) -> str:
    def display(answer: str) -> str:
        return verdict.card.kind.show(answer, voice.language)

    accepted = " or ".join(map(display, verdict.card.accepts))
    if verdict.given is None:
        return f"Not known. It is {accepted}."
    given = display(verdict.given)
    return f"Right: {given}." if verdict.right else f"Wrong: {given}. It is {accepted}."


def _time_and_target(verdict: Verdict) -> str:
    """The thinking time beside the target; a pass has no time, since nothing was thought out."""
    if verdict.thinking_s is None or verdict.given is None:
        return ""
    return f"{seconds(verdict.thinking_s)}, target {seconds(verdict.target_s)}."
