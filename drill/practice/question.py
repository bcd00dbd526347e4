"""A question as a drill puts it."""

from __future__ import annotations

from typing import NamedTuple

from drill.memory import Reason
from drill.questions.card import Card


class Question(NamedTuple):
    """One question that waits for its answer: why it was chosen, and the seconds within which an answer is fluent."""

    card: Card
    number: int
    reason: Reason
    target_s: float
