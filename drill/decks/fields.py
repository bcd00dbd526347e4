"""The fields of a deck file: what fits in each, how it is written, and every mistake of form in a table of them."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from drill.system.validation import LONGEST_LIST, Check, describe, line, list_of, number, table, text, word
from drill.theory.names import quoted
from drill.theory.neck import MOST_FRETS

LAST_STAGE = 5
"""Stages go from a beginner's first notes (1) to answers within a bar (5)."""

EXAMPLES = {
    "title": 'title = "Notes on two strings", one line of at most 300 characters',
    "about": 'about = "What the deck is for.", one line of at most 300 characters',
    "stage": f"stage = 1, a whole number from 1 to {LAST_STAGE}",
    "tuning": 'tuning = "bass"',
    "targets": "note-at-fret = 1.5 under [targets], seconds from 0.3 to 60",
    "part": "[[part]] above each stretch of families",
    "families": 'families = ["note-at-fret"]',
    "strings": 'strings = [6, 5], or strings = "all" or "anchors"',
    "frets": f"frets = [0, 12], two whole numbers from 0 to {MOST_FRETS}",
    "notes": 'notes = "naturals" or notes = "all"',
    "keys": 'keys = ["Am", "C"], or keys = "everyday" or "all"',
    "shapes": 'shapes = ["string-6"], or shapes = "anchors" or "all"',
    "loops": 'loops = ["Am F C G"]',
}
"""An example of each field, for the fix of a mistake."""

BLANKS: dict[str, Any] = {"title": "", "about": "", "families": []}
"""Required fields, each with the value that stands in for it while the rest of the file is checked."""

CHECKS: dict[str, Check] = {
    "title": line(),
    "about": line(),
    "stage": number(1, LAST_STAGE),
    "tuning": text,
    "targets": table(number(0.3, 60, (int, float))),
    "families": list_of(text, shortest=1),
    "strings": list_of(number(), words=("anchors", "all")),
    "frets": list_of(number(0, MOST_FRETS), shortest=2, longest=2),
    "notes": word("naturals", "all"),
    "keys": list_of(text, words=("everyday", "all")),
    "shapes": list_of(text, words=("anchors", "all")),
    "loops": list_of(text),
}
"""What fits in each field."""


class Problem(NamedTuple):
    """One mistake in a deck file."""

    field: str
    problem: str
    fix: str


def check_fields(
    names: Sequence[str], values: dict[str, Any], where: str, also: Sequence[str] = ()
) -> tuple[dict[str, Any], list[Problem]]:
    """The values that fit their fields, and a problem for each that does not.

    `names` are the fields this table may have; those named in `also` are checked elsewhere. A required field without a
    value that fits gets its stand-in.
    """
    mistakes = {name: list(_mistakes(name, values, where)) for name in names}
    stand_ins = {name: BLANKS[name] for name in names if name in BLANKS}
    fitting = {name: values[name] for name in names if name in values and not mistakes[name]}
    unknown = [name for name in values if name not in names]
    problems = [problem for found in mistakes.values() for problem in found]
    problems += (_unknown_field(where, name, [*names, *also]) for name in unknown[:LONGEST_LIST])
    return stand_ins | fitting, problems


def _mistakes(name: str, values: dict[str, Any], where: str) -> Iterator[Problem]:
    if name in values:
        for way, found in CHECKS[name](values[name]):
            place = where + ".".join(map(str, (name, *way)))
            yield Problem(place, f"{quoted(describe(found))} does not fit.", f"Write {EXAMPLES[name]}.")
    elif name in BLANKS:
        yield Problem(where + name, "is missing.", f"Write {EXAMPLES[name]}.")


def _unknown_field(where: str, name: str, known: list[str]) -> Problem:
    near = difflib.get_close_matches(name[:60], known, n=1, cutoff=0.0)[0]
    return Problem(where + quoted(name)[1:-1], "there is no such field.", f"The nearest is “{near}”.")
