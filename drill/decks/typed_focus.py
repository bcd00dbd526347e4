"""Reads a focus as a learner types it in one line: 'E flat minor on the A string', 'string 5', 'Am low E string'."""

from __future__ import annotations

import re

from drill.decks.focus import Focus
from drill.decks.strings import find_string
from drill.errors import FretsureError
from drill.theory.keys import parse_key
from drill.theory.names import NoteLanguage
from drill.theory.neck import Tuning

_NAME = r"(?:(?:low|high)\s+)?[^\s,]+"
_STRING = re.compile(rf"\bstrings?\s+(?P<after>{_NAME})|(?P<before>{_NAME})\s+string\b(?!\s+shape)", re.IGNORECASE)
_FILLERS = re.compile(r"\b(?:on|in|the|and|key|of)\b|[,+·]", re.IGNORECASE)


def read_typed_focus(text: str, tuning: Tuning, language: NoteLanguage) -> Focus | None:
    """The strings and the key in a text; None where something in it is neither.

    >>> from drill.theory.neck import STANDARD
    >>> read_typed_focus("Eb minor on the A string", STANDARD, "english")
    Focus(strings=(5,), keys=(Key('Eb minor'),), families=(), shapes=())
    """
    strings: list[int] = []
    try:
        for match in _STRING.finditer(text):
            strings.append(find_string(match["after"] or match["before"], tuning, language))
        rest = " ".join(_FILLERS.sub(" ", _STRING.sub(" ", text)).split())
        if rest.isdecimal() and not strings:
            strings, rest = [find_string(rest, tuning, language)], ""
        keys = (parse_key(rest, language),) if rest else ()
    except FretsureError:
        return None
    found = Focus(strings=tuple(string for string in strings if string in tuning.strings), keys=keys)
    return found or None
