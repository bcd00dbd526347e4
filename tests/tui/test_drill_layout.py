"""How a drill fills its window: the question and its strings are always there, and what is larger is never smaller."""

from __future__ import annotations

import itertools
import textwrap

import pytest

from drill.decks import shipped_decks
from drill.questions.wording import to_screen
from drill.theory.names import NOTE_LANGUAGES
from drill.theory.neck import STANDARD, Neck
from drill.tui.drill_layout import SENTENCES, drill_layout, rows_below_the_time
from drill.tui.screens.drill_board import AROUND_THE_FIELD

MARGINS = 4
"""Columns of the row of the question that are margin."""
SIX, SEVEN = tuple(range(1, 7)), tuple(range(1, 8))
SIZES = [(40, 12), (80, 24), (120, 40), (200, 60)]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("strings", [SIX, SEVEN, (1, 2, 3, 4)])
def test_question_strings_and_verdict_fit_together(size: tuple[int, int], strings: tuple[int, ...]) -> None:
    for asked in ((strings[-1],), strings[-2:], (strings[0], strings[-1])):
        layout = drill_layout(*size, strings, asked)
        verdict = rows_below_the_time(size[1]) - SENTENCES - layout.above - layout.letter_rows - layout.neck_rows
        assert layout.shows(asked)
        assert verdict >= 4
        assert verdict < 20


def test_from_80x24_on_the_whole_neck_is_there_and_letters_are_drawn() -> None:
    for width, height in SIZES[1:]:
        layout = drill_layout(width, height, SIX, (6,))
        assert layout.strings == SIX
        assert layout.numbered
        assert layout.scale >= 1


def test_letters_and_neck_grow_with_the_window() -> None:
    layouts = [drill_layout(width, height, SIX, (6,)) for width, height in SIZES]
    for smaller, larger in itertools.pairwise(layouts):
        assert larger.scale > smaller.scale
        assert larger.neck_rows > smaller.neck_rows


def test_a_drawn_shape_keeps_its_strings_where_fret_numbers_have_to_go() -> None:
    layout = drill_layout(40, 12, SIX, SIX)
    assert (layout.strings, layout.numbered) == (SIX, False)


def test_where_every_question_is_about_fits_in_two_rows_of_40_columns() -> None:
    """There is room for a third where a picture has to be told in words."""
    for card in (card for deck in shipped_decks(Neck(STANDARD)) for card in deck.cards()):
        for language in NOTE_LANGUAGES:
            where = to_screen(f"{card.ask.subject}, {card.ask.place}", language)
            assert len(textwrap.wrap(where, 40 - MARGINS)) <= 2, where


def test_beside_every_question_a_fret_that_is_typed_can_be_read_in_40_columns() -> None:
    """Two figures and the cursor."""
    asked = {card.ask.ask for deck in shipped_decks(Neck(STANDARD)) for card in deck.cards()}
    for ask in asked:
        for language in NOTE_LANGUAGES:
            assert 40 - AROUND_THE_FIELD - len(to_screen(ask, language)) >= 3, to_screen(ask, language)
