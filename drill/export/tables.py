"""The tables of the package: every column with its type, what it holds, and where its value comes from.

One declaration gives the CSV file and its Table Schema: https://datapackage.org/standard/table-schema/
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Iterator
from types import NoneType
from typing import Any, Generic, NamedTuple, TextIO, TypeVar, get_args, get_type_hints

from drill.decks import entry_of
from drill.errors import FretsureError
from drill.present.dates import iso_utc
from drill.progress import CardStatus, KeyReadiness, Period, Progress
from drill.progress.objects import MEANING
from drill.questions.facets import as_plain
from drill.questions.wording import to_ascii
from drill.record import AttemptRow
from drill.record.rows import ATTEMPT_COLUMNS

T = TypeVar("T")
Value = str | int | float | bool | None
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""A spreadsheet may run a cell that begins so: https://owasp.org/www-community/attacks/CSV_Injection"""


class Column(NamedTuple, Generic[T]):
    """One column: its name, its Table Schema type, what it holds, and how to get the value out of a row."""

    name: str
    type: str
    meaning: str
    value: Callable[[T], Value]
    required: bool = True

    def schema(self) -> dict[str, Any]:
        """The field as Table Schema describes it."""
        constraints = {"constraints": {"required": True}} if self.required else {}
        return {"name": self.name, "type": self.type, "description": self.meaning, **constraints}


class Table(NamedTuple, Generic[T]):
    """One CSV file; `key` names the column that tells its rows apart."""

    name: str
    title: str
    key: str
    columns: tuple[Column[T], ...]

    @property
    def file(self) -> str:
        return f"{self.name}.csv"

    def writer(self, file: TextIO) -> Callable[[T], None]:
        """Write the head; gives the function that writes a row. RFC 4180: commas, CRLF."""
        rows = csv.writer(file)
        rows.writerow([column.name for column in self.columns])
        getters = [column.value for column in self.columns]
        return lambda row: rows.writerow([cell(value(row)) for value in getters]) and None

    def write(self, file: TextIO, rows: Iterable[T]) -> None:
        """Write head and rows."""
        write = self.writer(file)
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
            "schema": {"fields": [column.schema() for column in self.columns], "primaryKey": self.key},
        }


def cell(value: Value) -> str:
    """A value as a CSV cell; text a spreadsheet might run is disarmed by an apostrophe."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f"'{value}" if value.startswith(FORMULA_STARTS) else value
    return repr(value)


def _moment(at_ms: int) -> str:
    return iso_utc(at_ms / 1000) or ""


_TYPES = {str: "string", int: "integer", bool: "boolean"}


def _attempt(name: str, hint: Any) -> Column[AttemptRow]:
    """A column of the log's answers as a spreadsheet reads it: a moment as a date."""
    kind, sort, meaning = get_args(hint)
    if sort == "moment":
        meaning = meaning.replace("milliseconds since 1970-01-01 UTC", "UTC")
        return Column(name, "datetime", meaning, lambda row: _moment(getattr(row, name)))
    kinds = [each for each in get_args(kind) or (kind,) if each is not NoneType]
    required = sort != "text" and NoneType not in get_args(kind)
    return Column(name, _TYPES.get(kinds[0], "string"), meaning, lambda row: getattr(row, name), required)


_HINTS = get_type_hints(AttemptRow, include_extras=True)

ATTEMPTS = Table(
    "attempts",
    "Every answer, in the order in which it was asked",
    "uid",
    tuple(_attempt(name, _HINTS[name]) for name in ATTEMPT_COLUMNS),
)


class CardRow(NamedTuple):
    """A card with its question and whether the deck of the export asks it."""

    standing: CardStatus
    prompt: str
    in_deck: bool


def card_rows(progress: Progress) -> Iterator[CardRow]:
    """Every card of the deck in teaching order, then every other card that was ever met, by id."""
    for standing in progress.standings:
        yield CardRow(standing, to_ascii(progress.prompt(standing.entry)), True)
    for card in sorted(progress.learner.cards.keys() - progress.deck.entries.keys()):
        try:
            entry = entry_of(card)[0]
        except FretsureError:  # a card no family knows any more
            continue
        standing = CardStatus.of(entry, progress.learner, progress.now_s)
        yield CardRow(standing, to_ascii(progress.prompt(entry)), False)


def _card(name: str, type: str, value: Callable[[CardStatus], Value], *, required: bool = True) -> Column[CardRow]:
    return Column(name, type, _meaning(f"cards[].{name}"), lambda row: value(row.standing), required)


def _facet(name: str, type: str) -> Column[CardRow]:
    meaning = f"The {name} it is about, if it is about one."
    return Column(name, type, meaning, lambda row: as_plain(row.standing.entry.facets).get(name), required=False)


def _meaning(path: str) -> str:
    """What a key of the JSON holds, as a sentence."""
    meaning = MEANING[path]
    return f"{meaning[0].upper()}{meaning[1:]}."


CARDS = Table(
    "cards",
    "Every card of the deck, and every other card met, with its standing",
    "card",
    (
        _card("card", "string", lambda s: s.card),
        _card("family", "string", lambda s: s.item.family),
        Column("prompt", "string", _meaning("cards[].prompt"), lambda row: row.prompt),
        _facet("string", "integer"),
        _facet("fret", "integer"),
        _facet("key", "string"),
        _facet("shape", "string"),
        Column("in_deck", "boolean", "Whether the deck of this export asks it.", lambda row: row.in_deck),
        _card("state", "string", lambda s: s.state),
        _card("strength", "number", lambda s: s.strength),
        _card("speed_s", "number", lambda s: s.speed_s),
        _card("target_s", "number", lambda s: s.item.target_s),
        _card("fluent_chance", "number", lambda s: s.fluent_chance),
        _card("asked", "integer", lambda s: s.asked),
        _card("right", "integer", lambda s: s.right),
        _card("last_asked", "datetime", lambda s: iso_utc(s.last_s), required=False),
    ),
)

KEYS: Table[KeyReadiness] = Table(
    "keys",
    "Readiness of the everyday keys",
    "key",
    (
        Column("key", "string", _meaning("readiness[].key"), lambda row: row.key.name),
        Column("readiness", "number", _meaning("readiness[].readiness"), lambda row: row.readiness),
        Column("met", "integer", _meaning("readiness[].met"), lambda row: row.met),
        Column("needed", "integer", "How many cards it takes.", lambda row: len(row.needed)),
        Column("weakest", "string", "The weakest of them.", lambda row: row.needed[0].standing.card),
        Column("in_time", "number", _meaning("readiness[].needed[].in_time"), lambda row: row.needed[0].in_time),
    ),
)


def _period(name: str, *, required: bool = True) -> Column[Period]:
    return Column(name, "integer", _meaning(f"weeks[].{name}"), lambda row: getattr(row, name), required)


DAYS: Table[Period] = Table(
    "days",
    "Every day with an answer, on the learner's calendar",
    "day",
    (
        Column("day", "date", "The day on the learner's calendar.", lambda row: row.start.isoformat()),
        _period("drills"),
        _period("answers"),
        _period("right"),
        _period("first_answers"),
        _period("first_right"),
        _period("median_ms", required=False),
    ),
)
TABLES: tuple[Table[Any], ...] = (ATTEMPTS, CARDS, KEYS, DAYS)
