"""A deck on one neck: its cards in teaching order, and the part of it in focus."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from drill.decks.entry import Entry
from drill.decks.fields import LAST_STAGE
from drill.decks.focus import Focus
from drill.decks.homework import Homework
from drill.errors import UnknownName, UsageProblem
from drill.memory import Item
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key
from drill.theory.names import NoteLanguage
from drill.theory.neck import Neck
from drill.theory.shapes import find_shape


class Deck(NamedTuple):
    """A deck on a neck. `left_out` says, in sentences, what this instrument cannot be asked."""

    id: str
    title: str
    about: str
    neck: Neck
    entries: dict[str, Entry]
    left_out: tuple[str, ...] = ()
    stage: int = LAST_STAGE
    next: str = ""
    """The id of the deck it leads on to, empty if it leads to none."""
    homework: Homework | None = None
    """What a teacher set with it, if anything."""

    @property
    def items(self) -> tuple[Item, ...]:
        """What the memory needs to know, in teaching order."""
        return tuple(entry.item for entry in self.entries.values())

    @property
    def whole_keys(self) -> tuple[Key, ...]:
        """The keys that it asks whole, for the index fret of a shape, in teaching order."""
        facets = (entry.facets for entry in self.entries.values() if entry.item.family == "shape-anchor")
        return tuple(dict.fromkeys(key for each in facets if (key := getattr(each, "key", None)) is not None))

    def card(self, card_id: str) -> Card:
        """The card of an id, derived anew each time; raises `UnknownName`."""
        entry = self.entries.get(card_id)
        if entry is None:
            raise UnknownName(f"There is no card “{card_id}” in the deck “{self.id}”.", "See: fretsure cards")
        return FAMILIES[entry.item.family].card(entry.facets, self.neck)

    def cards(self) -> Iterator[Card]:
        """Every card, in teaching order."""
        return (self.card(card_id) for card_id in self.entries)

    def focused(self, focus: Focus, language: NoteLanguage = "english") -> Deck:
        """The part of the deck in focus; a shape may be named by its number.

        Raises `UsageProblem` for a string or a shape that the instrument lacks, and if nothing is left, with what there
        is instead.
        """
        focus = focus._replace(shapes=self._known_shapes(focus))
        left = {card_id: entry for card_id, entry in self.entries.items() if focus.holds(entry)}
        if not left:
            raise UsageProblem(f"The deck “{self.title}” has no card for this focus.", self._nearest(focus, language))
        return self._replace(entries=left)

    def _known_shapes(self, focus: Focus) -> tuple[str, ...]:
        """The shapes in focus, each by its id and by its number, once its strings and shapes are known to be there."""
        tuning = self.neck.tuning
        for string in focus.strings:
            tuning.refuse_missing(string)
        shapes = [find_shape(PRACTICAL_KEYS[0], tuning, name, self.neck.capo) for name in focus.shapes]
        return tuple(name for shape in shapes for name in (shape.id, str(shape.number)))

    def _asks(self, focus: Focus) -> bool:
        return any(focus.holds(entry) for entry in self.entries.values())

    def _nearest(self, focus: Focus, language: NoteLanguage) -> str:
        """What can be asked instead of a focus that leaves nothing, in a sentence."""
        return self._parts_alone(focus, language) or self._same_sound(focus, language) or self._families()

    def _parts_alone(self, focus: Focus, language: NoteLanguage) -> str:
        parts = focus.parts(language)
        found = [name for name, alone in parts if self._asks(alone)]
        return f"Alone, there are cards for {' and for '.join(found)}." if found and len(parts) > 1 else ""

    def _same_sound(self, focus: Focus, language: NoteLanguage) -> str:
        for key in KEYS:
            sounds_like_one = any(key != wanted and key.sounds_like(wanted) for wanted in focus.keys)
            if sounds_like_one and self._asks(Focus(keys=(key,))):
                return f"There are cards for {key.typed_in(language)}, which sounds the same."
        return ""

    def _families(self) -> str:
        titles = dict.fromkeys(FAMILIES[entry.item.family].title for entry in self.entries.values())
        return f"It asks: {', '.join(titles)}. Another deck may have it: see the list of decks."
