"""The tunings that ship with the program, read from `data/tunings.toml`.

tunings        every tuning by its id, standard guitar first
find_tuning    one of them by id or title
read_tunings   the tunings in any text
"""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from functools import cache
from typing import Any

from drill.errors import BadFile, FretsureError, UnknownName
from drill.system.input_files import parse_toml
from drill.system.resources import data_file
from drill.system.validation import Field, line, list_of, number, problems
from drill.theory.names import quoted
from drill.theory.neck import STANDARD, Tuning

_FIELDS = {
    "title": Field(line(), 'title = "Guitar, drop D"', required=True),
    "strings": Field(line(), 'strings = "D2 A2 D3 G3 B3 E4", the lowest string first', required=True),
    "source": Field(line(), 'source = "..."', required=True),
    "anchors": Field(list_of(number()), "anchors = [6, 5]"),
}
_FEWEST_STRINGS, _MOST_STRINGS = 3, 12


@cache
def tunings() -> Mapping[str, Tuning]:
    """Return every tuning by its id, in the order of the table. Raises BadFile if the shipped table is damaged."""
    file = data_file("tunings.toml")
    return read_tunings(file.read_text(encoding="utf-8"), str(file))


def find_tuning(name: str) -> Tuning:
    """Find a tuning by id or title, ignoring case, spaces and hyphens. Raises UnknownName, which offers the nearest."""
    wanted = _folded(name)
    if wanted == STANDARD.id:  # a test compares it with the table, which most starts need not read
        return STANDARD
    known = tunings()
    for tuning in known.values():
        if wanted in (_folded(tuning.id), _folded(tuning.title)):
            return tuning
    near = difflib.get_close_matches(wanted, known, n=3, cutoff=0.4)
    fix = f"Nearest: {', '.join(near)}." if near else f"Tunings: {', '.join(known)}."
    raise UnknownName(f"{quoted(name)} is not a tuning.", fix)


def read_tunings(text: str, file: str) -> dict[str, Tuning]:
    """Read the tunings written in `text`; errors call it `file`. Raises BadFile."""
    rows = parse_toml(text, file, "Install fretsure again.")
    return {id: _tuning(file, id, row) for id, row in rows.items()}


def _tuning(file: str, id: str, row: Any) -> Tuning:
    if not isinstance(row, dict):
        raise BadFile(file, id, "is not a table.", f"Write [{id}] with {', '.join(_FIELDS)} under it.")
    for mistake in problems(row, _FIELDS):
        raise BadFile(file, f"{id}.{mistake.field}", mistake.problem, mistake.fix)
    try:
        tuning = Tuning.from_low_to_high(id, row["title"], row["strings"], tuple(row.get("anchors", ())))
    except FretsureError as error:
        raise BadFile(file, f"{id}.strings", error.message, error.fix) from error
    if not _FEWEST_STRINGS <= len(tuning.strings) <= _MOST_STRINGS:
        problem = f"has {len(tuning.strings)} strings."
        raise BadFile(file, f"{id}.strings", problem, f"List {_FEWEST_STRINGS} to {_MOST_STRINGS} pitches.")
    if not set(tuning.anchor_strings) <= set(tuning.strings):
        raise BadFile(
            file,
            f"{id}.anchors",
            "names a string that this instrument lacks.",
            f"Name strings from 1 to {len(tuning.strings)}.",
        )
    return tuning


def _folded(name: str) -> str:
    return "-".join(name.casefold().replace("-", " ").replace("_", " ").replace(",", " ").split())
