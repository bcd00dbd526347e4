"""Strings as learners name them: by number, by open note, or by where they lie.

find_string    one string: '6', 'sixth', 'A', 'low E', 'thin E'
find_strings   the strings of a list: 'E' and 'A', or 'E' for both of them
placed         strings by their place alone: the lowest, the two highest, the bass strings
unsure         what to say where a place leaves open which strings are meant
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from drill.errors import UnknownName
from drill.questions.wording import string_label, to_screen
from drill.theory.names import NoteLanguage, parse_note, quoted, show_note
from drill.theory.neck import Tuning

LONGEST_NUMBER = 3
"""Digits; the numbers of strings are smaller."""

LOW = (
    "low", "lowest", "thick", "thickest", "fat", "fattest", "deep", "deepest", "bass", "tiefe", "tiefen",
    "tiefste", "tiefsten", "dicke", "dicken",
)  # fmt: skip
HIGH = (
    "high", "highest", "thin", "thinnest", "treble", "hohe", "hohen", "höchste", "höchsten", "dünne",
    "dünnen",
)  # fmt: skip
MIDDLE = "middle"
EITHER = (
    "top", "topmost", "upper", "uppermost", "bottom", "lower", "oberste", "obersten", "unterste", "untersten",
)  # fmt: skip
PLACES = (*LOW, *HIGH, *EITHER, MIDDLE)
"""The words that tell strings of one note apart. What is on top depends on whether one hears it or looks down at it."""
NUMBERS = {
    word: number
    for words in (
        "first second third fourth fifth sixth seventh",
        "erste zweite dritte vierte fünfte sechste siebte",
        "ersten zweiten dritten vierten fünften sechsten siebten",
        "one two three four five six seven",
        "eins zwei drei vier fünf sechs sieben",
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
    found = _meant(text, tuning, language)
    if len(found) > 1:
        raise _several(text, found, tuning, language)
    return found[0]


def find_strings(names: Sequence[str], tuning: Tuning, language: NoteLanguage, plural: bool) -> tuple[int, ...]:
    """The strings of a list. 'E strings' are both; in 'E and A', the E beside the A is meant. Raises UnknownName.

    >>> from drill.theory.neck import STANDARD
    >>> [find_strings(names.split(), STANDARD, "english", True) for names in ("E A", "B E", "E", "5 6")]
    [(6, 5), (2, 1), (6, 1), (5, 6)]
    """
    meant = [_meant(name, tuning, language) for name in names]
    if plural and len(meant) == 1:
        return tuple(sorted(meant[0], reverse=True))
    sure = [found[0] for found in meant if len(found) == 1]
    for name, found in zip(names, meant, strict=True):
        if len(found) > 1 and not sure:
            raise _several(name, found, tuning, language)
    return tuple(min(found, key=lambda one: min((abs(one - each) for each in sure), default=0)) for found in meant)


def placed(place: str, count: int | None, tuning: Tuning, language: NoteLanguage) -> tuple[int, ...]:
    """So many strings from the lowest or the highest on, the lowest first; without a number, the half that lies there.

    Raises UnknownName for 'top', 'bottom' and 'middle'.
    """
    lowest_first, half = tuple(reversed(tuning.strings)), len(tuning.strings) // 2
    if place.casefold() in (*EITHER, MIDDLE):
        raise unsure(place, tuning, language)
    if place.casefold() in LOW:
        return lowest_first[: count or len(lowest_first) - half]
    return lowest_first[-(count or half) :]


def unsure(place: str, tuning: Tuning, language: NoteLanguage) -> UnknownName:
    """What to say of a place that leaves open which strings are meant: 'top', or 'low' without another word."""
    if place.casefold() in (*LOW, *HIGH):
        fix = f"Write {place} string, or two {place} strings."
        return UnknownName(f"{quoted(place)} could be one string or several.", fix)
    inner = tuning.strings[1:-1]
    return _several(place, inner if place.casefold() == MIDDLE else (1, len(tuning.strings)), tuning, language)


def string_number(text: str) -> int | None:
    """The number from 1 that a text writes, as '6', '6th' or 'sixth'; None for anything else."""
    if number := NUMBERS.get(text.casefold()):
        return number
    digits = ordinal[1] if (ordinal := _ORDINAL.fullmatch(text)) else text
    return int(digits) or None if digits.isdecimal() and len(digits) <= LONGEST_NUMBER else None


def is_place(text: str) -> bool:
    """Whether a word says where a string lies: 'low', 'thin', 'top'."""
    return text.casefold() in PLACES


def _meant(text: str, tuning: Tuning, language: NoteLanguage) -> list[int]:
    """Every string that a name may mean. Raises UnknownName if there is none."""
    if (number := string_number(text)) is not None:
        return [number]
    place, _, name = text.rpartition(" ")
    place = place.casefold() if is_place(place) else ""
    try:
        note = parse_note(name if place else text, language)
    except UnknownName:
        raise UnknownName(f"{quoted(text)} is not a string.", _ways_to_name_strings(tuning, language)) from None
    found = [string for string in tuning.strings if tuning.open(string).note.pitch_class == note.pitch_class]
    if place == MIDDLE:
        found = found[1:-1]
    if not found:
        raise UnknownName(f"No string is called {quoted(text)}.", _ways_to_name_strings(tuning, language))
    return found[-1:] if place in LOW else found[:1] if place in HIGH else found


def _several(text: str, found: Sequence[int], tuning: Tuning, language: NoteLanguage) -> UnknownName:
    labels = " or ".join(to_screen(string_label(tuning, string), language) for string in found)
    return UnknownName(f"{quoted(text)} could be {labels}.", "Write the number of the one you mean.")


def _ways_to_name_strings(tuning: Tuning, language: NoteLanguage) -> str:
    names = ", ".join(_names(tuning, language))
    return f"Write a number from 1, the highest, to {len(tuning.strings)}, or a name: {names}."


def _names(tuning: Tuning, language: NoteLanguage) -> Iterator[str]:
    """What each string may be called, the lowest first; of several middle ones of one note none has a name."""
    names = [show_note(tuning.open(string).note, language) for string in reversed(tuning.strings)]
    for at, name in enumerate(names):
        if names.count(name) == 1:
            yield name
        elif name not in names[:at]:
            yield f"low {name}"
        elif name not in names[at + 1 :]:
            yield f"high {name}"
        elif names.count(name) == 3:
            yield f"{MIDDLE} {name}"
