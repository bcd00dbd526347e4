"""One line of `attempts.jsonl`: a drill or an attempt, whole and exact, so that a record can be made of it again.

The JSON Schema beside the log is made from these models, and `restore` checks every line against them.
"""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal

from pydantic import AliasChoices, BaseModel, ConfigDict, Field, StringConstraints, TypeAdapter

from drill.record import AttemptRow, DrillRow

_NO_CONTROL = r"^[^\x00-\x1f\x7f-\x9f]*$"
_Name = Annotated[str, StringConstraints(min_length=1, max_length=400, pattern=_NO_CONTROL)]
_Text = Annotated[str, StringConstraints(max_length=4000)]
"""May hold anything a learner typed, control characters too: whoever shows it escapes them."""
_DeckName = Annotated[str, StringConstraints(min_length=1, max_length=400)]
"""A deck of one's own is called after its file, and the name of a file may hold anything."""
_Moment = Annotated[int, Field(ge=-2_208_988_800_000, le=32_503_680_000_000)]  # the years 1900 to 3000
_Milliseconds = Annotated[int, Field(ge=0, le=2**53)]
_MOST_OFFSET = 2**31 // 60
_Offset = Annotated[int, Field(ge=-_MOST_OFFSET, le=_MOST_OFFSET)]
"""Time zone files count in 32 bits of seconds, and people make zones of their own that are days away from UTC:
https://www.rfc-editor.org/rfc/rfc8536#section-3.2"""
_Seed = Annotated[int, Field(ge=-(2**63), lt=2**63)]


class _Line(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class DrillLine(_Line):
    """One timed run."""

    type: Literal["drill"] = Field(description="Says that the line is a drill.")
    id: _Name = Field(description="The drill's name; no other drill has it, on any machine.")
    started_at: _Moment = Field(description="When it began, milliseconds since 1970-01-01 UTC.")
    ended_at: _Moment | None = Field(description="When it ended; null if it was cut short.")
    deck: _DeckName = Field(description="The deck's id.")
    minutes: int = Field(ge=0, le=10_000, description="How long it was meant to last, in minutes.")
    focus: _Text = Field(description="What of the deck was in focus, as JSON text.")
    tuning: _Text = Field(description="The tuning's id.")
    seed: _Seed | None = Field(description="A number that earlier releases kept with a drill; null since.")

    @property
    def row(self) -> DrillRow:
        """The drill as the record keeps it."""
        return DrillRow(**_without_type(self))


class AttemptLine(_Line):
    """One answer, or one card that was only shown."""

    type: Literal["attempt"] = Field(description="Says that the line is an attempt.")
    uid: _Name = Field(description="The attempt's name; no other attempt has it, on any machine.")
    drill: _Name = Field(description="The id of its drill.")
    card: _Name = Field(description="The card's id.")
    family: _Name = Field(description="The card's family.")
    deck: _DeckName = Field(description="The deck the card was asked from.")
    kind: Literal["asked", "shown"] = Field(description="Whether the card was asked, or its answer only shown.")
    asked_at: _Moment = Field(description="When the question was put, milliseconds since 1970-01-01 UTC.")
    answered_at: _Moment = Field(description="When it was answered, milliseconds since 1970-01-01 UTC.")
    utc_offset_min: _Offset = Field(description="Minutes by which the learner's clock was ahead of UTC.")
    given: _Text = Field(description="The answer given, in its canonical form; empty for none.")
    correct: bool | None = Field(
        validation_alias=AliasChoices("correct", "right"),  # its name in earlier releases, read for ever
        description="Whether it was right; null if the card was only shown.",
    )
    mixup: _Name | None = Field(description="What was confused, if that was recognised.")
    thinking_ms: _Milliseconds | None = Field(
        description="Milliseconds from the question to the first key, if measured."
    )
    target_ms: _Milliseconds = Field(description="Thinking time within which the card counts as fluent, milliseconds.")

    @property
    def row(self) -> AttemptRow:
        """The attempt as the record keeps it."""
        return AttemptRow(**_without_type(self))


Line = DrillLine | AttemptLine
LINES: TypeAdapter[Line] = TypeAdapter(Annotated[Line, Field(discriminator="type")])


def written(row: DrillRow | AttemptRow) -> str:
    """The row as a line of the log, in ASCII, without its end."""
    return json.dumps(as_line(row))


def as_line(row: DrillRow | AttemptRow) -> dict[str, Any]:
    """The row by the names that a line gives its values."""
    model, sort = (DrillLine, "drill") if isinstance(row, DrillRow) else (AttemptLine, "attempt")
    return {"type": sort} | {name: getattr(row, name) for name in model.model_fields if name != "type"}


def json_schema() -> dict[str, Any]:
    """The JSON Schema of one line: https://json-schema.org/draft/2020-12"""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A line of a log of fretboard drills",
        **LINES.json_schema(),
    }


def _without_type(line: _Line) -> dict[str, Any]:
    return {name: value for name, value in line if name != "type"}
