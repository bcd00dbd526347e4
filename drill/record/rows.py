"""The rows of the log, and the check number that tells whether a row is still what was written.

`LearnerRow`, `DrillRow`, `AttemptRow` and `LandingRow` are the one list of the log's columns. Each field names its
Python type, the sort of value it holds and its meaning; the SQL, the exported lines and the exported tables are made
from these. Times are whole milliseconds since the epoch, UTC; `utc_offset_min` says what the learner's own clock
showed.
"""

import zlib
from collections.abc import Sequence
from typing import Annotated, Any, Literal, NamedTuple

Kind = Literal["asked", "shown"]
How = Literal["typed", "played", "self-checked"]
HowLanded = Literal["heard", "self-checked"]
Place = tuple[int, str]
"""Where an attempt stands in the order of the log: when it was asked, in ms since the epoch, then its uid."""
BEFORE_ALL: Place = (-(2**63), "")
EARLIEST_MS, LATEST_MS = -30_610_224_000_000, 221_845_392_000_000
"""The years 1000 and 9000: no clock shows more, and a calendar with an offset still holds it."""
LARGEST_OFFSET_MIN = 2**31 // 60
"""Time zone files count in 32 bits of seconds, and people make zones of their own that are days away from UTC:
https://www.rfc-editor.org/rfc/rfc8536#section-3.2"""

ON_THE_LINE_MS = 50
"""By so much a pluck may be misplaced where it is heard; so little after the bar line it is still in time."""
UNMEASURED_MS = 250
"""The same while nobody has measured the way of a click out and back in, which makes every note seem late."""


class LearnerRow(NamedTuple):
    """The learner whose record it is."""

    id: Annotated[str, "name", "The learner's identity; no other learner has it, on any machine."]
    name: Annotated[str | None, "text", "The learner's name; empty if they left it out, null if never asked."] = None


class DrillRow(NamedTuple):
    """One timed run."""

    id: Annotated[str, "name", "The drill's name; no other drill has it, on any machine."]
    started_at: Annotated[int, "moment", "When it began, milliseconds since 1970-01-01 UTC."]
    ended_at: Annotated[int | None, "moment", "When it ended; null if it was cut short."]
    deck: Annotated[str, "deck", "The deck's id."]
    minutes: Annotated[int, "minutes", "How long it was meant to last, in minutes."]
    focus: Annotated[str, "text", "What of the deck was in focus, as JSON text."]
    tuning: Annotated[str, "text", "The tuning's id."]
    seed: Annotated[int | None, "integer", "A number that earlier releases kept with a drill; null since."]


class AttemptRow(NamedTuple):
    """One answer, or one card that was only shown. `id` is its place in this record, 0 until it is appended."""

    uid: Annotated[str, "name", "The attempt's name; no other attempt has it, on any machine."]
    drill: Annotated[str, "name", "The id of its drill."]
    card: Annotated[str, "name", "The card's id."]
    family: Annotated[str, "name", "The card's family."]
    deck: Annotated[str, "deck", "The deck the card was asked from."]
    kind: Annotated[Kind, "choice", "Whether the card was asked, or its answer only shown."]
    asked_at: Annotated[int, "moment", "When the question was put, milliseconds since 1970-01-01 UTC."]
    answered_at: Annotated[int, "moment", "When it was answered, milliseconds since 1970-01-01 UTC."]
    utc_offset_min: Annotated[int, "offset", "Minutes by which the learner's clock was ahead of UTC."]
    given: Annotated[str, "text", "The answer given, in its canonical form; empty for none."]
    correct: Annotated[bool | None, "yes or no", "Whether it was right; null if the card was only shown."]
    mixup: Annotated[str | None, "name", "What was confused, if that was recognised."]
    thinking_ms: Annotated[int | None, "duration", "Milliseconds from question to first key or pluck, if measured."]
    target_ms: Annotated[int, "duration", "Thinking time within which the card counts as fluent, milliseconds."]
    how: Annotated[How, "choice", "Whether it was typed, played on the guitar, or checked by oneself."] = "typed"
    learner: Annotated[str | None, "name", "The identity of who answered; null if it is not known."] = None
    id: int = 0

    @property
    def place(self) -> Place:
        """Where it stands in the order of the log."""
        return self.asked_at, self.uid


class LandingRow(NamedTuple):
    """One key of a round: whether the guitarist landed on its tonic in time. Self-checked, it has no measurements."""

    uid: Annotated[str, "name", "The landing's name; no other landing has it, on any machine."]
    drill: Annotated[str, "name", "The id of its drill."]
    key: Annotated[str, "name", "The key whose tonic was asked for."]
    asked_at: Annotated[int, "moment", "When the key was shown, milliseconds since 1970-01-01 UTC."]
    how: Annotated[HowLanded, "choice", "Whether the note was heard, or checked by oneself."]
    landed: Annotated[bool | None, "yes or no", "Whether it was the tonic; null if no note was heard for sure."]
    late_ms: Annotated[
        int | None,
        "lateness",
        "Milliseconds from the bar line after the call to the note, path taken off; negative if before.",
    ]
    heard: Annotated[str | None, "name", "The note that was heard, if one was."]
    path_ms: Annotated[int | None, "duration", "Milliseconds from a click sent out to its being heard, if measured."]
    learner: Annotated[str | None, "name", "The identity of who played; null if it is not known."] = None

    @property
    def in_time(self) -> bool:
        """Whether it was the tonic, before the bar was over. What was checked by oneself counts as it was said."""
        return bool(self.landed) and in_time(self.late_ms or 0, self.path_ms)


def in_time(late_ms: int, path_ms: int | None) -> bool:
    """Whether a note so many milliseconds after the bar line may have come before it, for all that was measured."""
    return late_ms <= (UNMEASURED_MS if path_ms is None else ON_THE_LINE_MS)


LEARNER_COLUMNS = LearnerRow._fields
DRILL_COLUMNS = DrillRow._fields
ATTEMPT_COLUMNS = AttemptRow._fields[:-1]
LANDING_COLUMNS = LandingRow._fields
_ASKED_AT, _ANSWERED_AT, _OFFSET, _CORRECT = map(
    ATTEMPT_COLUMNS.index, ("asked_at", "answered_at", "utc_offset_min", "correct")
)
_VERDICTS = {None: None, 0: False, 1: True}
"""What a column may hold for a verdict, and what it means."""
_AS_BEFORE = ("typed", None)
"""How the answers of earlier releases were given, and by whom. The check number of such an answer leaves both out, so
that the one it was written with still holds."""


def values_of(answer: AttemptRow | LandingRow) -> tuple[Any, ...]:
    """The attempt or the landing as its columns hold it, its check number last."""
    if isinstance(answer, LandingRow):
        return (*answer, check_number(answer))
    values = answer._replace(given=_storable(answer.given))[:-1]
    return (*values, attempt_check_number(values))


def attempt_from(values: tuple[Any, ...]) -> AttemptRow:
    """The attempt in a row of ATTEMPT_COLUMNS and then `id`. Raises ValueError for what no program of ours writes."""
    row = list(values)
    try:
        row[_CORRECT] = _VERDICTS[row[_CORRECT]]
        fits = (
            EARLIEST_MS <= row[_ASKED_AT] <= LATEST_MS
            and EARLIEST_MS <= row[_ANSWERED_AT] <= LATEST_MS
            and -LARGEST_OFFSET_MIN <= row[_OFFSET] <= LARGEST_OFFSET_MIN
        )
    except (KeyError, TypeError):
        fits = False
    if not fits:
        raise ValueError(f"the answer {row[0]} holds a time or a verdict that is impossible")
    return AttemptRow(*row)


def landing_from(values: tuple[Any, ...]) -> LandingRow:
    """The landing in a row of LANDING_COLUMNS. Raises ValueError for what no program of ours writes."""
    landing = LandingRow(*values)
    try:
        fits = EARLIEST_MS <= landing.asked_at <= LATEST_MS
        landing = landing._replace(landed=_VERDICTS[landing.landed])
    except (KeyError, TypeError):
        fits = False
    if not fits:
        raise ValueError(f"the landing {landing.uid} holds a time or a verdict that is impossible")
    return landing


def attempt_check_number(values: tuple[Any, ...]) -> int:
    """The check number of an attempt, from the values of ATTEMPT_COLUMNS."""
    return check_number(values[:-2] if values[-2:] == _AS_BEFORE else values)


def check_number(values: Sequence[Any]) -> int:
    """CRC-32 (ISO 3309, as in zlib) of a row's values: it reveals a bit that the disk has flipped inside an answer."""
    return zlib.crc32("\x1f".join(map(_written, values)).encode("utf-8", "surrogatepass"))


def _storable(text: str) -> str:
    """The text without halves of characters, which no file can hold; a terminal can send them."""
    return text.encode("utf-8", "replace").decode("utf-8")


def _written(value: Any) -> str:
    """The value as its check number reads it: a truth as its column holds it."""
    return "\x00" if value is None else str(int(value)) if isinstance(value, bool) else str(value)
