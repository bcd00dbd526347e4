"""What a kind of card must offer.

A family is a subclass of `Family` that the catalogue lists; that is all it takes to reach every deck, drill, list and
report.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator
from typing import ClassVar, Generic, TypeVar

from drill.questions.card import Card
from drill.questions.facets import Facets, Group, by_name, group_of
from drill.questions.facts import Fact
from drill.questions.ids import CardName
from drill.questions.scope import Scope
from drill.theory.keys import Key
from drill.theory.neck import Neck

F = TypeVar("F", bound=Facets)


class Family(ABC, Generic[F]):
    """One kind of question. `needs` names the families it builds on."""

    id: ClassVar[str]
    title: ClassVar[str]
    idea: ClassVar[str]
    """What the family is about, in one sentence for whom the matter is new; notes are marked."""
    facet_type: type[F]
    """The named tuple of its facets; ids write its fields in their order."""
    needs: ClassVar[tuple[str, ...]] = ()
    wants: ClassVar[str] = "Widen the strings, frets, keys or shapes of this part."
    """What to give a deck's part in which this family finds nothing to ask."""
    ungrouped: ClassVar[tuple[str, ...]] = ("mode",)
    """Facets too broad or too many to tell neighbours apart."""
    about_the_neck: ClassVar[bool] = True
    """Whether answers depend on the tuning; card ids then say so when it is not the standard one."""

    @abstractmethod
    def spread(self, scope: Scope) -> Iterator[F]:
        """The facets of every card in scope, in teaching order."""

    @abstractmethod
    def facts(self, facets: F, neck: Neck) -> tuple[Fact, ...]:
        """The atomic facts the answer rests on; cards that share one help or give away each other."""

    def groups(self, facets: F, neck: Neck) -> frozenset[Group]:
        """What the card belongs to: its strings, keys, shapes and so on."""
        return frozenset([group_of(name, value) for name, value in by_name(facets) if name not in self.ungrouped])

    @abstractmethod
    def card(self, facets: F, neck: Neck) -> Card:
        """The card of these facets on this neck."""

    def name(self, facets: F, neck: Neck) -> CardName:
        """The card's permanent name, with the instrument if the answer depends on it."""
        return (
            CardName(self.id, facets, neck.tuning.id, neck.capo) if self.about_the_neck else CardName(self.id, facets)
        )

    def card_id(self, facets: F, neck: Neck) -> str:
        """The text of the name: 'tonic-fret:key=F#m:string=6'."""
        return self.name(facets, neck).id


def key_groups(keys: Iterable[Key]) -> frozenset[Group]:
    """The groups of some keys: a card belongs to every key it says something about."""
    return frozenset(group_of("key", key) for key in keys)
