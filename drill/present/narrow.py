"""How a focus of few cards is told, and what it could be widened to."""

from __future__ import annotations

from collections.abc import Mapping

from drill.present.figures import how_many
from drill.questions.wording import named_key
from drill.theory.keys import Key

AS_ASKED = "Just what you asked for."
"""What a drill of the focus as it is brings."""


def narrow_sentence(cards: int) -> str:
    """What is wrong with a focus of so few cards.

    >>> narrow_sentence(3)
    'This focus has only 3 cards, so each comes up again and again.'
    """
    if not cards:
        return "The deck has no card for this focus."
    again = "it comes" if cards == 1 else "each comes"
    return f"This focus has only {how_many(cards, 'card')}, so {again} up again and again."


def other_name_sentence(names: Mapping[Key, Key]) -> str:
    """That keys are asked by their other names, notes marked; empty if none is."""
    pairs = [f"{named_key(key)} is asked as {named_key(other)}" for key, other in names.items()]
    return f"{', '.join(pairs)}: the same frets." if pairs else ""


def offer(words: str, cards: int) -> str:
    """A wider choice with its size: 'with string 6 (low E): 8 cards'."""
    return f"{words}: {how_many(cards, 'card')}"
