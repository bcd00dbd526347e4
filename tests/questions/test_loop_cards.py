"""Loops: where the chords decide, one key; where they do not, both relatives, with the reason."""

from __future__ import annotations

import pytest

from drill.decks import load_deck
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import as_plain
from drill.questions.families.loops import OneLoop
from drill.questions.wording import to_ascii
from drill.theory.chords import parse_chords
from drill.theory.loops import analyse_loop
from drill.theory.neck import STANDARD, Neck
from tests.support.arithmetic import pitch_class, scale, triads
from tests.support.asking import judged

NECK = Neck(STANDARD)


def loop_card(loop: str) -> Card:
    return FAMILIES["loop-tonic"].card(OneLoop(loop), NECK)


@pytest.mark.parametrize(
    ("loop", "keys"),
    [
        # Open Music Theory, pop rock harmony: VI-IV-I-V in C major, or I-VI-III-VII in A minor
        ("Am F C G", {"A minor", "C major"}),
        # common practice, no source: a major dominant names the minor key, ii V I the major one
        ("Am G F E", {"A minor"}),
        ("Dm7 G7 Cmaj7", {"C major"}),
        ("Bm7b5 E7 Am", {"A minor"}),
        ("A D E", {"A major"}),
    ],
)
def test_the_keys_of_a_loop(loop: str, keys: set[str]) -> None:
    assert set(loop_card(loop).accepts) == keys


@pytest.mark.parametrize(("loop", "key"), [("F G Am", "A minor"), ("F G C", "C major")])
def test_the_key_in_which_a_loop_ends_is_the_likelier(loop: str, key: str) -> None:
    """Open Music Theory, pop rock harmony: bVI-bVII-I in minor is IV-V-I of the relative major."""
    card = loop_card(loop)
    assert judged(card, key).right
    assert f"{key} is the likelier" in to_ascii(card.because[-1])


def test_a_card_never_calls_wrong_what_a_look_up_names() -> None:
    for loop in ("D C G", "Am D7", "C A Dm G", "Am F G", "A5"):
        card = loop_card(loop)
        assert all(judged(card, key.name).right for key in analyse_loop(parse_chords(loop)).keys), loop


def test_an_open_loop_says_why_both_are_right() -> None:
    card = loop_card("Em C G D")
    assert judged(card, "Em").right
    assert judged(card, "G").right
    assert [to_ascii(step) for step in card.because][-3:] == [
        "the chords leave it open",
        "where you rest decides: E minor or G major",
        "G major is the likelier",
    ]
    assert {mark.role for mark in card.answer_picture} == {"minor tonic", "major tonic"}


def test_what_is_mixed_up_in_a_loop() -> None:
    card = loop_card("Am G F E")
    assert judged(card, "A").mixup.name == "wrong quality"  # type: ignore[union-attr]
    assert judged(card, "C").mixup.name == "other tonic"  # type: ignore[union-attr]
    assert judged(card, "C").mixup.fact is None  # type: ignore[union-attr]


def test_every_key_of_every_shipped_loop_holds_its_triads() -> None:
    """Counted out: each accepted key has every plain triad of the loop, and keys that share an answer are relatives."""
    for name in ("loops", "one-bar"):
        for card in load_deck(name, NECK).cards():
            if card.family != "loop-tonic":
                continue
            signatures = {frozenset(map(pitch_class, scale(*answer.split()))) for answer in card.accepts}
            assert len(signatures) == 1, card.id
            for answer in card.accepts:
                tonic, mode = answer.split()
                own = triads(tonic + ("m" if mode == "minor" else ""))
                plain = [chord for chord in card.facets.loop.split() if chord.isalpha() or chord[-1] in "#bm"]
                assert all(chord in own for chord in plain), (card.id, answer)


def test_a_loop_is_read_with_bars_and_dashes() -> None:
    entry = load_deck("loops", NECK).entries["loop-tonic:loop=Am-F-C-G"]
    assert as_plain(entry.facets) == {"loop": "Am F C G"}
    assert entry.item.groups == {"key-Am", "key-C"}
