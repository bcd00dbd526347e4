"""Strings as learners name them: by number or by open note."""

from __future__ import annotations

from collections.abc import Callable

from drill.errors import UnknownName
from drill.questions.wording import string_label, to_screen
from drill.theory.names import NoteLanguage, parse_note, quoted, show_note
from drill.theory.neck import Tuning

LONGEST_NUMBER = 3
"""Digits; the numbers of strings are smaller."""

_PLACES: dict[str, Callable[[list[int]], int]] = {"low": max, "high": min}
"""The words that tell strings of one note apart, as the screens say them; the highest string has the lowest number."""


def find_string(text: str, tuning: Tuning, language: NoteLanguage) -> int:
    """Find a string by its number or by its open note. Raises UnknownName, also if several strings have that note.

    >>> from drill.theory.neck import STANDARD
    >>> [find_string(text, STANDARD, "german") for text in ("6", "A", "h", "low E")]
    [6, 5, 2, 6]
    """
    if text.isdecimal() and len(text) <= LONGEST_NUMBER:
        return int(text)
    place, _, name = text.rpartition(" ")
    pick = _PLACES.get(place.casefold())
    try:
        note = parse_note(name if pick else text, language)
    except UnknownName:
        raise UnknownName(f"{quoted(text)} is not a string.", _ways_to_name_strings(tuning, language)) from None
    found = [string for string in tuning.strings if tuning.open(string).note.pitch_class == note.pitch_class]
    if not found:
        raise UnknownName(f"No string is called {quoted(text)}.", _ways_to_name_strings(tuning, language))
    if pick:
        return pick(found)
    if len(found) > 1:
        labels = " or ".join(to_screen(string_label(tuning, string), language) for string in found)
        raise UnknownName(f"{quoted(text)} could be {labels}.", "Write the number of the one you mean.")
    return found[0]


def _ways_to_name_strings(tuning: Tuning, language: NoteLanguage) -> str:
    names = [show_note(tuning.open(string).note, language) for string in reversed(tuning.strings)]
    unique = ", ".join(name for name in names if names.count(name) == 1)
    return f"Write a number from 1, the highest, to {len(names)}, or a name: {unique}."
