"""What a focus of few cards is widened to."""

from __future__ import annotations

from drill.decks import Focus, is_narrow, load_deck, shipped_decks, widenings
from drill.questions.wording import to_screen
from drill.settings import Settings
from drill.theory.keys import parse_key

NECK = Settings().neck
TWO_SHAPES = load_deck("two-shapes", NECK)
ON_A = Focus(strings=(5,), keys=(parse_key("Ebm"),))


def offers(focus: Focus) -> dict[str, Focus]:
    return {to_screen(wide.words): wide.focus for wide in widenings(TWO_SHAPES, focus, shipped_decks(NECK))}


def test_a_focus_of_fewer_than_eight_cards_is_narrow() -> None:
    assert is_narrow(TWO_SHAPES, ON_A)
    assert not is_narrow(TWO_SHAPES, Focus(strings=(5,)))
    assert not is_narrow(TWO_SHAPES, Focus())


def test_a_narrow_focus_is_widened_by_the_other_anchor_the_relative_the_neighbours_and_other_decks() -> None:
    """G flat major is E flat minor's relative; B flat and A flat minor are a fifth away (circle of fifths)."""
    found = offers(ON_A)
    assert found["with string 6 (low E)"].strings == (5, 6)
    assert [key.name for key in found["with G♭ major"].keys] == ["Eb minor", "Gb major"]
    assert [key.name for key in found["with B♭ minor and G♯ minor"].keys] == ["Eb minor", "Bb minor", "G# minor"]
    assert found["the deck “Inside the two shapes”"] == ON_A


def test_all_ways_together_hold_enough() -> None:
    together = offers(ON_A)["with string 6 (low E), G♭ major, B♭ minor and G♯ minor"]
    assert not is_narrow(TWO_SHAPES, together)


def test_every_offer_holds_more_cards_and_says_how_many() -> None:
    for wide in widenings(TWO_SHAPES, ON_A, shipped_decks(NECK)):
        assert wide.cards == len(wide.deck.focused(wide.focus).entries) > TWO_SHAPES.count(ON_A)


def test_a_focus_that_leaves_nothing_is_offered_what_other_decks_ask() -> None:
    numerals = Focus(keys=(parse_key("Am"),), families=("chord-of-key",))
    assert TWO_SHAPES.count(numerals) == 0
    assert "the deck “Chords of a key”" in offers(numerals)


def test_decks_of_another_instrument_are_not_offered() -> None:
    assert not any("bass" in words for words in offers(ON_A))
