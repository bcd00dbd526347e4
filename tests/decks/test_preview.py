"""What a drill of a focus would ask, before it begins."""

from __future__ import annotations

import pytest

from drill.decks import Focus, load_deck
from drill.decks.preview import MOST_PROMPTS, preview
from drill.questions.wording import to_screen
from drill.settings import Settings
from drill.theory.keys import parse_key
from drill.theory.neck import Spot

TWO_SHAPES = load_deck("two-shapes", Settings().neck)
EB_MINOR = (parse_key("Eb minor"),)


def test_one_key_on_one_string_is_its_shape_with_both_tonics() -> None:
    """E flat minor on the A string: index finger at fret 6 (A + 6 semitones), G flat under the little finger at 9."""
    shown = preview(TWO_SHAPES, Focus(strings=(5,), keys=EB_MINOR))
    roles = {mark.spot: mark.role for mark in shown.picture if mark.spot.string == 5}
    assert roles == {Spot(5, 6): "minor tonic", Spot(5, 9): "major tonic"}
    assert shown.kinds == (("Index fret of a shape", 1),)
    assert [to_screen(prompt) for prompt in shown.prompts] == ["D♯ minor, A-string shape: index fret?"]


def test_kinds_are_counted_and_every_card_is_one_of_them() -> None:
    focus = Focus(keys=EB_MINOR)
    shown = preview(TWO_SHAPES, focus)
    assert sum(cards for _, cards in shown.kinds) == len(shown.prompts) == TWO_SHAPES.count(focus) == 4


def test_where_a_spot_would_be_a_tonic_to_one_card_only_the_spots_stand_bare() -> None:
    """The bare spots are those of the string that was asked for: fret by fret, each once."""
    shown = preview(TWO_SHAPES, Focus(strings=(5,)))
    assert {mark.spot.string for mark in shown.picture} == {5}
    assert {mark.spot.fret for mark in shown.picture} == set(range(TWO_SHAPES.neck.last_fret + 1))
    assert not any(mark.finger or mark.note for mark in shown.picture)
    assert len(shown.prompts) == MOST_PROMPTS < TWO_SHAPES.count(Focus(strings=(5,)))


@pytest.mark.parametrize("deck", ["two-shapes", "five-shapes", "one-bar", "whole-neck", "keys", "naturals"])
def test_every_kind_of_every_deck_can_be_shown(deck: str) -> None:
    loaded = load_deck(deck, Settings().neck)
    for family in {entry.item.family for entry in loaded.entries.values()}:
        shown = preview(loaded, Focus(families=(family,)))
        assert shown.kinds and shown.prompts
        assert len({mark.spot for mark in shown.picture}) == len(shown.picture)
