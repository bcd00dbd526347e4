"""What a kind of card must offer, and the register of all of them.

A family is a subclass of `Family` marked with `@register`; that mark, and its module's name in the catalogue, is all it
takes to reach every deck, drill, list and report.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator
from functools import cache
from typing import ClassVar

from drill.errors import UnknownName
from drill.questions import ids
from drill.questions.card import Card, Facets
from drill.questions.ids import instrument_suffix
from drill.questions.scope import Scope
from drill.theory.keys import KEYS, Key, Mode
from drill.theory.neck import Neck, names_of
from drill.theory.pitch import Note

__all__ = ["FAMILIES", "Family", "find_family", "instrument_suffix", "key_in", "mode_in", "note_in", "register"]

FAMILIES: dict[str, Family] = {}
"""Every family by id, in the order of the curriculum."""

_KEYS = {key.name: key for key in KEYS}
_NOTES = {note.name: note for pitch_class in range(12) for note in names_of(pitch_class)}


class Family(ABC):
    """One kind of question. `needs` names the families it builds on; `target_s` is the time in which it is fluent."""

    id: ClassVar[str]
    lesson: ClassVar[int]
    """Place in the curriculum."""
    title: ClassVar[str]
    facet_names: ClassVar[tuple[str, ...]]
    """The facets of every card, in the order in which ids write them."""
    target_s: ClassVar[float]
    needs: ClassVar[tuple[str, ...]] = ()
    wants: ClassVar[str] = "Widen the strings, frets, keys or shapes of this part."
    """What to give a deck's part in which this family finds nothing to ask."""
    ungrouped: ClassVar[tuple[str, ...]] = ("mode",)
    """Facets too broad or too many to tell neighbours apart."""
    about_the_neck: ClassVar[bool] = True
    """Whether answers depend on the tuning; card ids then say so when it is not the standard one."""

    @abstractmethod
    def spread(self, scope: Scope) -> Iterator[Facets]:
        """The facets of every card in scope, in teaching order."""

    @abstractmethod
    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        """The atomic facts the answer rests on; cards that share one help or give away each other."""

    def groups(self, facets: Facets, neck: Neck) -> frozenset[str]:
        """What the card belongs to, such as 'string-6' or 'key-Fm': for a focus, for interleaving, for progress."""
        return frozenset([_group(name, value) for name, value in facets.items() if name not in self.ungrouped])

    @abstractmethod
    def card(self, facets: Facets, neck: Neck) -> Card:
        """The card of these facets on this neck."""

    def card_id(self, facets: Facets, neck: Neck) -> str:
        """The card's permanent name: 'tonic-fret:key=F#m:string=6', with the instrument if it is not standard."""
        return ids.write(self.id, facets, instrument_suffix(neck) if self.about_the_neck else "")


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
        raise UnknownName(f"There is no family “{name[:60]}”.", f"Families: {', '.join(FAMILIES)}.")
    return FAMILIES[name]


def key_in(facets: Facets) -> Key:
    """The key a card is about."""
    return _KEYS[str(facets["key"])]


def note_in(facets: Facets) -> Note:
    """The note a card is about, by an everyday name."""
    return _NOTES[str(facets["note"])]


def mode_in(facets: Facets) -> Mode:
    """The mode of the key that is asked for."""
    return "minor" if facets["mode"] == "minor" else "major"


def key_groups(keys: Iterable[Key]) -> frozenset[str]:
    """The groups of some keys: a card belongs to every key it says something about."""
    return frozenset(f"key-{key.short}" for key in keys)


@cache
def _group(facet: str, value: str | int) -> str:
    """A shape group already names its string ('string-6'), and counts as that string too."""
    return str(value) if facet == "shape" else f"{facet}-{ids.compact(facet, value)}"
