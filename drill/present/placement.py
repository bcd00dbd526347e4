"""At most three plain questions at the first start choose where a learner begins."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drill.memory import Start

QUESTIONS = (
    "Do you know the notes on the low strings?",
    "Do you know the shape with its two tonics?",
    "Do you only want to become faster?",
)
"""Each is answered by yes or no; the first no to what one has to know decides."""
BEGINS: dict[Start, str] = {
    "notes": "You begin with notes in easy keys.",
    "shapes": "You begin with the shape, key by key.",
    "speed": "You begin with every key.",
}
"""What a place means, in a sentence."""
UNDECIDED = "Your first answers decide where you begin."
READY = "No guitar yet: answers are typed."
READY_TO_PLAY = "Take your guitar: what it can answer may be played, the rest is typed."
"""What is said before the first drill starts, where it is typed and where it is heard."""


def place_of(answers: Sequence[bool]) -> Start | None:
    """Where somebody begins who answered the first questions so; None while another question is left.

    >>> place_of([False]), place_of([True]), place_of([True, False]), place_of([True, True, True])
    ('notes', None, 'shapes', 'speed')
    """
    places: tuple[Start, ...] = ("notes", "shapes", "shapes")
    for yes, place in zip(answers, places, strict=False):
        if not yes:
            return place
    return "speed" if len(answers) >= len(QUESTIONS) else None
