"""One line of `attempts.jsonl`, whole and exact, so that a record can be made of all: learner, drill, attempt, landing.

The JSON Schema beside the log is made from these models, and `restore` checks every line against them. Their fields are
the columns of the record's rows; this module adds what a line may hold in each.
"""

from __future__ import annotations

import json
from typing import Annotated, Any, Literal, Union, get_args, get_type_hints

from pydantic import AliasChoices, BaseModel, ConfigDict, Field, TypeAdapter, create_model

from drill.record import AttemptRow, DrillRow, LandingRow, LearnerRow
from drill.record.rows import ATTEMPT_COLUMNS, DRILL_COLUMNS, LANDING_COLUMNS, LARGEST_OFFSET_MIN, LEARNER_COLUMNS

Row = LearnerRow | DrillRow | AttemptRow | LandingRow
_LIMITS: dict[str, dict[str, Any]] = {
    "name": {"min_length": 1, "max_length": 400, "pattern": r"^[^\x00-\x1f\x7f-\x9f]*$"},
    "deck": {"min_length": 1, "max_length": 400},
    "text": {"max_length": 4000},
    "moment": {"ge": -2_208_988_800_000, "le": 32_503_680_000_000},  # the years 1900 to 3000
    "duration": {"ge": 0, "le": 2**53},
    "lateness": {"ge": -(2**53), "le": 2**53},
    "minutes": {"ge": 0, "le": 10_000},
    "offset": {"ge": -LARGEST_OFFSET_MIN, "le": LARGEST_OFFSET_MIN},
    "integer": {"ge": -(2**63), "lt": 2**63},
}
"""What a line may hold, by the sort of its column; `record.rows` says what the sorts are."""
_EARLIER_NAMES = {"correct": "right"}
"""Names of columns in logs of earlier releases, which are read for ever and never written."""


class _Line(BaseModel):
    model_config = ConfigDict(
        extra="forbid", strict=True, frozen=True, json_schema_serialization_defaults_required=True
    )


def _line(kind: str, row: type[Row], columns: tuple[str, ...]) -> type[_Line]:
    """The model of a kind of line, its fields the columns of a row."""
    hints = get_type_hints(row, include_extras=True)
    fields: dict[str, Any] = {name: _field(name, hints[name], row) for name in columns}
    this_kind: Any = Literal[kind]
    fields = {"type": (this_kind, Field(description="Says what the line holds."))} | fields
    return create_model(f"{kind.title()}Line", __base__=_Line, __doc__=row.__doc__, **fields)


def _field(name: str, hint: Any, row: type[Row]) -> tuple[Any, Any]:
    """A column as pydantic takes it: its type, and what else is known of it."""
    kind, sort, meaning = get_args(hint)
    more: dict[str, Any] = {}
    if name in row._field_defaults:
        more["default"] = row._field_defaults[name]
    if name in _EARLIER_NAMES:
        more["validation_alias"] = AliasChoices(name, _EARLIER_NAMES[name])
    return kind, Field(description=meaning, **_LIMITS.get(sort, {}), **more)


_KINDS: dict[str, tuple[type[Row], tuple[str, ...]]] = {
    "learner": (LearnerRow, LEARNER_COLUMNS),
    "drill": (DrillRow, DRILL_COLUMNS),
    "attempt": (AttemptRow, ATTEMPT_COLUMNS),
    "landing": (LandingRow, LANDING_COLUMNS),
}
KINDS = tuple(_KINDS)
"""The kinds of line a log has."""
_NAMES = {row: kind for kind, (row, _) in _KINDS.items()}
_ANY_LINE: Any = Union[tuple(_line(kind, row, columns) for kind, (row, columns) in _KINDS.items())]  # noqa: UP007
_LINES: TypeAdapter[Any] = TypeAdapter(Annotated[_ANY_LINE, Field(discriminator="type")])


def read(raw: bytes | str) -> Row:
    """The row in a line of the log. Raises pydantic's ValidationError."""
    return _row(_LINES.validate_json(raw))


def checked(row: Row) -> Row:
    """The row itself, once it is known to fit into a line of the log. Raises pydantic's ValidationError."""
    return _row(_LINES.validate_python(as_line(row)))


def written(row: Row) -> str:
    """The row as a line of the log, in ASCII, without its end."""
    return json.dumps(as_line(row))


def as_line(row: Row) -> dict[str, Any]:
    """The row by the names that a line gives its values."""
    kind = _NAMES[type(row)]
    return {"type": kind} | dict(zip(_KINDS[kind][1], row, strict=False))


def json_schema() -> dict[str, Any]:
    """The JSON Schema of one line as it is written: https://json-schema.org/draft/2020-12"""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "A line of a log of fretboard drills",
        **_LINES.json_schema(mode="serialization"),
    }


def _row(line: _Line) -> Row:
    values = dict(line)
    row, _ = _KINDS[values.pop("type")]
    return row(**values)
