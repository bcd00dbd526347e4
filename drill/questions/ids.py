"""Card ids: the permanent text of a card's name, 'tonic-fret:key=F#m:string=6:capo=2'.

>>> split("tonic-fret:key=F#m:string=6:capo=2")
IdParts(family='tonic-fret', facets={'key': 'F#m', 'string': '6'}, tuning='standard', capo=2)
"""

from functools import cache
from typing import Any, NamedTuple

from drill.errors import UnknownName
from drill.questions.facets import Facets, by_name, compact
from drill.theory.names import quoted
from drill.theory.neck import STANDARD, Neck


class CardName(NamedTuple):
    """What makes a card the card it is: family, facets, and the instrument if the answer depends on it."""

    family: str
    facets: Facets
    tuning: str = STANDARD.id
    capo: int = 0

    @property
    def id(self) -> str:
        """The permanent text: the family, each facet in the family's order, the instrument if it is not standard."""
        facets = map(_written, by_name(self.facets))
        return ":".join([self.family, *facets]) + _suffix(self.tuning, self.capo)


@cache
def _written(facet: tuple[str, Any]) -> str:
    name, value = facet
    return f"{name}={compact(name, value)}"


class IdParts(NamedTuple):
    """The parts of an id, before anything is known of its family."""

    family: str
    facets: dict[str, str]
    tuning: str
    capo: int


def split(card_id: str) -> IdParts:
    """The parts of an id; raises `UnknownName` for text that has not the form of one."""
    family, *parts = card_id.split(":")
    facets: dict[str, str] = {}
    try:
        for part in parts:
            name, value = part.split("=")
            facets[name] = value
        return IdParts(family, facets, facets.pop("tuning", STANDARD.id), int(facets.pop("capo", 0)))
    except ValueError:
        raise no_card(card_id) from None


def family_of(card_id: str) -> str:
    """The family an id names, known or not."""
    return card_id.partition(":")[0]


def no_card(card_id: str) -> UnknownName:
    """The error for an id that no family writes."""
    return UnknownName(f"{quoted(card_id)} is not a card.", "See: fretsure cards --json")


def instrument_suffix(neck: Neck) -> str:
    """What ids and facts add when the instrument is not the standard guitar."""
    return _suffix(neck.tuning.id, neck.capo)


def _suffix(tuning: str, capo: int) -> str:
    return ("" if tuning == STANDARD.id else f":tuning={tuning}") + (f":capo={capo}" if capo else "")
