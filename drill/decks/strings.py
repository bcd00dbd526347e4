"""Strings as learners name them: by number or by open note."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from drill.errors import UnknownName
from drill.questions.wording import string_label, to_screen
from drill.theory.names import NoteLanguage, parse_note, quoted, show_note
from drill.theory.neck import Tuning

LONGEST_NUMBER = 3
"""Digits; the numbers of strings are smaller."""

_PLACES: dict[str, Callable[[list[int]], int]] = {
    "low": max, "tiefe": max, "tiefen": max, "high": min, "hohe": min, "hohen": min,
}  # fmt: skip
"""The words that tell strings of one note apart, as the screens say them; the highest string has the lowest number."""
_NUMBERS = {
    word: number
    for words in (
        "first second third fourth fifth sixth seventh",
        "erste zweite dritte vierte fünfte sechste siebte",
        "ersten zweiten dritten vierten fünften sechsten siebten",
    )
    for number, word in enumerate(words.split(), 1)
}
_ORDINAL = re.compile(r"(\d+)(?:st|nd|rd|th|\.)", re.IGNORECASE)


def find_string(text: str, tuning: Tuning, language: NoteLanguage) -> int:
    """Find a string by its number or by its open note. Raises UnknownName, also if several strings have that note.

    >>> from drill.theory.neck import STANDARD
    >>> [find_string(text, STANDARD, "german") for text in ("6", "A", "h", "low E", "sixth", "5th")]
    [6, 5, 2, 6, 6, 5]
    """
    if (number := _number(text)) is not None:
        return number
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


def _number(text: str) -> int | None:
    """The number that a text writes, as '6', '6th' or 'sixth'; None for a name."""
    if number := _NUMBERS.get(text.casefold()):
        return number
    digits = ordinal[1] if (ordinal := _ORDINAL.fullmatch(text)) else text
    return int(digits) if digits.isdecimal() and len(digits) <= LONGEST_NUMBER else None


def _ways_to_name_strings(tuning: Tuning, language: NoteLanguage) -> str:
    names = ", ".join(_names(tuning, language))
    return f"Write a number from 1, the highest, to {len(tuning.strings)}, or a name: {names}."


def _names(tuning: Tuning, language: NoteLanguage) -> Iterator[str]:
    """What each string may be called, the lowest first; of more than two of one note, the middle ones have no name."""
    names = [show_note(tuning.open(string).note, language) for string in reversed(tuning.strings)]
    for at, name in enumerate(names):
        if names.count(name) == 1:
            yield name
        elif name not in names[:at]:
            yield f"low {name}"
        elif name not in names[at + 1 :]:
            yield f"high {name}"
