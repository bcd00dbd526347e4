"""Where cards stand, one by one and gathered; what is weakest; what it costs to ask."""

from __future__ import annotations

from statistics import fmean

import pytest

from drill.decks import Focus
from drill.memory import Attempt, Learner, explain
from drill.present.figures import per_cent
from drill.progress import GROUPINGS, Grouping, Progress
from drill.theory.keys import parse_key
from drill.theory.neck import Spot
from tests.conftest import MONDAY_MORNING
from tests.progress.conftest import beginner

DAY_S = 86_400


def taught(progress: Progress, right: dict[str, bool]) -> Learner:
    """A learner asked these cards three days running, always right or always wrong."""
    learner = Learner()
    for day in (3, 2, 1):
        for number, (card, outcome) in enumerate(right.items()):
            at_s = MONDAY_MORNING - day * DAY_S + 10 * number
            learner.observe(progress.deck.entries[card].item, Attempt(card, at_s, outcome, 0.9))
    return learner


def test_a_card_stands_where_the_memory_says(progress: Progress) -> None:
    for status in progress.statuses:
        known = explain(progress.learner, status.item, progress.now_s)
        assert (status.state, status.strength, status.speed_s, status.fluent_chance) == (
            known.state,
            known.strength,
            known.speed_s,
            known.fluent_chance,
        )
        assert (status.asked, status.right, status.last_s) == (known.asked, known.right, known.last_s)


def test_counts_of_the_record_and_of_the_cards_agree(progress: Progress) -> None:
    rows = list(progress.log.attempts())
    for status in progress.statuses:
        own = [row for row in rows if row.card == status.card]
        assert status.asked == len(own)
        assert status.right == sum(bool(row.right) for row in own)


def test_a_shape_named_in_two_ways_is_one_row() -> None:
    five_shapes = beginner(deck="five-shapes")
    labels = [row.label for row in five_shapes.table("shape")]
    assert len(labels) == len(set(labels)) == 5
    for row in five_shapes.table("shape"):
        assert {s.card for s in row.statuses} == set(five_shapes.deck.focused(row.focus).entries)


@pytest.mark.parametrize("kind", GROUPINGS)
def test_a_row_is_the_mean_of_the_cards_its_focus_drills(progress: Progress, kind: Grouping) -> None:
    for row in progress.table(kind):
        drilled = set(progress.deck.focused(row.focus).entries)
        assert {status.card for status in row.statuses} == drilled
        met = [s for s in progress.statuses if s.card in drilled and s.asked]
        assert row.seen == len(met)
        assert row.strength == (fmean(s.strength for s in met) if met else None)
        assert row.speed_s == (fmean(s.speed_s for s in met) if met else None)
        states = [row.cards - row.seen, row.fading, row.slow, row.fluent]
        assert sum(states) == row.cards == len(drilled)


def test_strings_and_families_part_the_deck_into_rows_that_miss_nothing(progress: Progress) -> None:
    assert sum(row.cards for row in progress.table("family")) == progress.whole.cards == len(progress.deck.entries)
    assert [row.name for row in progress.table("string")] == ["6", "5"]
    assert [row.name for row in progress.table("shape")] == ["string-6", "string-5"]
    assert [row.name for row in progress.table("key")][:4] == ["C major", "A minor", "G major", "E minor"]


def test_the_neck_map_shows_every_spot_asked_about_and_only_its_own_cards(progress: Progress) -> None:
    strings = {spot.string for spot in progress.spots}
    assert strings == {5, 6}
    assert len(progress.spots) == 2 * (progress.deck.neck.last_fret + 1)
    # F and its octave on the low E string: frets 1 and 13 (standard tuning)
    low, high = progress.spots[Spot(6, 1)], progress.spots[Spot(6, 13)]
    assert low.strength == high.strength
    cards = {status.card for status in low.statuses}
    assert {"note-at-fret:string=6:fret=1", "fret-of-note:string=6:note=F"} <= cards
    assert progress.deck.focused(low.focus).entries.keys() >= cards


def test_what_home_shows_reads_no_log() -> None:
    fresh = beginner()
    assert fresh.whole.seen == 0
    assert fresh.whole.strength is None
    assert fresh.spots[Spot(6, 3)].strength is None
    assert {row.strength for kind in GROUPINGS for row in fresh.table(kind)} == {None}
    assert len(fresh.keys) == 24
    assert fresh.forecast == (0,) * 14
    assert fresh.weakest.focus == Focus(families=("note-at-fret",))
    assert fresh.weakest.why == "Start here."


def test_the_weakest_is_the_string_on_which_answers_fail() -> None:
    deck = beginner(deck="naturals").deck
    right = {card: entry.facets["string"] == 6 for card, entry in deck.entries.items()}
    progress = beginner(taught(beginner(deck="naturals"), right), "naturals")
    assert progress.weakest.focus == Focus(strings=(5,))
    weakest = progress.weakest_of("string")
    assert weakest is not None
    assert weakest.name == "5"
    assert per_cent(weakest.fluent_chance) in progress.weakest.why
    assert f"Of {weakest.seen} cards seen, {weakest.seen} fading" in progress.weakest.why


def test_one_key_that_fails_is_found_among_the_others() -> None:
    deck = beginner().deck
    cards = [card for card, entry in deck.entries.items() if "key" in entry.facets]
    bad = {"key-Ebm", "key-Bbm"}
    progress = beginner(taught(beginner(), {card: not deck.entries[card].item.groups & bad for card in cards}))
    weakest = progress.weakest_of("key")
    assert weakest is not None
    assert weakest.focus == Focus(keys=(parse_key("Bbm"),))


def test_with_nothing_weak_the_deck_goes_on() -> None:
    deck = beginner(deck="naturals").deck
    some = dict.fromkeys(list(deck.entries)[:5], True)
    progress = beginner(taught(beginner(deck="naturals"), some), "naturals")
    assert progress.weakest_of("string") is None
    assert progress.weakest.why == "Nothing you have seen is weak; this comes next in the deck."


def test_what_is_forecast_to_fade_is_what_holds_now(progress: Progress) -> None:
    holding = progress.whole.slow + progress.whole.fluent
    assert 0 < sum(progress.forecast) <= holding
