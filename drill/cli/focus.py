"""Reads what was typed to focus a drill: strings, keys, families and shapes, by number or name."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from drill.cli.learner import chosen_deck
from drill.decks import Focus
from drill.errors import UnknownName, UsageProblem
from drill.questions.catalogue import find_family
from drill.questions.wording import string_label, to_screen
from drill.settings import Settings
from drill.theory.keys import parse_key
from drill.theory.names import NoteLanguage, parse_note, quoted, show_note
from drill.theory.neck import Tuning

if TYPE_CHECKING:
    from drill.cli.commands.drilling import FocusRequest

LONGEST_NUMBER = 3
"""Digits; the numbers of strings are smaller."""

_PLACES: dict[str, Callable[[list[int]], int]] = {"low": max, "high": min}
"""The words that tell strings of one note apart, as the screens say them; the highest string has the lowest number."""


def read_focus(request: FocusRequest, settings: Settings) -> Focus:
    """Read the focus in the learner's note language. Raises UsageProblem if it is empty, UnknownName."""
    language = settings.note_language
    focus = Focus(
        strings=_read_strings(request, settings),
        keys=tuple(parse_key(text, language) for text in request.key),
        families=tuple(find_family(name).id for name in request.family),
        shapes=tuple(request.shape),
    )
    if not focus:
        example = parse_key("Bb minor").typed_in(language)
        raise UsageProblem(
            "A focus needs a string, a key, a family or a shape.",
            f'Example: fretsure focus --string 5 --key "{example}"',
        )
    return focus


def _read_strings(request: FocusRequest, settings: Settings) -> tuple[int, ...]:
    if not request.string:
        return ()
    tuning = chosen_deck(request.deck, settings).neck.tuning  # some decks are for an instrument of their own
    return tuple(find_string(text, tuning, settings.note_language) for text in request.string)


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
