"""The order of a deck for whoever does not know the names of the notes yet: plain letters first.

They begin with the notes inside the first keys, and a name with a sharp or a flat is a second thing to learn. A pair of
relatives stays together; within the plain ones and within the others the order of the deck holds.
"""

from __future__ import annotations

from drill.decks.entry import Entry
from drill.questions.reasons import natural_at
from drill.theory.keys import Key
from drill.theory.neck import Neck
from drill.theory.pitch import Note


def letters_first(entries: dict[str, Entry], neck: Neck) -> dict[str, Entry]:
    """The same entries, those with fewer sharps and flats in their names first, and their items in that order."""
    ordered = sorted(entries.items(), key=lambda each: _signs(each[1], neck))
    return {card: entry._replace(item=entry.item._replace(order=place)) for place, (card, entry) in enumerate(ordered)}


def _signs(entry: Entry, neck: Neck) -> int:
    """How many sharps and flats stand in the names that a question is about: of the two tonics, or of the note."""
    key, note = getattr(entry.facets, "key", None), getattr(entry.facets, "note", None)
    if isinstance(key, Key):
        return abs(key.tonic.accidental) + abs(key.relative.tonic.accidental)
    if isinstance(note, Note):
        return abs(note.accidental)
    string, fret = getattr(entry.facets, "string", None), getattr(entry.facets, "fret", None)
    if isinstance(string, int) and isinstance(fret, int):
        return int(natural_at(neck, string, fret) is None)
    return 0
