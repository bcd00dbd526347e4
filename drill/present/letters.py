"""The letters of the notes on one page, for whoever does not know them: their order, and how far apart they lie.

letters_drawing  the letters on the strings on which the shapes begin
headlines        the page in three short lines
sentences        the same, told to somebody who has never named a note
"""

from __future__ import annotations

from collections.abc import Iterator

from drill.present.neck_drawing import Drawing, Look, MarkedNeck
from drill.present.verdicts import Line
from drill.questions.picture import Mark, Picture
from drill.questions.reasons import either_name, natural_at
from drill.questions.wording import named, named_notes
from drill.theory.neck import FRETS_PER_OCTAVE, Neck, Spot
from drill.theory.pitch import Note

HOME = range(6)
"""The frets that a small drawing keeps: the open strings, and the first steps from them."""
LETTERS = tuple(map(Note.of, "ABCDEFG"))
BETWEEN = either_name(Note.of("F", 1).pitch_class)
"""The two names of the fret between F and G."""


def letters_drawing(neck: Neck, look: Look, width: int, pitch: int = 1) -> Drawing:
    """The letters on the anchor strings up to fret 12, in a width in cells; strings lie `pitch` rows apart."""
    look, strings = look._replace(show="notes"), neck.tuning.anchor_strings
    return MarkedNeck(neck, letters_picture(neck), look, width, HOME, pitch, strings).draw()


def letters_picture(neck: Neck) -> Picture:
    """Every note with a plain letter on the anchor strings, up to where the letters begin again."""
    return tuple(_letters(neck))


def _letters(neck: Neck) -> Iterator[Mark]:
    for string in neck.tuning.anchor_strings:
        for fret in range(min(FRETS_PER_OCTAVE, neck.last_fret) + 1):
            if note := natural_at(neck, string, fret):
                yield Mark(Spot(string, fret), "note", note)


def headlines() -> tuple[Line, ...]:
    """The page in three lines that fit on the smallest screen."""
    return (
        Line("Letters:", _marked("{A} to {G}, then {A} again.")),
        Line("One fret:", _marked("{B}–{C}, {E}–{F}. All others: two.")),
        Line("Between:", "♯ one fret up, ♭ one down."),
    )


def sentences(neck: Neck) -> tuple[Line, ...]:
    """The page with its signs explained, and where to count from on this neck; notes are marked."""
    return (
        Line("Letters:", named_notes(LETTERS) + _marked(", then {A} again, up every string.")),
        Line("One fret or two:", _marked("{B} to {C} and {E} to {F} are one fret each; all other steps are two.")),
        Line(
            "Sharp and flat:", _marked("♯ is one fret up from its letter, ♭ one down. So {F} is followed by {between}.")
        ),
        Line("Begin at fret 0:", f"{', '.join(_open_strings(neck))}. Count up from there."),
    )


def _marked(sentence: str) -> str:
    """A sentence whose letters in braces are notes: '{B} to {C}'; {between} stands for the fret between F and G."""
    return sentence.format(between=BETWEEN, **{note.letter: named(note) for note in LETTERS})


def _open_strings(neck: Neck) -> Iterator[str]:
    """What each anchor string sounds at fret 0."""
    for string in neck.tuning.anchor_strings:
        yield f"string {string} is {either_name(neck.pitch_class(Spot(string, 0)))}"
