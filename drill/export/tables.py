"""The CSV files of the package, made of the same columns as the JSON of progress.

One declaration gives a file and its Table Schema: https://datapackage.org/standard/table-schema/
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Iterator
from types import NoneType
from typing import Any, NamedTuple, TextIO, get_args, get_type_hints

from drill.decks import entry_of
from drill.errors import FretsureError
from drill.memory import Settled
from drill.present.tables import EXACT, Column, Columns, Kind, Writers, inside, pick
from drill.progress import CardStatus, Progress
from drill.progress.columns import CARD, NEEDED, PERIOD, READINESS
from drill.questions.facets import as_plain
from drill.record import AttemptRow, LandingRow
from drill.record.rows import ATTEMPT_COLUMNS, LANDING_COLUMNS

Value = str | int | float | bool | None
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""A spreadsheet may run a cell that begins so: https://owasp.org/www-community/attacks/CSV_Injection"""
_SCHEMA_TYPES = {
    Kind.INTEGER: "integer",
    Kind.MILLISECONDS: "integer",
    Kind.SHARE: "number",
    Kind.SECONDS: "number",
    Kind.YES_NO: "boolean",
    Kind.DAY: "date",
    Kind.MOMENT: "datetime",
}
"""Kinds that are no text to Table Schema: https://datapackage.org/standard/table-schema/#field-types"""


class Table(NamedTuple):
    """One CSV file; `key` names the column that tells its rows apart."""

    name: str
    title: str
    key: str
    columns: Columns

    @property
    def file(self) -> str:
        return f"{self.name}.csv"

    def writer(self, file: TextIO, writers: Writers = EXACT) -> Callable[[Any], None]:
        """Write the headings; returns the function that writes a row. RFC 4180: commas, CRLF."""
        rows = csv.writer(file)
        rows.writerow([column.key for column in self.columns])
        parts = [(column.get, writers.get(column.kind)) for column in self.columns]

        def write(row: Any) -> None:
            values = ((get(row), exact) for get, exact in parts)
            rows.writerow([cell(exact(value) if exact and value is not None else value) for value, exact in values])

        return write

    def write(self, file: TextIO, rows: Iterable[Any], writers: Writers = EXACT) -> None:
        """Write headings and rows."""
        write = self.writer(file, writers)
        for row in rows:
            write(row)

    def resource(self) -> dict[str, Any]:
        """The file as Data Package describes it, size and hash aside."""
        return {
            "name": self.name,
            "path": self.file,
            "title": self.title,
            "profile": "tabular-data-resource",
            "format": "csv",
            "mediatype": "text/csv",
            "encoding": "utf-8",
            "schema": {"fields": [_schema_field(column) for column in self.columns], "primaryKey": self.key},
        }

    def referring(self, field: str, table: Table) -> dict[str, Any]:
        """The file so described, with a field that holds keys of another table: a foreign key of Table Schema."""
        described = self.resource()
        reference = {"resource": table.name, "fields": [table.key]}
        described["schema"]["foreignKeys"] = [{"fields": [field], "reference": reference}]
        return described


def _schema_field(column: Column) -> dict[str, Any]:
    """The column as Table Schema describes it."""
    constraints: dict[str, Any] = {} if column.nullable else {"required": True}
    if column.choices:
        constraints["enum"] = list(map(str, column.choices))
    type = _SCHEMA_TYPES.get(column.kind, "string")
    described = {"name": column.key, "type": type, "description": column.sentence}
    return described | ({"constraints": constraints} if constraints else {})


def cell(value: Value) -> str:
    """A value as a CSV cell; text that a spreadsheet might run gets an apostrophe before it."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"'{value}" if value.startswith(FORMULA_STARTS) else value
    return repr(value)


# -- the log: answers, landings ----------------------------------------------------------------------------------------


_KINDS = {
    "moment": Kind.MOMENT,
    "yes or no": Kind.YES_NO,
    "duration": Kind.MILLISECONDS,
    "lateness": Kind.MILLISECONDS,
    "offset": Kind.INTEGER,
}
"""Sorts of values of the log that are no text."""


def _logged(name: str, hint: Any) -> Column:
    """A column of the log as a spreadsheet reads it: a moment as a date."""
    kind, sort, meaning = get_args(hint)
    nullable = sort == "text" or NoneType in get_args(kind)
    if sort == "moment":
        meaning = meaning.replace("milliseconds since 1970-01-01 UTC", "UTC")
        return Column(name, meaning, Kind.MOMENT, lambda row: getattr(row, name) / 1000, nullable=nullable)
    choices = get_args(kind) if sort == "choice" else ()
    return Column(name, meaning, _KINDS.get(sort, Kind.PLAIN), nullable=nullable, choices=choices)


def _columns(row: type[AttemptRow | LandingRow], names: Iterable[str]) -> Columns:
    hints = get_type_hints(row, include_extras=True)
    return tuple(_logged(name, hints[name]) for name in names)


ATTEMPTS = Table(
    "attempts",
    "Every answer, in the order in which it was asked",
    "uid",
    _columns(AttemptRow, ATTEMPT_COLUMNS),
)
LANDINGS = Table(
    "landings",
    "Every landing of a round of keys, in the order in which the keys were called; they move no strength",
    "uid",
    _columns(LandingRow, LANDING_COLUMNS),
)

# -- cards, keys, days -------------------------------------------------------------------------------------------------


class CardRow(NamedTuple):
    """A card, and whether the deck of the export asks it."""

    status: CardStatus
    in_deck: bool


def card_rows(progress: Progress) -> Iterator[CardRow]:
    """Every card of the deck in teaching order, then every other card that was ever asked, by id.

    All are told as the faces tell them, so that what is said of a card does not hang on the deck of the export.
    """
    for status in progress.statuses:
        yield CardRow(status, True)
    shown = Settled(progress.learner, progress.sitting)
    for card in sorted(progress.learner.cards.keys() - progress.deck.entries.keys()):
        try:
            entry = entry_of(card, progress.bar_s)[0]
        except FretsureError:  # a card no family knows any more
            continue
        yield CardRow(CardStatus.of(entry, shown.of(entry.item), progress.now_s), False)


def _facet(name: str, kind: Kind = Kind.PLAIN) -> Column:
    def value(row: CardRow) -> str | int | None:
        return as_plain(row.status.entry.facets).get(name)

    return Column(name, f"the {name} it is about, if it is about one", kind, value, nullable=True)


_CARD = inside("status", CARD)

CARDS = Table(
    "cards",
    "Every card of the deck, and every other card seen, with its status",
    "card",
    (
        *_CARD[:3],
        _facet("string", Kind.INTEGER),
        _facet("fret", Kind.INTEGER),
        _facet("key"),
        _facet("shape"),
        Column("in_deck", "whether the deck of this export asks it", Kind.YES_NO),
        *_CARD[3:],
    ),
)
KEYS = Table(
    "keys",
    "Readiness of the everyday keys",
    "key",
    (
        *pick(READINESS, "key", "readiness", "seen", "heard_calls", "heard_in_time"),
        Column("needed", "how many cards it takes", Kind.INTEGER, lambda row: len(row.needed)),
        Column("weakest", "the weakest of them", Kind.PLAIN, lambda row: row.needed[0].status.card),
        pick(NEEDED, "in_time")[0]._replace(value=lambda row: row.needed[0].in_time),
    ),
)
DAYS = Table(
    "days",
    "Every day with an answer, on the learner's calendar",
    "day",
    (
        Column("day", "the day on the learner's calendar", Kind.DAY, "start"),
        *pick(PERIOD, "drills", "answers", "right", "first_answers", "first_right", "median_ms"),
    ),
)
TABLES = (ATTEMPTS, LANDINGS, CARDS, KEYS, DAYS)
