"""What a wrong answer is taken for. Each is worked by hand: which slip of the hand or of thought leads to it."""

from __future__ import annotations

import pytest

from drill.decks import entry_of
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.scope import Scope
from drill.questions.wording import shape_label, to_ascii, to_screen
from drill.system.tunings import find_tuning
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD, Neck
from drill.theory.shapes import ShapeId, find_shape
from tests.support.asking import judged

NECK = Neck(STANDARD, frets=15)


def card_of(card_id: str, neck: Neck = NECK) -> Card:
    entry, _ = entry_of(card_id)
    return FAMILIES[entry.item.family].card(entry.facets, neck)


SLIPS: dict[str, dict[str, str]] = {
    # string 6 is E, string 5 is A; at fret 8 they sound C and F
    "note-at-fret:string=6:fret=8": {
        "B#": "right sound, wrong name", "F": "other string", "B": "one fret off", "C#": "one fret off",
    },
    # at fret 5 the strings sound, from the highest: A E C G D A
    "note-at-fret:string=2:fret=5": {"A": "other string", "C": "other string"},
    # F# lies at fret 2, on string 5 at fret 9; F flat, which is E, is the open string
    "fret-of-note:string=6:note=F#": {"9": "other string", "3": "one fret off", "0": "sharp for flat"},
    # A at fret 7 of string 4, an octave higher at fret 10 of string 2: three frets up, not down
    "tonic-octave:string=4:fret=7": {"4": "wrong way", "11": "one fret off"},
    "letter-skip:note=D:interval=third-up": {"B": "wrong way", "E": "one letter off", "G": "one letter off"},
    "relative-minor:key=C": {
        "C minor": "parallel for relative", "Eb minor": "wrong way", "G## minor": "right sound, wrong name",
        "A major": "mode not changed",
    },
    "relative-major:key=Am": {
        "A major": "parallel for relative", "F# major": "wrong way", "B# major": "right sound, wrong name",
        "C minor": "mode not changed",
    },
    # A minor at fret 5: the index holds, from string 6 on, A D G C E A, which are 1 4 b7 b3 5 1
    "tonic-finger:key=Am:shape=string-6": {"4": "wrong finger"},
    "tonic-fret:key=Am:string=6": {"8": "other tonic", "0": "other string", "4": "one fret off"},
    "tonic-fret:key=F#m:string=6": {"0": "sharp for flat"},
    # fret 2 is F#, the relative minor of A major
    "shape-anchor:key=Am:shape=string-6": {
        "8": "wrong finger", "0": "other string", "6": "one fret off", "2": "other mode",
    },
    "shape-anchor:key=Am:shape=string-5": {"0": "right note, wrong octave", "5": "other string"},
    "shape-anchor:key=C:shape=string-6": {"8": "wrong finger", "11": "wrong way"},
    "shape-anchor:key=F#m:shape=string-6": {"0": "sharp for flat"},
    "other-tonic:key=Am:shape=string-6": {"2": "wrong way", "7": "one fret off"},
    # seven frets up from fret 5 to fret 12; five would lead from the A-string shape to the next of string 6
    "next-shape:key=Am:shape=string-6": {
        "0": "wrong way", "10": "other shape", "15": "wrong finger", "11": "one fret off",
    },
    "degree-at:shape=string-6:string=6:finger=1:mode=minor": {
        "6": "other tonic", "4": "other string", "b3": "wrong finger",
    },
    "degree-at:shape=string-6:string=2:finger=1:mode=minor": {"b3": "other string"},
    "finger-key:shape=string-6:finger=1:fret=5:mode=minor": {"C major": "mode not changed", "D minor": "other string"},
    "neck-diagram:shape=string-6:fret=5:mode=minor": {
        "C minor": "other tonic", "C major": "mode not changed", "D minor": "other shape",
        "G## minor": "right sound, wrong name",
    },
    # C minor has three flats, A major three sharps
    "signature:key=C": {"3 flats": "parallel for relative", "1 flat": "one sign off", "1 sharp": "one sign off"},
    "signature:key=Am": {"3 sharps": "parallel for relative"},
    "signature:key=D": {"2 flats": "sharp for flat", "1 sharp": "one sign off", "3 sharps": "one sign off"},
    "signature-key:signature=1-sharp:mode=major": {
        "E minor": "mode not changed", "E major": "parallel for relative", "F## major": "right sound, wrong name",
        "D major": "one sign off", "C major": "one sign off", "F major": "sharp for flat",
    },
    # E minor is iii of C, and E flat is III of C minor; the first degree of the relative is A minor
    "chord-of-key:key=C:numeral=iii": {
        "E": "wrong quality", "D##m": "right sound, wrong name", "Eb": "parallel for relative", "F": "next degree",
        "Dm": "next degree",
    },
    "chord-of-key:key=C:numeral=I": {"Am": "other tonic", "Cm": "wrong quality"},
    "numeral-of-chord:key=C:chord=C": {"i": "wrong quality", "III": "other tonic", "ii": "next degree"},
    # string 5 has D at fret 5 and E at fret 7, of which A minor holds the E
    "chord-tone:key=Am:shape=string-6:chord=Am:string=5": {"1": "not a chord tone"},
    "ear-tonic:note=A:mode=minor": {"major": "other tonic"},
    "loop-tonic:loop=C-F-G": {"C minor": "wrong quality", "A minor": "other tonic"},
}  # fmt: skip


@pytest.mark.long(but=21)
@pytest.mark.parametrize(("card_id", "given"), [(card, given) for card, slips in SLIPS.items() for given in slips])
def test_a_wrong_answer_is_known_by_what_led_to_it(card_id: str, given: str) -> None:
    mixup = judged(card_of(card_id), given).mixup
    assert mixup is not None
    assert mixup.name == SLIPS[card_id][given]


@pytest.mark.parametrize(
    ("signature", "given", "reason"),
    [
        ("1-sharp", "F## major", "no signature can write"),  # it would take thirteen sharps
        ("5-flats", "C# major", "has 5 flats"),  # seven sharps
    ],
)
def test_a_wrong_name_of_the_right_key_is_ruled_out_by_its_signature(signature: str, given: str, reason: str) -> None:
    mixup = judged(card_of(f"signature-key:signature={signature}:mode=major"), given).mixup
    assert mixup is not None
    assert reason in to_ascii(mixup.sentence)


def test_the_key_of_one_flat_is_known_by_heart() -> None:
    """The rule of the last flat but one needs two flats."""
    for card_id in ("signature:key=F", "signature-key:signature=1-flat:mode=major"):
        assert any("by heart" in step for step in card_of(card_id).because)


def test_a_card_that_asks_nothing_of_the_neck_is_one_card_on_every_instrument() -> None:
    """What it asks is as true of a bass: an answer on either counts for both."""
    bass = Neck(find_tuning("bass"))
    about_names = {
        "letter-skip", "relative-minor", "relative-major", "signature", "signature-key", "chord-of-key",
        "numeral-of-chord", "loop-tonic", "ear-tonic",
    }  # fmt: skip
    for name, family in FAMILIES.items():
        scope = Scope(bass, bass.tuning.anchor_strings, shapes=(ShapeId("1"),), loops=("Am F",), keys=(parse_key("A"),))
        ids = [family.card_id(facets, bass) for facets in family.spread(scope)]
        assert {":tuning=bass" in card_id for card_id in ids} <= {name not in about_names}, name


def test_the_number_of_a_shape_is_shown_only_to_who_wants_it() -> None:
    shape = find_shape(parse_key("Am"), STANDARD, "string-6")
    sentence = shape_label(shape, STANDARD)
    assert "1" not in to_screen(sentence)
    assert "1" in to_screen(sentence, shape_numbers=True)


def test_who_lowered_a_sharp_is_told_so_by_the_natural() -> None:
    """F flat, which is E, is the open string 6: a name that no beginner has met."""
    mixup = judged(card_of("fret-of-note:string=6:note=F#"), "0").mixup
    assert mixup is not None
    assert to_ascii(mixup.sentence) == "Fret 0 is 1 fret below F: a flat lowers, a sharp raises."


def test_slips_of_every_family_are_known() -> None:
    assert {card_id.partition(":")[0] for card_id in SLIPS} == set(FAMILIES)
