"""What is said while an answer is played: what was heard, and what to do next. Notes are marked as in `wording`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from drill.present.verdicts import heard_note
from drill.questions.wording import capital

UNCLEAR = "That was not heard for sure, and is not counted. Play it again."
NOTHING_YET = "Nothing has been heard for sure yet. Play it again, or type the answer."
NOBODY_PLAYS = "Nothing was heard for so long that the microphone was closed. Type the answers from here on."
TIMES_UNMEASURED = "The latency of your sound has not been measured in Set-up, so times may come out too long."
TOO_BUSY = "The machine was too busy to hear everything. Play it again, or type the answer."
TYPE_ON = "Type the answers from here on."
TYPED_AGAIN = "missed when it was played, so it is typed this time"
CANNOT_BE_HEARD = "a guitar cannot answer this, so it is typed"


def play_hint(names: Sequence[str]) -> str:
    """What to play: 'play the index note, then the lowest note under the same hand'."""
    return f"play {', then '.join(names)}"


def said_of(kind: Literal["half", "again", "order", "unclear"], midi: int, names: Sequence[str]) -> str:
    """What is said of a note that ends nothing yet; `names` are the notes that are wanted, in turn."""
    if kind == "unclear":
        return UNCLEAR
    heard = heard_note(midi)
    if kind == "half":
        return f"{heard}. Now {names[-1]}."
    if kind == "order":
        return f"{heard} comes second. {capital(play_hint(names))}."
    return f"Heard {heard}; play {'it' if len(names) == 1 else 'both'} again."


def what_is_heard(played: int, cards: int, *, hands_free: bool) -> str:
    """What becomes of the cards that a guitar cannot answer, where so many of all can be played."""
    if played == cards:
        return "Every card of this deck can be played."
    if hands_free:
        return f"{played} of {cards} cards can be played; the others are left out."
    return f"{played} of {cards} cards can be played; the others are typed, and each says so."
