"""The instruments and tunings that ship with the program, read from `data/tunings.toml`.

tunings        every tuning by its id, standard guitar first
find_tuning    one of them, however it is written; UnknownName offers the nearest
read_tunings   the same from any text, for checks

Plain tomllib and explicit checks, so that looking up a key starts no heavier machinery.
"""

from __future__ import annotations

import difflib
import tomllib
from functools import cache
from typing import Any

from drill.errors import BadFile, FretsureError, UnknownName
from drill.system.resources import data_file
from drill.theory.names import quoted
from drill.theory.neck import STANDARD, Tuning

_WORDS = ("title", "strings", "source")
_OPTIONAL = ("anchors",)
_FEWEST_STRINGS, _MOST_STRINGS = 3, 12


def tunings() -> dict[str, Tuning]:
    """Every tuning by its id, in the order of the table. Raises BadFile when the shipped table is damaged."""
    return dict(_shipped())


def find_tuning(name: str) -> Tuning:
    """The tuning with this id or title, whatever its case, spaces or hyphens. Raises UnknownName with the nearest."""
    wanted = _folded(name)
    if wanted == STANDARD.id:  # a start on the usual guitar need not read the table, which has the same (by a test)
        return STANDARD
    known = tunings()
    for tuning in known.values():
        if wanted in (_folded(tuning.id), _folded(tuning.title)):
            return tuning
    near = difflib.get_close_matches(wanted, known, n=3, cutoff=0.4)
    fix = f"Nearest: {', '.join(near)}." if near else f"There are: {', '.join(known)}."
    raise UnknownName(f"{quoted(name)} is not a tuning.", fix)


def read_tunings(text: str, file: str) -> dict[str, Tuning]:
    """The tunings written in `text`; `file` is the name errors give it. Raises BadFile."""
    try:
        rows = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadFile(file, "", f"is not TOML: {error}", "Install fretsure again.") from error
    return {id: _tuning(file, id, row) for id, row in rows.items()}


@cache
def _shipped() -> dict[str, Tuning]:
    file = data_file("tunings.toml")
    return read_tunings(file.read_text(encoding="utf-8"), str(file))


def _tuning(file: str, id: str, row: Any) -> Tuning:
    _check_fields(file, id, row)
    try:
        tuning = Tuning.from_low_to_high(id, row["title"], row["strings"], tuple(row.get("anchors", ())))
    except FretsureError as error:
        raise BadFile(file, f"{id}.strings", error.message, error.fix) from error
    if not _FEWEST_STRINGS <= len(tuning.strings) <= _MOST_STRINGS:
        problem = f"has {len(tuning.strings)} strings"
        raise BadFile(file, f"{id}.strings", problem, f"List {_FEWEST_STRINGS} to {_MOST_STRINGS} pitches.")
    if not set(tuning.anchor_strings) <= set(tuning.strings):
        raise BadFile(file, f"{id}.anchors", "names a string that is not there", "Name strings of this instrument.")
    return tuning


def _check_fields(file: str, id: str, row: Any) -> None:
    if not isinstance(row, dict):
        raise BadFile(file, id, "is not a table", f"Write [{id}] with {', '.join(_WORDS)} under it.")
    for field in _WORDS:
        if not isinstance(row.get(field), str) or not row[field].strip():
            raise BadFile(file, f"{id}.{field}", "is missing or empty", "Write it as text in quotes.")
    anchors = row.get("anchors", [])
    if not isinstance(anchors, list) or not all(isinstance(string, int) for string in anchors):
        raise BadFile(file, f"{id}.anchors", "is not a list of string numbers", "Write it like: anchors = [6, 5]")
    for field in row:
        if field not in _WORDS + _OPTIONAL:
            raise BadFile(file, f"{id}.{field}", "is not known here", f"Known: {', '.join(_WORDS + _OPTIONAL)}.")


def _folded(name: str) -> str:
    return "-".join(name.casefold().replace("-", " ").replace("_", " ").replace(",", " ").split())
