"""Reads what was typed to focus a drill: strings, keys, families and shapes, by number or name."""

from __future__ import annotations

from drill.cli.learner import chosen_deck
from drill.cli.requests import FocusRequest
from drill.decks import Focus
from drill.decks.strings import find_string
from drill.decks.typed_focus import read_words
from drill.errors import UnknownName, UsageProblem
from drill.questions.catalogue import find_family
from drill.settings import Settings
from drill.theory.keys import Key, in_other_languages, parse_key
from drill.theory.names import NoteLanguage
from drill.theory.neck import Tuning


def read_focus(request: FocusRequest, settings: Settings) -> Focus:
    """Read the focus in the learner's note language. Raises UsageProblem if it is empty, UnknownName."""
    language = settings.note_language
    typed = _read_words(request, settings)
    focus = Focus(
        strings=(*typed.strings, *_read_strings(request, settings)),
        keys=(*typed.keys, *(read_key(text, language) for text in request.key)),
        families=(*typed.families, *(find_family(name).id for name in request.family)),
        shapes=(*typed.shapes, *request.shape),
    )
    if not focus:
        example = parse_key("Bb minor").typed_in(language)
        raise UsageProblem(
            "A focus needs a string, a key, a family or a shape.",
            f"Example: fretsure focus {example} on string 5",
        )
    return focus


def read_key(text: str, language: NoteLanguage) -> Key:
    """A key in the learner's note language. Raises UnknownName, which tells of a key in another language."""
    try:
        return parse_key(text, language)
    except UnknownName as error:
        raise UnknownName(in_other_languages(text, language) or error.message, error.fix) from None


def _read_words(request: FocusRequest, settings: Settings) -> Focus:
    if not request.words:
        return Focus()
    try:
        return read_words(" ".join(request.words), _tuning(request, settings), settings.note_language)
    except UnknownName as error:
        if not (request.key or request.string):
            raise
        cut_off = f'--key "{request.key[-1]} {request.words[0]}"' if request.key else '--string "low E"'
        raise UnknownName(error.message, f"A name of several words needs quotes, as in {cut_off}.") from None


def _read_strings(request: FocusRequest, settings: Settings) -> tuple[int, ...]:
    if not request.string:
        return ()
    tuning = _tuning(request, settings)
    return tuple(find_string(text, tuning, settings.note_language) for text in request.string)


def _tuning(request: FocusRequest, settings: Settings) -> Tuning:
    """The tuning of the deck: some decks are for an instrument of their own."""
    return chosen_deck(request.deck, settings).neck.tuning
