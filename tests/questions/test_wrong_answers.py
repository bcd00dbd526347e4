"""What a wrong answer is taken for. Each is worked by hand: which slip of the hand or of thought leads to it."""

from __future__ import annotations

import pytest

from drill.decks import entry_of
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.scope import Scope
from drill.questions.wording import shape_label, to_screen
from drill.system.tunings import find_tuning
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck
from drill.theory.shapes import find_shape

NECK = Neck(STANDARD, frets=15)


def card_of(card_id: str, neck: Neck = NECK) -> Card:
    entry, _ = entry_of(card_id)
    return FAMILIES[entry.item.family].card(entry.facets, neck)


@pytest.mark.parametrize(
    ("card_id", "given", "name"),
    [
        # string 6 is E, string 5 is A: A minor's tonic is at fret 5, C's at fret 8, under the little finger
        ("shape-anchor:key=C:shape=string-6", "8", "wrong finger"),
        # A minor, from the shape at fret 5 of string 6 to the one at fret 12 of string 5; fret 15 is three higher
        ("next-shape:key=Am:shape=string-6", "15", "wrong finger"),
        # at fret 5 the strings sound, from the highest: A E C G D A
        ("note-at-fret:string=2:fret=5", "A", "other string"),
        ("note-at-fret:string=2:fret=5", "C", "other string"),
        ("note-at-fret:string=6:fret=5", "D", "other string"),
        # C minor has three flats, A major three sharps
        ("signature:key=C", "3 flats", "parallel for relative"),
        ("signature:key=Am", "3 sharps", "parallel for relative"),
        # A minor at fret 5: the index holds, from string 6 on, A D G C E A, which are 1 4 b7 b3 5 1
        ("degree-at:shape=string-6:string=6:finger=1:mode=minor", "4", "other string"),
        ("degree-at:shape=string-6:string=2:finger=1:mode=minor", "b3", "other string"),
    ],
)
def test_a_wrong_answer_is_known_by_what_led_to_it(card_id: str, given: str, name: str) -> None:
    mixup = card_of(card_id).judge(given).mixup
    assert mixup is not None
    assert mixup.name == name


def test_the_key_of_one_flat_is_known_by_heart() -> None:
    """The rule of the last flat but one needs two flats."""
    for card_id in ("signature:key=F", "signature-key:signature=1-flat:mode=major"):
        assert any("by heart" in step for step in card_of(card_id).because)


def test_a_card_that_asks_nothing_of_the_neck_is_one_card_on_every_instrument() -> None:
    """What it asks is as true of a bass: an answer on either counts for both."""
    bass = Neck(find_tuning("bass"))
    about_names = {
        "letter-skip", "relative-minor", "relative-major", "signature", "signature-key", "chord-of-key",
        "numeral-of-chord", "loop-tonic",
    }  # fmt: skip
    for name, family in FAMILIES.items():
        scope = Scope(bass, bass.tuning.anchor_strings, shapes=("1",), loops=("Am F",), keys=(parse_key("A"),))
        ids = [family.card_id(facets, bass) for facets in family.spread(scope)]
        assert {":tuning=bass" in card_id for card_id in ids} <= {name not in about_names}, name


def test_the_number_of_a_shape_is_shown_only_to_who_wants_it() -> None:
    shape = find_shape(parse_key("Am"), STANDARD, "string-6")
    sentence = shape_label(shape, STANDARD)
    assert "1" not in to_screen(sentence)
    assert "1" in to_screen(sentence, shape_numbers=True)
