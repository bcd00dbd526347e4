"""The page of the letters: their order, the two short steps, and where they lie on every instrument."""

from __future__ import annotations

from itertools import pairwise

import pytest

from drill.present.letters import headlines, letters_drawing, letters_picture, sentences
from drill.present.neck_drawing import Look, plain
from drill.questions.wording import to_screen
from drill.system.tunings import tunings
from drill.theory.neck import STANDARD, Neck, Tuning

SMALLEST = 40
"""The width in cells of the smallest terminal that shows the whole page."""
NATURALS = {
    6: {0: "E", 1: "F", 3: "G", 5: "A", 7: "B", 8: "C", 10: "D", 12: "E"},
    5: {0: "A", 2: "B", 3: "C", 5: "D", 7: "E", 8: "F", 10: "G", 12: "A"},
}
"""The natural notes of the two lowest strings (common practice; MusicXML 4.0 prints string 5, fret 3 as C3)."""


def test_every_plain_letter_lies_where_a_guitarist_finds_it() -> None:
    found: dict[int, dict[int, str]] = {6: {}, 5: {}}
    for mark in letters_picture(Neck(STANDARD)):
        assert mark.note is not None
        found[mark.spot.string][mark.spot.fret] = mark.note.name
    assert found == NATURALS


def test_what_is_told_agrees_with_the_drawing() -> None:
    """Two letters in a row lie one fret apart where the page says so, and two frets apart everywhere else."""
    short = {("E", "F"), ("B", "C")}
    told = to_screen(str(sentences(Neck(STANDARD))[1]))
    assert all(f"{low} to {high}" in told for low, high in short)
    drawn = [(mark.spot, mark.note.name) for mark in letters_picture(Neck(STANDARD)) if mark.note]
    steps = [pair for pair in pairwise(drawn) if pair[0][0].string == pair[1][0].string]
    assert len(steps) == 14, "seven on each of two strings"
    for (spot, letter), (above, following) in steps:
        assert above.fret - spot.fret == (1 if (letter, following) in short else 2)


@pytest.mark.parametrize("language", ["english", "german", "italian"])
def test_the_page_fits_on_the_smallest_screen(language: str) -> None:
    drawing = plain(letters_drawing(Neck(STANDARD), Look(language=language), SMALLEST)).splitlines()  # type: ignore[arg-type]
    lines = [*drawing, *(to_screen(str(line), language) for line in headlines())]  # type: ignore[arg-type]
    assert len(lines) <= 10, "title and way on take the other two rows of twelve"
    assert max(map(len, lines)) <= SMALLEST


@pytest.mark.parametrize("tuning", tunings().values(), ids=lambda tuning: tuning.id)
def test_every_instrument_is_told_what_its_own_strings_begin_with(tuning: Tuning) -> None:
    neck = Neck(tuning, 12, capo=1)
    told = to_screen(str(sentences(neck)[-1]))
    assert all(f"string {string} is " in told for string in tuning.anchor_strings)
    assert letters_picture(neck)
    assert all(mark.spot.fret <= 12 for mark in letters_picture(neck))
