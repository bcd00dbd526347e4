"""What a kind of card must offer, and the register of all of them.

A family is a subclass of `Family` marked with `@register`; that mark is all it takes to reach every deck, drill, list and
report.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from typing import ClassVar

from drill.errors import UnknownName
from drill.questions.answers import AnswerKind
from drill.questions.card import Card, Facets, Mixup
from drill.questions.picture import Picture
from drill.questions.scope import Scope
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck

FAMILIES: dict[str, Family] = {}
"""Every family by id, in the order of the curriculum."""


class Family(ABC):
    """One kind of question. `needs` names the families whose facts it builds on; `target_s` is the time to be fluent."""

    id: ClassVar[str]
    lesson: ClassVar[int]
    """Place in the curriculum."""
    title: ClassVar[str]
    target_s: ClassVar[float]
    needs: ClassVar[tuple[str, ...]] = ()
    about_the_neck: ClassVar[bool] = True
    """Whether answers depend on the tuning; card ids then say so when it is not the standard one."""

    @abstractmethod
    def spread(self, scope: Scope) -> Iterator[Facets]:
        """The facets of every card in scope, in teaching order."""

    @abstractmethod
    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        """The atomic facts the answer rests on; cards that share one help or give away each other."""

    def groups(self, facets: Facets) -> frozenset[str]:
        """What the card belongs to, such as 'string-6' or 'key-Fm': for a focus, for interleaving, for progress."""
        return frozenset(_group(name, value) for name, value in facets.items())

    @abstractmethod
    def card(self, facets: Facets, neck: Neck) -> Card:
        """The card of these facets on this neck."""

    def make(
        self,
        facets: Facets,
        neck: Neck,
        *,
        prompt: str,
        kind: AnswerKind,
        accepts: tuple[str, ...],
        because: tuple[str, ...],
        mixups: tuple[Mixup, ...],
        shown: Picture,
        answer_picture: Picture,
    ) -> Card:
        """Put a card together under this family's name and id."""
        card_id = self.card_id(facets, neck)
        return Card(card_id, self.id, facets, prompt, kind, accepts, because, mixups, shown, answer_picture)

    def card_id(self, facets: Facets, neck: Neck) -> str:
        """The card's permanent name: 'tonic-fret:key=F#m:string=6', with the instrument if it is not standard."""
        parts = [self.id, *(f"{name}={_compact(name, value)}" for name, value in facets.items())]
        return ":".join(parts) + (instrument_suffix(neck) if self.about_the_neck else "")


def instrument_suffix(neck: Neck) -> str:
    """What a card id adds when the instrument is not the standard guitar."""
    tuning = "" if neck.tuning.id == STANDARD.id else f":tuning={neck.tuning.id}"
    return tuning + (f":capo={neck.capo}" if neck.capo else "")


def register(family: type[Family]) -> type[Family]:
    """Add a family to the register."""
    FAMILIES[family.id] = family()
    in_order = sorted(FAMILIES.items(), key=lambda entry: entry[1].lesson)
    FAMILIES.clear()
    FAMILIES.update(in_order)
    return family


def find_family(name: str) -> Family:
    """The family of an id; raises `UnknownName` with the ids there are."""
    if name not in FAMILIES:
        raise UnknownName(f"There is no family “{name}”.", f"Families: {', '.join(FAMILIES)}.")
    return FAMILIES[name]


def _group(facet: str, value: str | int) -> str:
    """A shape group already names its string ('string-6'), and counts as that string too."""
    return str(value) if facet == "shape" else f"{facet}-{_compact(facet, value)}"


def _compact(name: str, value: str | int) -> str:
    return parse_key(str(value)).short if name == "key" else str(value).replace(" ", "-")
