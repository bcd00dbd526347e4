"""What was learnt with another tuning or capo is kept, and Set-up and Home say so."""

from __future__ import annotations

import pytest

from drill.decks import load_deck
from drill.progress.asked_cards import card_as_asked, entry_in
from drill.progress.other_necks import kept_elsewhere
from drill.settings import Settings
from drill.system.tunings import find_tuning
from drill.theory.neck import STANDARD, Neck

SHAPE = "shape-anchor:key=F#m:shape=string-5"


@pytest.mark.parametrize(
    ("cards", "neck", "sentence"),
    [
        ([SHAPE], Neck(STANDARD, capo=2), "What you know without a capo is kept: set it so again, and it is back."),
        ([f"{SHAPE}:capo=2"], Neck(STANDARD), "What you know with a capo at fret 2 is kept: set it so again,"),
        (
            [SHAPE],
            Neck(find_tuning("drop-d")),
            "What you know on “Guitar, standard tuning” is kept: set it so again, and it is back.",
        ),
        # the neck on which most was learnt is named
        ([f"{SHAPE}:capo=1", SHAPE, "tonic-fret:key=Am:string=6"], Neck(STANDARD, capo=3), "What you know without"),
    ],
)
def test_the_neck_on_which_most_was_learnt_is_named(cards: list[str], neck: Neck, sentence: str) -> None:
    assert kept_elsewhere(cards, neck).startswith(sentence)


@pytest.mark.parametrize(
    ("cards", "neck"),
    [
        ([], Neck(STANDARD, capo=2)),
        ([SHAPE], Neck(STANDARD)),
        ([SHAPE, f"{SHAPE}:capo=2"], Neck(STANDARD, capo=2)),
        # relatives are the same on every neck
        (["relative-minor:key=C"], Neck(STANDARD, capo=2)),
        # a longer neck has the same cards
        ([SHAPE], Settings(frets=22).neck),
        (["a family that is gone:key=C"], Neck(STANDARD, capo=2)),
    ],
)
def test_nothing_is_said_where_nothing_seems_lost(cards: list[str], neck: Neck) -> None:
    assert kept_elsewhere(cards, neck) == ""


@pytest.mark.parametrize(("fret", "frets"), [(3, 15), (20, 24)])
def test_a_card_of_another_deck_is_shown_on_the_learners_neck_where_it_has_room(fret: int, frets: int) -> None:
    deck = load_deck("two-shapes", Neck(STANDARD, frets=15))
    entry = entry_in(deck, f"note-at-fret:string=6:fret={fret}")
    assert card_as_asked(entry, deck).neck.frets == frets
