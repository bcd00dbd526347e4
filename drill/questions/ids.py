"""Card ids: how facets become a permanent name, and how a name is taken apart again.

>>> write("tonic-fret", {"key": "F# minor", "string": 6})
'tonic-fret:key=F#m:string=6'
>>> take_apart("tonic-fret:key=F#m:string=6:capo=2")
('tonic-fret', {'key': 'F# minor', 'string': 6}, 'standard', 2)
"""

from __future__ import annotations

from functools import cache

from drill.errors import UnknownName
from drill.questions.card import Facets
from drill.theory.keys import KEYS, parse_key
from drill.theory.names import quoted
from drill.theory.neck import STANDARD, Neck

_SHORT = {key.name: key.short for key in KEYS}
_NUMBERS = ("string", "fret", "finger")
_WORDS = ("interval", "signature", "loop")
"""Facets whose values hold blanks, which an id joins with hyphens; no value of theirs holds a hyphen of its own."""


def write(family: str, facets: Facets, suffix: str = "") -> str:
    """The id of a card: the family, each facet in the family's order, and the instrument if it is not standard."""
    return ":".join([family, *map(_written, facets.items())]) + suffix


@cache
def _written(facet: tuple[str, str | int]) -> str:
    name, value = facet
    return f"{name}={compact(name, value)}"


def compact(name: str, value: str | int) -> str:
    """A facet's value as ids and groups write it: keys short, blanks as hyphens."""
    return _SHORT[value] if name == "key" and isinstance(value, str) else str(value).replace(" ", "-")


def instrument_suffix(neck: Neck) -> str:
    """What a card id adds when the instrument is not the standard guitar."""
    tuning = "" if neck.tuning.id == STANDARD.id else f":tuning={neck.tuning.id}"
    return tuning + (f":capo={neck.capo}" if neck.capo else "")


def take_apart(card_id: str) -> tuple[str, dict[str, str | int], str, int]:
    """Family, facets, tuning and capo of an id; raises `UnknownName` for what was never written as one."""
    family, *parts = card_id.split(":")
    try:
        facets = dict(_facet(part) for part in parts)
        tuning, capo = str(facets.pop("tuning", STANDARD.id)), int(facets.pop("capo", 0))
    except ValueError:
        raise no_card(card_id) from None
    return family, facets, tuning, capo


def no_card(card_id: str) -> UnknownName:
    """The error for an id that no family writes."""
    return UnknownName(f"{quoted(card_id)} is not a card.", "See: fretsure cards")


def _facet(part: str) -> tuple[str, str | int]:
    name, value = part.split("=")
    if name in _NUMBERS:
        return name, int(value)
    if name == "key":
        return name, parse_key(value).name
    if name in _WORDS:
        return name, value.replace("-", " ")
    return name, value
