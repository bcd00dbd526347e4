"""How well cards are known, one by one and in groups; what is weakest; what reads no log."""

from __future__ import annotations

import re
from statistics import fmean

import pytest

from drill.decks import Focus
from drill.decks.typed_weak import Weak
from drill.memory import Attempt, Learner, State
from drill.present.figures import per_cent
from drill.progress import GROUPINGS, CardGroup, CardStatus, Grouping, GroupRow, Progress
from drill.progress.named_weakest import weakest_called
from drill.progress.weakest import choose, weakest
from drill.questions.facets import string_of
from drill.theory.keys import parse_key
from drill.theory.neck import Spot
from tests.support.learners import DAY_S, beginner, taught
from tests.support.worlds import MONDAY_MORNING


@pytest.mark.parametrize(
    ("right", "thinking_s", "state"), [(True, 0.9, "fluent"), (True, 20.0, "slow"), (False, 0.9, "fading")]
)
def test_a_card_asked_three_times(right: bool, thinking_s: float, state: str) -> None:
    """Notes at a fret have 1.5 s: 0.9 s is in time, 20 s is not, and wrong answers prove no speed."""
    cards = list(beginner(deck="naturals").deck.entries)
    progress = beginner(taught(beginner(deck="naturals"), dict.fromkeys(cards[:3], right), thinking_s), "naturals")
    status, *_ = progress.statuses
    assert (status.card, status.state, status.seen) == (cards[0], state, True)
    assert (status.asked, status.right) == (3, 3 if right else 0)
    assert (status.first_s, status.last_s) == (MONDAY_MORNING - 3 * DAY_S, MONDAY_MORNING - DAY_S)
    assert (status.strength >= 0.8) == right
    assert (status.speed_s <= 1.5) == (state == "fluent")
    assert 0 <= status.fluent_chance <= status.strength
    assert (progress.whole.seen, getattr(progress.whole, state if right else "never_right")) == (3, 3)
    assert progress.whole.lagging == (0 if state == "fluent" else 3)


def test_a_card_never_asked_has_no_count_and_no_last_time() -> None:
    status, *_ = beginner().statuses
    assert (status.state, status.seen, status.asked, status.right, status.last_s) == ("fresh", False, 0, 0, None)


def card(state: str, strength: float, speed_s: float, fluent_chance: float, target_s: float = 1.5) -> CardStatus:
    entry = next(iter(beginner(deck="naturals").deck.entries.values()))
    entry = entry._replace(item=entry.item._replace(target_s=target_s))
    return CardStatus(entry, State(state), strength, speed_s, fluent_chance, 1, 1, None, None)


def test_means_leave_out_what_was_never_asked() -> None:
    group = CardGroup(
        [
            card("fluent", 0.9, 1.0, 0.8),
            card("slow", 0.8, 3.0, 0.2, target_s=2.5),
            card("fading", 0.4, 2.0, 0.2, target_s=2.0),
            card("fresh", 0.1, 9.0, 0.1, target_s=9.0),
        ]
    )
    assert (group.cards, group.seen, group.fluent, group.slow, group.fading, group.lagging) == (4, 3, 1, 1, 1, 2)
    # (0.9 + 0.8 + 0.4) / 3; (1 + 3 + 2) / 3; (1.5 + 2.5 + 2) / 3; (0.8 + 0.2 + 0.2) / 3
    means = (group.strength, group.speed_s, group.target_s, group.fluent_chance)
    assert means == pytest.approx((0.7, 2.0, 2.0, 0.4))


def test_a_group_never_asked_has_no_means() -> None:
    group = CardGroup([card("fresh", 0.1, 9.0, 0.1)])
    assert (group.cards, group.seen, group.lagging) == (1, 0, 0)
    assert (group.strength, group.speed_s, group.target_s, group.fluent_chance) == (None, None, None, None)


def row(name: str, *statuses: CardStatus) -> GroupRow:
    return GroupRow(name, name, Focus(families=(name,)), statuses)


def test_the_weakest_row_is_the_one_whose_strength_is_the_lowest_shown() -> None:
    good, slow, bad = card("fluent", 0.9, 1.0, 0.8), card("slow", 0.9, 3.0, 0.3), card("fading", 0.2, 2.0, 0.1)
    fresh = card("fresh", 0.1, 9.0, 0.1)
    rows = [
        row("not asked", fresh),
        row("slow", good, slow, slow),
        row("fading", good, good, bad),
    ]
    found = weakest(rows)
    assert found is not None
    # (0.9 + 0.9 + 0.2) / 3 = 0.67 is less than 0.9; that the slow ones come in time less often has no figure beside it
    assert found.name == "fading"
    assert choose(rows, [good]).why == "Its strength is 67%: of the 3 cards asked, 1 is fading."
    once = [*rows, row("asked once", bad, fresh)]
    assert choose(once, [good]).why == "Its strength is 20%: the one card asked is fading."
    fluent = row("fluent", card("fluent", 0.85, 1.0, 0.8))
    assert weakest([fluent, rows[1]]) is fluent
    assert weakest([fluent, rows[0]]) is None
    assert weakest([row("small", good, good, bad), row("large", *[good, good, bad] * 2)]).name == "large"  # type: ignore[union-attr]


def test_without_a_weak_row_the_next_new_card_then_the_faintest_is_drilled() -> None:
    good, fresh = card("fluent", 0.9, 1.0, 0.8), card("fresh", 0.1, 9.0, 0.1)
    reasons = {
        "Nothing you were asked is weak; this comes next in the deck.": [good, fresh],
        "Start here.": [fresh],
        "Every card is fluent; this keeps the weakest of them fluent.": [good, good],
    }
    for why, statuses in reasons.items():
        chosen = choose([], statuses)
        assert (chosen.why, chosen.focus, chosen.label) == (why, Focus(families=("note-at-fret",)), "Note at a fret")


def test_counts_of_the_record_and_of_the_cards_agree(progress: Progress) -> None:
    rows = list(progress.log.attempts())
    for status in progress.statuses:
        own = [row for row in rows if row.card == status.card and row.correct is not None]
        assert status.asked == len(own)
        assert status.right == sum(bool(row.correct) for row in own)


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
        states = [row.cards - row.seen, row.never_right, row.fading, row.slow, row.fluent]
        assert sum(states) == row.cards == len(drilled)


def test_strings_and_families_part_the_deck_into_rows_that_miss_nothing(progress: Progress) -> None:
    assert sum(row.cards for row in progress.table("family")) == progress.whole.cards == len(progress.deck.entries)
    assert [row.name for row in progress.table("string")] == ["6", "5"]
    assert [row.name for row in progress.table("shape")] == ["string-6", "string-5"]
    assert [row.name for row in progress.table("key")][:4] == ["C major", "A minor", "G major", "E minor"]


def test_the_neck_map_shows_every_spot_asked_about_and_only_its_own_cards(progress: Progress) -> None:
    strings = {spot.string for spot in progress.spots}
    assert strings == {5, 6}
    # F and its octave on the low E string: frets 1 and 13 (standard tuning)
    low, high = progress.spots[Spot(6, 1)], progress.spots[Spot(6, 13)]
    assert low.strength == high.strength
    cards = {status.card for status in low.statuses}
    assert "fret-of-note:string=6:note=F" in cards
    assert all(status.seen or len(status.item.facts) == 1 for status in low.statuses)
    assert all("spot:6:1" in status.item.facts for status in low.statuses)
    assert progress.deck.focused(low.focus).entries.keys() >= cards


def test_a_spot_that_only_a_whole_task_asked_for_is_on_the_map() -> None:
    """F minor from the low E string lies at fret 1."""
    progress = beginner(taught(beginner(), {"shape-anchor:key=Fm:shape=string-6": True}))
    assert [spot for spot, row in progress.spots.items() if row.strength is not None] == [Spot(6, 1), Spot(6, 13)]


def test_a_spot_has_no_figure_before_it_is_asked_and_none_to_be_proud_of_before_it_comes_right() -> None:
    """A card that is shown solved proves nothing, and a miss that was corrected a second ago proves little."""
    card, spot = "shape-anchor:key=Fm:shape=string-6", Spot(6, 1)
    entries = beginner().deck.entries
    learner = Learner()
    for right, recall in ((None, None), (False, 0.0)):
        learner.observe(entries[card].item, Attempt(card, MONDAY_MORNING - 10, right, 2.0))
        progress = beginner(learner)
        row = progress.spots[spot]
        assert row.recall == recall
        assert [status.is_touched for status in row.statuses if len(status.item.facts) == 1] == [right is not None]
    learner.observe(entries[card].item, Attempt(card, MONDAY_MORNING - 1, True, 2.0))
    recall_now = beginner(learner).spots[spot].recall
    assert recall_now is not None and recall_now > 0.5


def test_what_home_shows_reads_no_log() -> None:
    fresh = beginner()
    assert fresh.whole.seen == 0
    assert fresh.whole.strength is None
    assert {row.strength for row in fresh.spots.values()} == {None}
    assert {row.strength for kind in GROUPINGS for row in fresh.table(kind)} == {None}
    assert len(fresh.keys) == 24
    assert fresh.forecast == (0,) * 14
    assert fresh.weakest.focus == Focus(families=(next(iter(fresh.deck.entries.values())).item.family,))
    assert fresh.weakest.why == "Start here."


def test_the_weakest_is_the_string_on_which_answers_fail() -> None:
    deck = beginner(deck="naturals").deck
    right = {card: string_of(entry.facets) == 6 for card, entry in deck.entries.items()}
    progress = beginner(taught(beginner(deck="naturals"), right), "naturals")
    assert progress.weakest.focus == Focus(strings=(5,))
    weakest = progress.weakest_of("string")
    assert weakest is not None
    assert weakest.name == "5"
    assert per_cent(weakest.strength) in progress.weakest.why
    assert f"of the {weakest.seen} cards asked, {weakest.seen} are not right yet" in progress.weakest.why


def test_one_key_that_fails_is_found_among_the_others() -> None:
    deck = beginner().deck
    cards = [card for card, entry in deck.entries.items() if hasattr(entry.facets, "key")]
    bad = {"key-Ebm", "key-Bbm"}
    progress = beginner(taught(beginner(), {card: not deck.entries[card].item.groups & bad for card in cards}))
    weakest = progress.weakest_of("key")
    assert weakest is not None
    assert weakest.focus == Focus(keys=(parse_key("Bbm"),))


def test_what_is_weakest_has_the_lowest_figure_that_is_shown_of_it(progress: Progress) -> None:
    for by in ("string", "shape", "family"):
        found = progress.weakest_of(by)
        assert found is not None
        assert found.strength == min(row.strength for row in progress.table(by) if row.strength is not None)
    shown = {row.key.name: row.shown for row in progress.keys if row.shown is not None}
    key, least = progress.weakest_of("key"), progress.least_ready
    assert key is not None and least is not None
    assert shown[key.name] == min(shown.values()) == least.shown
    lowest = min((progress.weakest_of(by) for by in GROUPINGS), key=lambda row: row.strength)
    assert (progress.weakest.label, progress.weakest.focus) == (lowest.label, lowest.focus)


def test_a_key_that_is_weakest_says_how_ready_it_is(progress: Progress) -> None:
    key = progress.weakest_of("key")
    assert key is not None and progress.least_ready is not None
    why = choose([key], progress.statuses, progress.least_ready).why
    assert why.startswith(f"It is {per_cent(progress.least_ready.readiness)} ready: of the {key.seen} cards asked, ")


def test_with_nothing_weak_the_deck_goes_on() -> None:
    deck = beginner(deck="naturals").deck
    some = dict.fromkeys(list(deck.entries)[:5], True)
    progress = beginner(taught(beginner(deck="naturals"), some), "naturals")
    assert progress.weakest_of("string") is None
    assert progress.weakest.why == "Nothing you were asked is weak; this comes next in the deck."


def test_what_is_forecast_to_fade_is_what_holds_now(progress: Progress) -> None:
    holding = progress.whole.slow + progress.whole.fluent
    assert 0 < sum(progress.forecast) <= holding


@pytest.mark.parametrize("by", GROUPINGS)
def test_the_weakest_of_a_kind_is_named_with_its_reason(by: Grouping, progress: Progress) -> None:
    row, named = progress.weakest_of(by), weakest_called(progress, by)
    assert row is not None and named is not None
    assert (named.focus, named.label) == (row.focus, row.label)
    assert f"of the {row.seen} cards asked" in named.why


def test_what_is_slow_is_where_the_largest_part_is_known_but_slow() -> None:
    """All that was asked of string 5 takes 20 s; what was asked of string 6 was wrong, which proves no speed."""
    fresh = beginner(deck="naturals")
    right = {card: string_of(entry.facets) == 5 for card, entry in fresh.deck.entries.items()}
    found = weakest_called(beginner(taught(fresh, right, 20.0), "naturals"), "slow")
    assert found is not None
    assert found.focus == Focus(strings=(5,))
    assert re.fullmatch(r"Of the (\d+) cards asked, \1 are known but slow\.", found.why)


def test_what_is_mixed_up_is_drilled_where_it_happens_most(progress: Progress) -> None:
    found, row = weakest_called(progress, "mixups"), next(row for row in progress.mixups if row.focus)
    assert found is not None
    assert found.focus == row.focus
    assert row.sentence in found.why


@pytest.mark.parametrize("weak", ["string", "slow"])
def test_nothing_is_weak_for_a_beginner(weak: Weak) -> None:
    assert weakest_called(beginner(), weak) is None
