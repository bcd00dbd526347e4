"""Mix-ups over all cards: the plausible confusions are named, and every sentence is true."""

from __future__ import annotations

import re
from functools import cache

import pytest

from drill.decks import entry_of
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.mixups.mixup import MOST_NAMED, Mixup, worth_telling
from drill.questions.wording import to_ascii
from drill.system.tunings import find_tuning
from drill.theory.neck import STANDARD, Neck
from tests.questions.confusions import CONFUSIONS
from tests.questions.mixup_truth import CHECKS, untruths, wrong_ones
from tests.questions.planted import Named, every_card
from tests.support.asking import judged

OVERALL, IN_EVERY_FAMILY = 0.9, 0.8
OTHER_NECKS = [("half-step-down", 22, 3), ("dadgad", 12, 0), ("seven-string", 24, 0), ("ukulele", 12, 2)]


@cache
def cards_of(family: str) -> tuple[Card, ...]:
    return tuple(card for card in every_card(Neck(STANDARD)) if card.family == family)


def card_of(card_id: str) -> Card:
    entry, neck = entry_of(card_id)
    return FAMILIES[entry.item.family].card(entry.facets, neck)


def false_in(card: Card, mixups: tuple[Mixup, ...]) -> list[str]:
    return [line for mixup in mixups for line in untruths(card, mixup.answer, mixup)]


def test_every_family_has_its_confusions() -> None:
    assert CONFUSIONS.keys() == FAMILIES.keys()


@pytest.mark.long
def test_nine_in_ten_of_the_plausible_confusions_are_named() -> None:
    assert Named.of(every_card(Neck(STANDARD))[::4]).share() >= OVERALL


@pytest.mark.long(but=1)
@pytest.mark.parametrize("family", FAMILIES)
def test_four_in_five_are_named_in_every_family(family: str) -> None:
    assert Named.of(cards_of(family)).share(family) >= IN_EVERY_FAMILY


@pytest.mark.long(but=2)
@pytest.mark.parametrize("family", FAMILIES)
def test_every_mixup_is_true(family: str) -> None:
    false = [line for card in cards_of(family) for line in false_in(card, card.mixups)]
    assert not false, (len(false), false[:3])


@pytest.mark.long(but=2)
@pytest.mark.parametrize("family", FAMILIES)
def test_every_wrong_answer_is_explained_truly_or_not_at_all(family: str) -> None:
    """Answers that sound like a mix-up by another name among them; `tests/benchmarks/mixups.py` looks at every card."""
    false, told = [], 0
    for card in cards_of(family)[:: max(1, len(cards_of(family)) // 12)]:
        for given in wrong_ones(card):
            mixups = judged(card, given).mixups
            told += bool(mixups)
            assert len({mixup.name for mixup in mixups}) == len(mixups) <= MOST_NAMED
            assert all(mixup.answer == given for mixup in mixups)
            false += false_in(card, mixups)
    assert told
    assert not false, (len(false), false[:3])


@pytest.mark.parametrize(("tuning", "frets", "capo"), OTHER_NECKS)
def test_every_mixup_is_true_on_other_necks(tuning: str, frets: int, capo: int) -> None:
    cards = [card for card in every_card(Neck(find_tuning(tuning), frets, capo)) if card.name.tuning == tuning]
    false = [line for card in cards[::3] for line in false_in(card, card.mixups)]
    assert cards
    assert not false, (len(false), false[:3])


def test_every_sort_of_claim_is_made_and_verified() -> None:
    made = {type(claim) for family in FAMILIES for card in cards_of(family) for m in card.mixups for claim in m.claims}
    capo = card_of("fret-of-note:string=6:note=A:capo=2")
    made |= {type(claim) for mixup in capo.mixups for claim in mixup.claims}
    assert made == CHECKS.keys()


TOLD = {
    # A minor is under the index at fret 5, F# minor has its A under the little finger there
    ("finger-key:shape=string-6:finger=1:fret=5:mode=minor", "F#m"):
        "F# minor is right with the little finger on A; the index finger holds the minor tonic.",
    ("finger-key:shape=string-6:finger=1:fret=5:mode=minor", "Cm"): "C is the tonic of the relative major.",
    ("shape-anchor:key=C:shape=string-6", "11"):
        "Fret 11 sounds Eb: Eb lies three frets above C, and the relative minor lies below.",
    ("tonic-finger:key=Am:shape=string-6", "2"): "The middle finger has no note of this shape on string 6 (low E).",
    ("relative-minor:key=E", "Cm"): "C leaves out the sharp of C#.",
    ("other-tonic:key=Am:shape=string-6", "5"): "Fret 5 is where the question starts.",
    ("next-shape:key=Am:shape=3", "10"): "Fret 10 is where the question starts.",
    ("signature-key:signature=3-sharps:mode=major", "G#"): "G# is the last sharp of A major, not its tonic.",
    ("relative-minor:key=A", "Gbm"): "Gb sounds the same as F#, but F is a third below A.",
    # D flat minor is C sharp minor by another name, one sign from F sharp minor
    ("relative-minor:key=A", "Dbm"):
        "Db sounds the same as C#: C# minor has 4 sharps; F# minor has 3 sharps.",
}  # fmt: skip


@pytest.mark.parametrize(("card_id", "given"), TOLD)
def test_a_sentence_says_what_was_confused(card_id: str, given: str) -> None:
    mixup = judged(card_of(card_id), given).mixup
    assert mixup is not None
    assert to_ascii(mixup.sentence) == TOLD[card_id, given]


PLAINLY_TOLD = {
    # the low E string has F flat at 12, where F itself would lie at 13
    ("fret-of-note:string=6:note=F#", "12"): "Fret 12 is 1 fret below F: a flat lowers, a sharp raises.",
    ("fret-of-note:string=6:note=D#", "1"): "Fret 1 is 1 fret above E, and E is the letter above D.",
    ("shape-anchor:key=Em:shape=string-6", "1"): "Fret 1 is 1 fret above E, which has no sharp or flat here.",
    ("numeral-of-chord:key=Am:chord=Bdim", "#ii"): "#ii adds a sharp to iio.",
}


@pytest.mark.parametrize(("card_id", "given"), PLAINLY_TOLD)
def test_a_rare_name_is_described_and_not_said(card_id: str, given: str) -> None:
    assert PLAINLY_TOLD[card_id, given] in {
        to_ascii(mixup.sentence) for mixup in judged(card_of(card_id), given).mixups
    }


ABOUT_FRETS_AND_NOTES = (
    "fret-of-note", "note-at-fret", "tonic-fret", "tonic-octave", "other-tonic", "next-shape", "finger-key",
    "neck-diagram",
)  # fmt: skip


@pytest.mark.long(but=2)
@pytest.mark.parametrize("family", ABOUT_FRETS_AND_NOTES)
def test_no_sentence_names_a_note_that_a_beginner_never_met(family: str) -> None:
    """The everyday names are the seven naturals and the five black keys of a piano as a sharp and as a flat."""
    everyday, signed_name = {"C#", "D#", "F#", "G#", "A#", "Db", "Eb", "Gb", "Ab", "Bb"}, re.compile(r"\b[A-G][b#]+")
    strange = []
    for card in cards_of(family)[::5]:
        own = everyday.union(signed_name.findall(to_ascii(" ".join((card.prompt, *card.because)))))
        for given in wrong_ones(card):
            for mixup in worth_telling(judged(card, given).mixups):
                names = set(signed_name.findall(to_ascii(mixup.sentence))) - {given.split()[0]}
                strange += [(card.id, given, to_ascii(mixup.sentence))] * bool(names - own)
    assert strange == []


def test_two_confusions_that_lead_to_one_answer_are_both_named() -> None:
    """F for F sharp leaves out its sharp; it lies one fret beside it as well."""
    judgement = judged(card_of("tonic-fret:key=F#m:string=6"), "1")
    assert [mixup.name for mixup in judgement.mixups] == ["sign left out", "one fret off"]
    assert judgement.mixup == judgement.mixups[0]


@pytest.mark.long(but=20)
@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("given", ["", "é!\u2028", "x" * 500, "-1", "99"])
def test_what_is_no_answer_at_all_has_no_mixup(family: str, given: str) -> None:
    """Merged logs hold such; reading them must not fail."""
    assert cards_of(family)[0].mixups_behind(given) == ()


def test_an_answer_that_nothing_explains_stays_unnamed() -> None:
    """E lies two letters and four half steps from C, and E minor four signs from C minor."""
    assert judged(card_of("relative-minor:key=Eb"), "Em").mixups == ()
    assert judged(card_of("letter-skip:note=C:interval=third-up"), "B").mixups == ()


def test_a_sign_too_many_is_not_told_beside_one_fret_off() -> None:
    """On E minor's A-string shape fret 8 is one too high: E sharp is the same slip in a rare name."""
    mixups = judged(card_of("shape-anchor:key=Em:shape=string-5"), "8").mixups
    assert [mixup.name for mixup in mixups] == ["one fret off", "sign added"]
    assert worth_telling(mixups, {"sign added"}) == mixups[:1]
