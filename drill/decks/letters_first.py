"""The order of a deck for whoever does not know the names of the notes yet: plain letters first.

They begin with the notes inside the first keys, string by string in the order of the letters, for the index fret of a
shape is the fret of a note. A name with a sharp or a flat is a second thing to learn. A pair of relatives stays
together; within the plain ones and within the others the order of the deck holds.
"""

from __future__ import annotations

from drill.decks.entry import Entry
from drill.questions.reasons import natural_at
from drill.theory.keys import Key
from drill.theory.neck import Neck
from drill.theory.pitch import Note


def letters_first(entries: dict[str, Entry], neck: Neck) -> dict[str, Entry]:
    """The same entries, those with fewer sharps and flats in their names first, and their items in that order.

    Where keys are asked, the plain notes that they rest on come before all else.
    """
    in_keys = {fact for entry in entries.values() if _key(entry) for fact in entry.item.facts}

    def place(each: tuple[str, Entry]) -> tuple[int, ...]:
        entry, signs = each[1], _signs(each[1], neck)
        string, note = getattr(entry.facets, "string", None), _note(entry)
        if signs or string is None or note is None or not in_keys.issuperset(entry.item.facts):
            return (signs, 1)
        return (signs, 0, -string, neck.spots_of(note.pitch_class, (string,))[0].fret)

    ordered = sorted(entries.items(), key=place)
    return {card: entry._replace(item=entry.item._replace(order=n)) for n, (card, entry) in enumerate(ordered)}


def _key(entry: Entry) -> Key | None:
    key = getattr(entry.facets, "key", None)
    return key if isinstance(key, Key) else None


def _note(entry: Entry) -> Note | None:
    note = getattr(entry.facets, "note", None)
    return note if isinstance(note, Note) else None


def _signs(entry: Entry, neck: Neck) -> int:
    """How many sharps and flats stand in the names that a question is about: of the two tonics, or of the note."""
    if key := _key(entry):
        return abs(key.tonic.accidental) + abs(key.relative.tonic.accidental)
    if note := _note(entry):
        return abs(note.accidental)
    string, fret = getattr(entry.facets, "string", None), getattr(entry.facets, "fret", None)
    if isinstance(string, int) and isinstance(fret, int):
        return int(natural_at(neck, string, fret) is None)
    return 0
