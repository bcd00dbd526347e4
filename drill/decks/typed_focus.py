"""Reads a focus as a learner types it in one line: 'E flat minor on the A string', 'string 5', 'Am A-string shape'."""

from __future__ import annotations

import re

from drill.decks.focus import Focus
from drill.decks.strings import find_string
from drill.errors import FretsureError, UnknownName
from drill.questions.catalogue import FAMILIES
from drill.theory.keys import Key, parse_key
from drill.theory.names import NoteLanguage, quoted, typed_note
from drill.theory.neck import Tuning
from drill.theory.pitch import Note

_FILLER = r"\b(?:on|in|the|and|key|of)\b"
_NAME = rf"(?<![^\s,])(?!{_FILLER})(?:(?:low|high)[\s-]+)?[^\s,]+?"
_SHAPE = re.compile(rf"(?P<anchor>{_NAME})[\s-]+string[\s-]+shape\b|\bshape\s+(?P<number>[1-5])\b", re.IGNORECASE)
_STRING = re.compile(rf"\bstrings?\s+(?P<after>{_NAME})(?=[\s,]|$)|(?P<before>{_NAME})[\s-]+string\b", re.IGNORECASE)
_FAMILY = re.compile(
    "|".join(rf"\b{re.escape(name)}\b" for each in FAMILIES.values() for name in (each.id, each.title)), re.IGNORECASE
)
_BETWEEN = re.compile(r"\band\b|[,+·]", re.IGNORECASE)
_FILLERS = re.compile(_FILLER, re.IGNORECASE)
_BY_NAME = {name.casefold(): each.id for each in FAMILIES.values() for name in (each.id, each.title)}


def read_typed_focus(text: str, tuning: Tuning, language: NoteLanguage) -> Focus | None:
    """The focus that a text names; None where something in it is not understood.

    >>> from drill.theory.neck import STANDARD
    >>> read_typed_focus("Eb minor on the A string", STANDARD, "english")
    Focus(strings=(5,), keys=(Key('Eb minor'),), families=(), shapes=())
    """
    try:
        found = read_words(text, tuning, language)
    except FretsureError:
        return None
    return found._replace(strings=tuple(string for string in found.strings if string in tuning.strings)) or None


def read_words(text: str, tuning: Tuning, language: NoteLanguage) -> Focus:
    """The strings, keys, families and shapes that a text names. Raises UnknownName for the part not understood."""
    families = tuple(_BY_NAME[match[0].casefold()] for match in _FAMILY.finditer(text))
    rest = _FAMILY.sub(",", text)
    shapes = tuple(_shape(match, tuning, language) for match in _SHAPE.finditer(rest))
    rest = _SHAPE.sub(",", rest)
    strings = [find_string(_plain(match), tuning, language) for match in _STRING.finditer(rest)]
    parts = [" ".join(_FILLERS.sub(" ", part).split()) for part in _BETWEEN.split(_STRING.sub(",", rest))]
    parts = [part for part in parts if part]
    if len(parts) == 1 and parts[0].isdecimal() and not strings:
        return Focus((find_string(parts[0], tuning, language),), (), families, shapes)
    return Focus(tuple(strings), tuple(_key(part, language) for part in parts), families, shapes)


def _shape(match: re.Match[str], tuning: Tuning, language: NoteLanguage) -> str:
    """The id of a shape by the string it is anchored on, or its number."""
    anchor = match["anchor"]
    return f"string-{find_string(anchor.replace('-', ' '), tuning, language)}" if anchor else match["number"]


def _plain(match: re.Match[str]) -> str:
    """A string as it was named, with blanks between the words."""
    return str(match["after"] or match["before"]).replace("-", " ")


def _key(text: str, language: NoteLanguage) -> Key:
    try:
        return parse_key(text, language)
    except UnknownName:
        key, string = (typed_note(Note.of(*name), language) for name in (("E", -1), ("A", 0)))
        problem = f"{quoted(text)} is neither a key nor a string, a shape or a kind of question."
        raise UnknownName(problem, f"Example: fretsure focus {key} minor on the {string} string") from None
