"""The order of a deck for whoever does not know the names of the notes yet: plain letters first.

They begin with the notes inside the first keys, string by string, for the index fret of a shape is the fret of a note.
On a string every second letter comes, and then those between: in the order of the letters the next fret could be
counted on from the one before, and need not be known. A name with a sharp or a flat is a second thing to learn. A pair
of relatives stays together; within the plain ones and within the others the order of the deck holds.
"""

from __future__ import annotations

from drill.decks.entry import Entry
from drill.questions.reasons import natural_at
from drill.theory.keys import Key
from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note

LETTERS = 7
TO_THE_NEXT_BUT_ONE = 4
"""Counted by twos, seven letters come round to the next one after so many steps."""


def letters_first(entries: dict[str, Entry], neck: Neck) -> dict[str, Entry]:
    """The same entries, those with fewer sharps and flats in their names first, and their items in that order.

    Where keys are asked, the plain notes that they rest on come before all else.
    """
    in_keys = {fact for entry in entries.values() if _key(entry) for fact in entry.item.facts}
    spots = {card: _spot(entry, neck) for card, entry in entries.items()}
    rows = list(dict.fromkeys((entries[card].item.family, spot.string) for card, spot in spots.items() if spot))

    def place(each: tuple[str, Entry]) -> tuple[int, ...]:
        entry, signs, spot = each[1], _signs(each[1], neck), spots[each[0]]
        if signs or spot is None or (in_keys and not in_keys.issuperset(entry.item.facts)):
            return (signs, 1)
        return (signs, 0, rows.index((entry.item.family, spot.string)), *_leaping(neck, spot))

    ordered = sorted(entries.items(), key=place)
    return {card: entry._replace(item=entry.item._replace(order=n)) for n, (card, entry) in enumerate(ordered)}


def _leaping(neck: Neck, spot: Spot) -> tuple[int, int]:
    """The place of a plain note on its string, where every second letter comes first: E G B D, then F A C."""
    below = sum(natural_at(neck, spot.string, fret) is not None for fret in range(spot.fret))
    octave, letter = divmod(below, LETTERS)
    return octave, letter * TO_THE_NEXT_BUT_ONE % LETTERS


def _key(entry: Entry) -> Key | None:
    key = getattr(entry.facets, "key", None)
    return key if isinstance(key, Key) else None


def _spot(entry: Entry, neck: Neck) -> Spot | None:
    """Where a single note lies, the lowest place on its string; None where a key is asked, or no string is named."""
    string, fret, note = getattr(entry.facets, "string", None), getattr(entry.facets, "fret", None), _note(entry)
    if _key(entry) or not isinstance(string, int):
        return None
    if note is not None:
        return neck.spots_of(note.pitch_class, (string,))[0]
    return Spot(string, fret) if isinstance(fret, int) else None


def _note(entry: Entry) -> Note | None:
    note = getattr(entry.facets, "note", None)
    return note if isinstance(note, Note) else None


def _signs(entry: Entry, neck: Neck) -> int:
    """How many sharps and flats stand in the names that a question is about: of the two tonics, or of the note."""
    if key := _key(entry):
        return abs(key.tonic.accidental) + abs(key.relative.tonic.accidental)
    if note := _note(entry):
        return abs(note.accidental)
    spot = _spot(entry, neck)
    return int(spot is not None and natural_at(neck, *spot) is None)
