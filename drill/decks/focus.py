"""The focus of a drill: the strings, keys, families and shapes that a learner picks from a deck."""

from collections.abc import Iterable
from typing import NamedTuple

from drill.decks.entry import Entry
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import Group, shape_of
from drill.theory.keys import KEYS, Key
from drill.theory.names import NoteLanguage


class Focus(NamedTuple):
    """The part of a deck to drill. Empty lists keep everything; different kinds narrow, several of a kind widen."""

    strings: tuple[int, ...] = ()
    keys: tuple[Key, ...] = ()
    families: tuple[str, ...] = ()
    shapes: tuple[str, ...] = ()

    def holds(self, entry: Entry) -> bool:
        """Whether an entry is in focus."""
        strings = {Group("string", string) for string in self.strings}
        keys = {Group("key", key) for key in self.keys}
        in_groups = all(not wanted or wanted & entry.groups for wanted in (strings, keys))
        in_families = not self.families or entry.item.family in self.families
        # not by the groups: there a shape counts as its string
        in_shapes = not self.shapes or shape_of(entry.facets) in self.shapes
        return in_groups and in_families and in_shapes

    @property
    def by_either_name(self) -> "Focus":
        """The focus with every key under all its names: a deck may write E flat minor as D sharp minor."""
        alike = tuple(key for key in KEYS if any(key.sounds_like(wanted) for wanted in self.keys))
        return self._replace(keys=alike)

    def as_names(self) -> dict[str, list[str | int]]:
        """The focus in plain names, as the record stores it."""
        return {
            "strings": list(self.strings),
            "keys": [key.name for key in self.keys],
            "families": list(self.families),
            "shapes": list(self.shapes),
        }

    def parts(self, language: NoteLanguage) -> "list[tuple[str, Focus]]":
        """Each string, key, family and shape in focus as a focus of its own, with its name in words."""
        return [
            *((f"string {string}", Focus(strings=(string,))) for string in self.strings),
            *((key.typed_in(language), Focus(keys=(key,))) for key in self.keys),
            *((f"“{FAMILIES[name].title}”", Focus(families=(name,))) for name in self.families),
            *((f"shape {name}", Focus(shapes=(name,))) for name in self.shapes),
        ]

    def __bool__(self) -> bool:
        return bool(self.strings or self.keys or self.families or self.shapes)


def combined(foci: Iterable[Focus]) -> Focus:
    """Several choices as one focus: those of a kind widen it, those of different kinds narrow it."""
    chosen = tuple(foci)
    return Focus(
        strings=tuple(string for focus in chosen for string in focus.strings),
        keys=tuple(key for focus in chosen for key in focus.keys),
        families=tuple(family for focus in chosen for family in focus.families),
        shapes=tuple(shape for focus in chosen for shape in focus.shapes),
    )
