"""The idea of the whole, drawn and told."""

from __future__ import annotations

import pytest

from drill.present.idea import KEY, headlines, idea_drawing, idea_neck, sentences, without_shapes
from drill.present.neck_drawing import Look, plain
from drill.questions.wording import to_screen
from drill.system.tunings import tunings
from drill.theory.neck import STANDARD, Neck, Tuning

SMALLEST = 40
"""The width in cells of the smallest terminal that shows the whole page."""


def test_the_tonics_of_the_shape_lie_where_a_guitarist_finds_them() -> None:
    """B minor and D major: on the low E string at frets 7 and 10, on the A string at 2 and 5 (common practice)."""
    assert (KEY.name, KEY.relative.name) == ("B minor", "D major")
    *_, high, low, numbers = plain(idea_drawing(Neck(STANDARD), Look(), 80)).splitlines()
    for string, sign, fret in ((low, "◆1m", 7), (low, "●4M", 10), (high, "◆1m", 2), (high, "●4M", 5)):
        column = numbers.index(str(fret))
        assert sign in string[column - 2 : column + 4], (string, sign)


def test_the_page_fits_on_the_smallest_screen() -> None:
    drawing = plain(idea_drawing(Neck(STANDARD), Look(), SMALLEST)).splitlines()
    lines = [*drawing, *map(str, headlines(Neck(STANDARD)))]
    assert len(lines) <= 10, "title and way on take the other two rows of twelve"
    assert max(map(len, lines)) <= SMALLEST
    assert "◆1m" in drawing[5] and "●4M" in drawing[5]


@pytest.mark.long(but=12)
@pytest.mark.parametrize("tuning", tunings().values(), ids=lambda tuning: tuning.id)
@pytest.mark.parametrize("frets", [12, 24])
def test_every_instrument_is_shown_the_shape(tuning: Tuning, frets: int) -> None:
    neck = idea_neck(Neck(tuning, frets, capo=2))
    drawing = plain(idea_drawing(neck, Look(), 80))
    assert "◆1m" in drawing and "●4M" in drawing
    said = [to_screen(str(line)) for line in sentences(neck)]
    assert all(f"string {string}" in said[-1] for string in neck.tuning.anchor_strings)


@pytest.mark.parametrize("tuning", tunings().values(), ids=lambda tuning: tuning.id)
def test_where_the_strings_have_no_shape_no_anchor_is_named(tuning: Tuning) -> None:
    """A box needs neighbouring strings four or five semitones apart, as the README says."""
    boxed = all(gap in (4, 5) for gap in tuning.gaps())
    told, brief = sentences(Neck(tuning)), headlines(Neck(tuning))
    assert {told[-1].lead, brief[-1].lead} == {"Two anchors:" if boxed else "Your tuning:"}
    assert (tuning.title in without_shapes(tuning)) == (not boxed)
    assert ("shapes are for strings in fourths" in told[-1].rest) == (not boxed)
    assert max(len(str(line)) for line in brief) <= SMALLEST


def test_without_a_drawing_there_are_no_signs() -> None:
    assert not {"◆", "●"} & set("".join(map(str, sentences(Neck(STANDARD), drawn=False))))
