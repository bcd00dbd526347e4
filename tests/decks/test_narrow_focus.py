"""What a focus of few cards is widened to."""

from __future__ import annotations

import pytest

from drill.decks import Focus, is_narrow, load_deck, other_names, shipped_decks, widenings
from drill.decks.widening import ENOUGH
from drill.present.narrow import other_name_sentence
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


def test_a_narrow_focus_is_widened_by_the_other_anchor_the_relative_and_the_neighbours() -> None:
    """G flat major is E flat minor's relative; B flat and A flat minor are a fifth away (circle of fifths)."""
    found = offers(ON_A)["with string 6 (low E), F♯ major, B♭ minor and G♯ minor"]
    assert found.strings == (5, 6)
    assert [key.name for key in found.keys] == ["Eb minor", "Gb major", "Bb minor", "G# minor"]


def test_other_decks_are_offered_where_they_ask_enough() -> None:
    found = offers(Focus(keys=ON_A.keys))
    assert found["the deck “All five shapes”"] == Focus(keys=ON_A.keys)
    assert "the deck “All five shapes”" not in offers(ON_A), "two cards there"


def test_all_ways_together_hold_enough() -> None:
    together = offers(ON_A)["with string 6 (low E), F♯ major, B♭ minor and G♯ minor"]
    assert not is_narrow(TWO_SHAPES, together)


@pytest.mark.parametrize("focus", [ON_A, Focus(keys=ON_A.keys), Focus(strings=(5,), keys=(parse_key("C"),))])
def test_every_offer_holds_enough_for_a_drill_and_says_how_many(focus: Focus) -> None:
    found = widenings(TWO_SHAPES, focus, shipped_decks(NECK))
    assert len(found) >= 2
    for wide in found:
        assert wide.cards == len(wide.deck.focused(wide.focus).entries)
        assert wide.cards >= ENOUGH or wide.words == "the same key on every string"


def test_the_nearest_way_is_the_same_key_on_every_string_however_few_cards_that_is() -> None:
    """Whoever asks for E flat minor on one string may well mean E flat minor; G sharp minor surprises."""
    nearest, *_ = widenings(TWO_SHAPES, ON_A, shipped_decks(NECK))
    assert nearest.words == "the same key on every string"
    assert nearest.focus == Focus(keys=ON_A.keys)
    assert TWO_SHAPES.count(ON_A) < nearest.cards < ENOUGH


def test_every_way_says_in_one_sentence_what_it_adds() -> None:
    """Neighbours on the circle of fifths share six of seven notes, relatives all seven (Piston, Harmony, chapter 5)."""
    added = {wide.words: to_screen(wide.adds) for wide in widenings(TWO_SHAPES, ON_A, shipped_decks(NECK))}
    assert added["the same key on every string"] == "It adds all else that is asked about D♯ minor."
    assert added["every key"] == "It adds the other keys."
    together = next(adds for words, adds in added.items() if words.startswith("with string 6"))
    assert together == (
        "It adds one more string, the relative with the same notes and the keys a fifth away, "
        "which share all notes but one."
    )
    key = ON_A.keys[0]
    for near in (parse_key("Bbm"), parse_key("Abm")):
        assert len({note.pitch_class for note in key.notes} & {note.pitch_class for note in near.notes}) == 6
    assert {note.pitch_class for note in key.notes} == {note.pitch_class for note in key.relative.notes}


@pytest.mark.parametrize(("typed", "asked"), [("Ebm", "D# minor"), ("C#", "Db major"), ("Am", None)])
def test_a_key_that_is_asked_by_its_other_name_is_told(typed: str, asked: str | None) -> None:
    key = parse_key(typed)
    found = other_names(TWO_SHAPES, Focus(keys=(key,)))
    assert {each.name: other.name for each, other in found.items()} == ({key.name: asked} if asked else {})
    assert bool(other_name_sentence(found)) == bool(asked)


def test_a_focus_that_leaves_nothing_is_offered_what_other_decks_ask() -> None:
    numerals = Focus(keys=(parse_key("Am"),), families=("chord-of-key",))
    assert TWO_SHAPES.count(numerals) == 0
    assert "the deck “Chords of a key”" in offers(numerals)


def test_a_string_that_the_deck_does_not_ask_about_is_widened_by_no_other_of_its_strings() -> None:
    """The deck of the two shapes asks about their anchors alone; what is known of the D string, others ask."""
    found = offers(Focus(strings=(4,)))
    assert found
    assert all(words.startswith("the deck") for words in found)
    assert "the deck “The whole neck”" in found
    assert not any(wide.strings for wide in offers(Focus(keys=ON_A.keys)).values()), "no string was named"


def test_decks_of_another_instrument_are_not_offered() -> None:
    assert not any("bass" in words for words in offers(ON_A))
