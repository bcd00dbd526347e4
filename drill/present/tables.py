"""Tables with typed cells: columns are declared once, and text, JSON, files and screens follow from that.

Kind        what a cell holds: a whole number, a share, seconds, ...
Column      a JSON key, its meaning, the kind of its cells, where a row has the value, and the heading for people
cell_text   a cell as people read it
text_table  rows as lines of text under their headings
as_object   a row as a JSON object, exact
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import date
from enum import Enum, auto
from operator import attrgetter
from typing import Any, NamedTuple

from drill.present.dates import iso_utc
from drill.present.figures import per_cent, seconds
from drill.questions.wording import capital, to_ascii

NO_VALUE = "-"


class Kind(Enum):
    """What a cell holds, in brackets the type of its value."""

    PLAIN = auto()
    """What is written as it is (str, list, dict)."""
    SENTENCE = auto()
    """Text with marked notes, see `questions.wording` (str)."""
    INTEGER = auto()
    YES_NO = auto()
    SHARE = auto()
    """A share or a chance, 0 to 1 (float)."""
    SECONDS = auto()
    MILLISECONDS = auto()
    DAY = auto()
    """A day of the calendar (date)."""
    MOMENT = auto()
    """Seconds since the epoch (float)."""
    PROMPT = auto()
    """A card, written as its question by a writer that can derive it."""
    COMMAND = auto()
    """A focus, written as the command that drills it by a writer that knows the learner's deck."""
    OBJECT = auto()
    """A row of other columns."""
    ROWS = auto()
    """Rows of other columns (an iterable)."""


class Column(NamedTuple):
    """One column of a table. Without a heading it is left out of tables for people."""

    key: str
    meaning: str
    """A phrase without a full stop."""
    kind: Kind = Kind.PLAIN
    value: str | Callable[[Any], Any] = ""
    """A function of the row, or the path of an attribute; if empty, the attribute is called like the key."""
    heading: str = ""
    columns: tuple[Column, ...] = ()
    """The columns of the rows in its cells."""
    nullable: bool = False
    choices: tuple[str, ...] = ()
    """The only values it can have, where these are few words."""

    @property
    def get(self) -> Callable[[Any], Any]:
        """The function that takes the value out of a row."""
        return attrgetter(self.value or self.key) if isinstance(self.value, str) else self.value

    @property
    def sentence(self) -> str:
        """The meaning as a sentence of its own."""
        return f"{capital(self.meaning).removesuffix('.')}."


Columns = tuple[Column, ...]
Writers = Mapping[Kind, Callable[[Any], Any]]
"""How the values of each kind are written; a kind that is missing is written as it is."""

EXACT: Writers = {Kind.SENTENCE: to_ascii, Kind.DAY: date.isoformat, Kind.MOMENT: iso_utc}
"""Values for programs: exact, note names in ASCII, moments in UTC."""
_SHOWN: Writers = {Kind.SHARE: per_cent, Kind.SECONDS: seconds, Kind.DAY: date.isoformat}
_FLUSH_RIGHT = (Kind.INTEGER, Kind.SHARE, Kind.SECONDS, Kind.DAY)


def pick(columns: Columns, *keys: str) -> Columns:
    """The columns with these keys, in the order of the keys."""
    by_key = {column.key: column for column in columns}
    return tuple(by_key[key] for key in keys)


def inside(attribute: str, columns: Columns) -> Columns:
    """Columns of rows that hold the rows of `columns` in an attribute."""
    outer = attrgetter(attribute)
    return tuple(column._replace(value=_joined(outer, column.get)) for column in columns)


def _joined(outer: Callable[[Any], Any], inner: Callable[[Any], Any]) -> Callable[[Any], Any]:
    return lambda row: inner(outer(row))


# -- for people --------------------------------------------------------------------------------------------------------


def cell_text(column: Column, row: Any, words: Callable[[str], str] = str) -> str:
    """A cell as people read it; `words` puts a sentence into the learner's note language."""
    value = column.get(row)
    if value is None:
        return NO_VALUE
    write = words if column.kind is Kind.SENTENCE else _SHOWN.get(column.kind, str)
    return str(write(value))


def text_table(columns: Columns, rows: Iterable[Any], words: Callable[[str], str] = str) -> Iterator[str]:
    """The headings and a line for each row, in columns two blanks apart: words flush left, figures flush right."""
    headed = [column for column in columns if column.heading]
    lines = [[column.heading for column in headed]]
    lines += [[cell_text(column, row, words) for column in headed] for row in rows]
    widths = [max(map(len, cells)) for cells in zip(*lines, strict=True)]
    for line in lines:
        yield "  ".join(map(_aligned, headed, line, widths)).rstrip()


def _aligned(column: Column, text: str, width: int) -> str:
    return text.rjust(width) if column.kind in _FLUSH_RIGHT else text.ljust(width)


# -- for programs ------------------------------------------------------------------------------------------------------


def as_object(columns: Columns, row: Any, writers: Writers = EXACT) -> dict[str, Any]:
    """The row as a JSON-able object, exact and complete."""
    return {column.key: written(column, column.get(row), writers) for column in columns}


def written(column: Column, value: Any, writers: Writers = EXACT) -> Any:
    """A value of the column as JSON holds it; None stays None."""
    if value is None:
        return None
    if column.kind is Kind.OBJECT:
        return as_object(column.columns, value, writers)
    if column.kind is Kind.ROWS:
        return [as_object(column.columns, row, writers) for row in value]
    write = writers.get(column.kind)
    return write(value) if write else value
