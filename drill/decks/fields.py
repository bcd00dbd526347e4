"""The fields of a deck file: what fits in each, how it is written, and every mistake of form in a table of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from drill.decks import homework
from drill.questions.wording import capital
from drill.system.validation import Field, Problem, line, list_of, nearest_name, number, problems, table, text, word
from drill.theory.neck import MOST_FRETS

LAST_STAGE = 5
"""Stages go from a beginner's first notes (1) to answers within a bar (5)."""

LONGEST_BY = 80

FIELDS = {
    "title": Field(line(), 'title = "Notes on two strings", one line of at most 300 characters', required=True),
    "about": Field(line(), 'about = "What the deck is for.", one line of at most 300 characters', required=True),
    "stage": Field(number(1, LAST_STAGE), f"stage = 1, a whole number from 1 to {LAST_STAGE}"),
    "next": Field(text, 'next = "two-shapes", the name of a deck that ships, or the path of a file'),
    "tuning": Field(text, 'tuning = "bass"'),
    "targets": Field(
        table(number(0.3, 60, (int, float))), "note-at-fret = 1.5 under [targets], seconds from 1.5 to 60"
    ),
    "until": Field(homework.day, "until = 2026-12-03, a day: year, month, day"),
    "goal": Field(homework.goal, 'goal = "5 keys ready", "all keys ready", "40 cards fluent" or "all cards fluent"'),
    "note": Field(line(), 'note = "Slowly first, then with the click.", one line of at most 300 characters'),
    "by": Field(line(1, LONGEST_BY), f'by = "Ms Adler", who sets it, at most {LONGEST_BY} characters'),
    "families": Field(list_of(text, shortest=1), 'families = ["note-at-fret"]', required=True),
    "strings": Field(list_of(number(), words=("anchors", "all")), 'strings = [6, 5], or strings = "all" or "anchors"'),
    "frets": Field(
        list_of(number(0, MOST_FRETS), shortest=2, longest=2),
        f"frets = [0, 12], two whole numbers from 0 to {MOST_FRETS}",
    ),
    "notes": Field(word("naturals", "all"), 'notes = "naturals" or notes = "all"'),
    "keys": Field(list_of(text, words=("everyday", "all")), 'keys = ["Am", "C"], or keys = "everyday" or "all"'),
    "shapes": Field(list_of(text, words=("anchors", "all")), 'shapes = ["string-6"], or shapes = "anchors" or "all"'),
    "loops": Field(list_of(text), 'loops = ["Am F C G"]'),
    "order": Field(word("key by key", "family by family"), 'order = "key by key" or order = "family by family"'),
}
"""Every field of a deck file, but for the list of parts."""

MEANINGS = {
    "title": "what the deck is called in lists and on Home",
    "about": "what the deck is for, shown beneath its title",
    "stage": f"its place in the list of decks, 1 for beginners to {LAST_STAGE}; without it {LAST_STAGE}",
    "next": "the deck that is proposed once this one is known",
    "tuning": "the instrument it is for, such as drop-d, bass or ukulele; without it the student's own",
    "targets": "within how many seconds an answer of a family is in time; without it one bar at the student's tempo, "
    "or half a bar for a single note; it stands below the fields above",
    "until": "the last day for which it is set as homework",
    "goal": "what is to be reached by then, counted for Home, the report and every export",
    "note": "a note to the student, shown beside the homework",
    "by": "who sets it, shown to the student and on the page of a class",
    "families": "the kinds of question it asks, by the names that `fretsure help families` lists",
    "strings": "the strings it asks about, 1 the highest; without it the two on which the shapes are anchored",
    "frets": "the lowest and the highest fret it asks about; without it 0 and 12",
    "notes": "the notes it asks about: those without sharps and flats, or, as without this field, all",
    "keys": "the keys it asks about, minor ones with an m; without it the 24 everyday ones",
    "shapes": "the shapes it asks about, by the string of their minor tonic, or by the numbers 1 to 5; without it the "
    "two anchored ones",
    "loops": "the loops that families about loops ask about, each as its chords",
    "order": "what is taught first: all families for two relative keys, then for the next two; or, as without this "
    "field, one family after the other",
}
"""What each field is for, as a clause; together with its example it describes the field in help and schema."""


def description(name: str) -> str:
    """What a field is for, and how it is written."""
    return f"{capital(MEANINGS[name])}. Write {FIELDS[name].example}."


EXAMPLE = """
title = "Flat keys"
about = "For Thursday: find the index finger in five flat keys."
until = 2026-12-03
goal = "5 keys ready"
by = "Ms Adler"
note = "Slowly first."

[targets]
shape-anchor = 3.0

[[part]]
families = ["shape-anchor", "relative-minor"]
keys = ["F", "Bb", "Eb", "Ab", "Db"]
order = "key by key"
"""
"""A whole deck file, to begin one's own with."""

STAND_INS: dict[str, Any] = {"title": "", "about": "", "families": []}
"""What stands in for a required field without a value that fits, so that the rest of the file can be checked."""


def check_fields(names: Iterable[str], values: Mapping[str, Any], where: str) -> tuple[dict[str, Any], list[Problem]]:
    """The values of a table that fit its fields, and every mistake in it; `where` begins the names of its fields.

    A misspelt field is a mistake, and its value is checked like that of the field it is nearest to.
    """
    fields = {name: FIELDS[name] for name in names}
    meant = _misspelt(values, fields)
    found = [*problems(values, fields), *problems(meant, {name: fields[name] for name in meant})]
    fitting = {name: _fitting(fields[name], value) for name, value in (meant | dict(values)).items() if name in fields}
    known = {name: value for name, value in fitting.items() if value is not None}
    stand_ins = {name: STAND_INS[name] for name in fields if name in STAND_INS}
    return stand_ins | known, [problem._replace(field=where + problem.field) for problem in found]


def _misspelt(values: Mapping[str, Any], fields: Mapping[str, Field]) -> dict[str, Any]:
    """The values of misspelt fields, each under the name that was meant, where that is not given as well."""
    meant = {nearest_name(name, fields): value for name, value in values.items() if name not in fields}
    return {name: value for name, value in meant.items() if name and name not in values}


def _fitting(field: Field, value: Any) -> Any:
    """The value if it fits, or the items of a list that do, so that these can be checked; None if nothing is left."""
    wrong = {path[0] for path, _ in field.check(value) if path}
    if wrong and isinstance(value, list):
        value = [each for at, each in enumerate(value, 1) if at not in wrong] or None
    return value if field.takes(value) else None
