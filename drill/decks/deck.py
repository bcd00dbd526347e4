"""A deck on one neck: its cards in teaching order, and the part of it in focus."""

from collections.abc import Iterator
from typing import NamedTuple

from drill.decks.entry import Entry
from drill.decks.fields import LAST_STAGE
from drill.decks.focus import Focus
from drill.decks.homework import Homework
from drill.decks.letters_first import letters_first
from drill.errors import UnknownName, UsageProblem
from drill.memory import Item, Start
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.theory.keys import PRACTICAL_KEYS, Key
from drill.theory.names import NoteLanguage
from drill.theory.neck import Neck
from drill.theory.shapes import ShapeId, find_shape


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
        """The keys that it asks whole, for the index fret of a shape on one of the anchors, in teaching order."""
        anchors = {ShapeId.on(string) for string in self.neck.tuning.anchor_strings}
        facets = (entry.facets for entry in self.entries.values() if entry.item.family == "shape-anchor")
        keys = (getattr(each, "key", None) for each in facets if getattr(each, "shape", None) in anchors)
        return tuple(dict.fromkeys(key for key in keys if key is not None))

    def begun_with(self, start: Start | None) -> "Deck":
        """The deck in the order for a learner who begins there: who knows no notes meets plain letters first."""
        return self._replace(entries=letters_first(self.entries, self.neck)) if start == "notes" else self

    def card(self, card_id: str) -> Card:
        """The card of an id, derived anew each time; raises `UnknownName`."""
        entry = self.entries.get(card_id)
        if entry is None:
            raise UnknownName(f"There is no card “{card_id}” in the deck “{self.id}”.", "See: fretsure cards")
        return FAMILIES[entry.item.family].card(entry.facets, self.neck)

    def cards(self) -> Iterator[Card]:
        """Every card, in teaching order."""
        return (self.card(card_id) for card_id in self.entries)

    def focused(self, focus: Focus, language: NoteLanguage = "english") -> "Deck":
        """The part of the deck in focus; a shape may be named by its number.

        Raises `UsageProblem` for a string or a shape that the instrument lacks, and if nothing is left, with what there
        is instead.
        """
        left = self.in_focus(self.known(focus))
        if not left:
            raise UsageProblem(f"The deck “{self.title}” has no card for this focus.", self._nearest(focus, language))
        return self._replace(entries=left)

    def known(self, focus: Focus) -> Focus:
        """The focus with each shape by id and by number; raises `UsageProblem` for what the instrument lacks."""
        tuning = self.neck.tuning
        for string in focus.strings:
            tuning.refuse_missing(string)
        shapes = [find_shape(PRACTICAL_KEYS[0], tuning, name, self.neck.capo) for name in focus.shapes]
        return focus._replace(shapes=tuple(name for shape in shapes for name in (shape.id, str(shape.number))))

    def count(self, focus: Focus) -> int:
        """How many cards a focus leaves."""
        return len(self.in_focus(focus))

    def in_focus(self, focus: Focus) -> dict[str, Entry]:
        """The entries in focus; a key finds the cards of every key that sounds the same."""
        either = focus.by_either_name
        return {card_id: entry for card_id, entry in self.entries.items() if either.holds(entry)}

    def _nearest(self, focus: Focus, language: NoteLanguage) -> str:
        """What can be asked instead of a focus that leaves nothing, in a sentence."""
        return self._parts_alone(focus, language) or self._families()

    def _parts_alone(self, focus: Focus, language: NoteLanguage) -> str:
        parts = focus.parts(language)
        found = [name for name, alone in parts if self.count(alone)]
        return f"Alone, there are cards for {' and for '.join(found)}." if found and len(parts) > 1 else ""

    def _families(self) -> str:
        titles = dict.fromkeys(FAMILIES[entry.item.family].title for entry in self.entries.values())
        return f"It asks: {', '.join(titles)}. Another deck may ask it: see the list of decks."
