"""Reads what was typed to focus a drill: strings, keys, families and shapes, by number or name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from drill.cli.learner import chosen_deck
from drill.decks import Focus
from drill.decks.strings import find_string
from drill.errors import UsageProblem
from drill.questions.catalogue import find_family
from drill.settings import Settings
from drill.theory.keys import parse_key

if TYPE_CHECKING:
    from drill.cli.commands.drilling import FocusRequest


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
