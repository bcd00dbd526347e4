"""The rows of the record, and the check number that tells whether a row is still what was written.

Times are whole milliseconds since the epoch, UTC; `utc_offset_min` says what the learner's own clock showed.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from typing import Any, Literal, NamedTuple

Kind = Literal["asked", "shown"]
Place = tuple[int, str]
"""Where an attempt stands in the order of the log: when it was asked, in ms since the epoch, then its uid."""
BEFORE_ALL: Place = (-(2**63), "")


class DrillRow(NamedTuple):
    """One timed run. `id` is its uid, `focus` JSON text, `ended_at` None while it runs and when it was cut short.

    `seed` is a number that earlier releases kept; new drills have none.
    """

    id: str
    started_at: int
    ended_at: int | None
    deck: str
    minutes: int
    focus: str
    tuning: str
    seed: int | None


class AttemptRow(NamedTuple):
    """One answer. `uid` is its identity everywhere; `id` is its place in this record (0 until it is appended).

    `kind` is "asked" for a question that was answered, "shown" for a card whose answer was only shown (`correct` and
    `thinking_ms` are None then). `mixup` names what was confused with what, None when nothing was recognised.
    """

    uid: str
    drill: str
    card: str
    family: str
    deck: str
    kind: Kind
    asked_at: int
    answered_at: int
    utc_offset_min: int
    given: str
    correct: bool | None
    mixup: str | None
    thinking_ms: int | None
    target_ms: int
    id: int = 0

    @property
    def place(self) -> Place:
        """Where it stands in the order of the log."""
        return self.asked_at, self.uid


DRILL_COLUMNS = ("id", "started_at", "ended_at", "deck", "minutes", "focus", "tuning", "seed")
ATTEMPT_COLUMNS = (
    "uid",
    "drill",
    "card",
    "family",
    "deck",
    "kind",
    "asked_at",
    "answered_at",
    "utc_offset_min",
    "given",
    "right",
    "mixup",
    "thinking_ms",
    "target_ms",
)
_CORRECT = ATTEMPT_COLUMNS.index("right")


def drill_values(drill: DrillRow) -> tuple[Any, ...]:
    """The drill as its columns hold it."""
    return tuple(drill)


def attempt_values(attempt: AttemptRow) -> tuple[Any, ...]:
    """The attempt as its columns hold it, its check number last."""
    correct = None if attempt.correct is None else int(attempt.correct)
    values = (
        attempt.uid,
        attempt.drill,
        attempt.card,
        attempt.family,
        attempt.deck,
        attempt.kind,
        attempt.asked_at,
        attempt.answered_at,
        attempt.utc_offset_min,
        storable(attempt.given),
        correct,
        attempt.mixup,
        attempt.thinking_ms,
        attempt.target_ms,
    )
    return (*values, check_number(values))


def attempt_from(values: tuple[Any, ...]) -> AttemptRow:
    """The attempt in a row of ATTEMPT_COLUMNS and then `id`; what its columns do not allow is left as it is."""
    row = list(values)
    if row[_CORRECT] in (0, 1):
        row[_CORRECT] = bool(row[_CORRECT])
    return AttemptRow(*row)


def check_number(values: tuple[Any, ...]) -> int:
    """CRC-32 (ISO 3309, as in zlib) of a row's values: a disk that flips a bit inside an answer is found out by it."""
    return zlib.crc32("\x1f".join(_written(values)).encode("utf-8", "surrogatepass"))


def storable(text: str) -> str:
    """The text without halves of characters, which no file can hold; a terminal can send them."""
    return text.encode("utf-8", "replace").decode("utf-8")


def _written(values: tuple[Any, ...]) -> Iterator[str]:
    return ("\x00" if value is None else str(value) for value in values)
