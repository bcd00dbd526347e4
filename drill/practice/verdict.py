"""What passes between a drill and whoever shows it: a question, and the verdict on its answer."""

from __future__ import annotations

from typing import NamedTuple

from drill.memory import Reason
from drill.questions.card import Card, Mixup


class Question(NamedTuple):
    """One question that waits for its answer: why it was chosen, and the seconds within which an answer is fluent."""

    card: Card
    number: int
    reason: Reason
    target_s: float


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
    strength_before: float
    strength_after: float
