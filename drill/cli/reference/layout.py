"""How a page is laid out: a name, its meaning beside it, and what is inside it further in."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from drill.present.tables import Columns

STEP = 2


def prose(text: str, width: int) -> Iterator[str]:
    """An empty line, then a paragraph."""
    yield ""
    yield from textwrap.wrap(text, width)


def entry(name: str, meaning: str, width: int, indent: int = STEP) -> Iterator[str]:
    """A name and its meaning, whose further lines are indented."""
    start, further = " " * indent, " " * (indent + 2 * STEP)
    line = f"{start}{name}: {meaning}"
    yield from textwrap.wrap(line, width, subsequent_indent=further, break_long_words=False, break_on_hyphens=False)


def entries(pairs: Iterable[tuple[str, str]], width: int) -> Iterator[str]:
    """Names and their meanings."""
    for name, meaning in pairs:
        yield from entry(name, meaning, width)


def columns_lines(
    columns: Columns, width: int, indent: int = STEP, told: dict[Columns, str] | None = None
) -> Iterator[str]:
    """Every key with its meaning, and the keys of the objects in it, unless `told` above under another key."""
    told = {} if told is None else told
    for column in columns:
        inside = told.get(column.columns, "") if column.columns else ""
        yield from entry(column.key, column.meaning + (f"; with the keys of {inside}" if inside else ""), width, indent)
        if column.columns and not inside:
            told[column.columns] = column.key
            yield from columns_lines(column.columns, width, indent + STEP, told)
