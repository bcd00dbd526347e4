"""How the learner wants a neck drawn, and what a drawing is made of."""

from typing import Literal, NamedTuple

from drill.theory.names import NoteLanguage, show_note, show_signs
from drill.theory.pitch import Note

Role = Literal[
    "label", "string", "nut", "number", "inlay", "beyond",
    "asked", "note", "minor tonic", "major tonic", "given", "step",
    "unmet", "weak", "middling", "strong", "picked",
]  # fmt: skip

Show = Literal["fingers", "degrees", "notes"]


class Segment(NamedTuple):
    """A run of characters, one cell each, that plays one role."""

    text: str
    role: Role


Line = tuple[Segment, ...]
Drawing = tuple[Line, ...]


class Look(NamedTuple):
    """How a neck is drawn. A dot that lacks what `show` asks for shows what it has: finger, note or degree."""

    hand: Literal["right", "left"] = "right"
    low_string: Literal["bottom", "top"] = "bottom"
    show: Show = "fingers"
    language: NoteLanguage = "english"


USUAL = Look()

LONGEST_NOTE = 4
"""A longer name would not fit on a fret beside its two signs."""


def short_name(note: Note, language: NoteLanguage) -> str:
    """The note's name in a language; the English one where the name is too long for a fret."""
    name = show_note(note, language)
    return name if len(name) <= LONGEST_NOTE else show_signs(note.name)


def plain(drawing: Drawing) -> str:
    """The drawing as lines of text without trailing blanks."""
    return "\n".join("".join(segment.text for segment in line).rstrip() for line in drawing)
