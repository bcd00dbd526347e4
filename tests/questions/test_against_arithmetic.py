"""Every card of every shipped deck, against answers counted out from open strings (see tests/support/arithmetic.py)."""

from __future__ import annotations

import pytest

from drill.decks import Deck, shipped_decks
from drill.questions.catalogue import FAMILIES
from drill.system import resources
from drill.system.tunings import find_tuning
from drill.theory.neck import STANDARD, Neck
from tests.support.arithmetic import OPEN_STRINGS, SOLVERS, instrument, solve

NECKS = [
    ("standard", 15, 0), ("standard", 24, 3), ("half-step-down", 12, 0), ("drop-d", 13, 0), ("dadgad", 15, 2),
    ("open-g", 12, 0), ("seven-string", 24, 0), ("bass", 20, 0), ("bass-five-string", 24, 1), ("ukulele", 12, 0),
    ("ukulele-low-g", 15, 0), ("standard", 12, 11),
]  # fmt: skip
ANSWERED_BY_EAR = {"loop-tonic", "ear-tonic"}
"""Which key a loop is in is no arithmetic; see test_loops.py. What is heard is worked out in test_ear_cards.py."""


@pytest.mark.parametrize("tuning", OPEN_STRINGS)
def test_the_open_strings_are_those_of_the_table(tuning: str) -> None:
    neck = Neck(find_tuning(tuning))
    assert OPEN_STRINGS[tuning] == tuple(pitch.midi for pitch in neck.tuning.open_strings)


def test_arithmetic_answers_every_family_but_those_for_the_ear() -> None:
    assert SOLVERS.keys() | ANSWERED_BY_EAR == FAMILIES.keys()


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("tuning", "frets", "capo"), NECKS)
def test_every_card_accepts_what_arithmetic_finds(tuning: str, frets: int, capo: int) -> None:
    neck = Neck(find_tuning(tuning), frets, capo)
    decks = shipped_decks(neck)
    assert len(decks) == len(resources.deck_files())
    wrong = [line for deck in decks for line in _differing(deck, neck)]
    assert not wrong, wrong[:5]


def _differing(deck: Deck, neck: Neck) -> list[str]:
    """Cards that are not about the neck are the same on all: they are counted out on the first."""
    asked = [
        card_id
        for card_id, entry in deck.entries.items()
        if entry.item.family not in ANSWERED_BY_EAR
        and (FAMILIES[entry.item.family].about_the_neck or neck == Neck(STANDARD))
    ]
    answers = {card_id: set(deck.card(card_id).accepts) for card_id in asked}
    counted = {card_id: solve(card_id, deck.neck.frets) for card_id in answers}
    return [f"{card}: {answers[card]}, counted {counted[card]}" for card in answers if answers[card] != counted[card]]


def test_a_capo_counts_as_a_higher_open_string() -> None:
    assert instrument("standard", 15, 2).opens[5] == 42
    assert solve("note-at-fret:string=6:fret=1:capo=2", 15) == {"G"}
