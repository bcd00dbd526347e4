"""One card's story: why it is or is not asked."""

from __future__ import annotations

import re

import pytest

from drill.errors import UnknownName
from drill.memory import Learner, Planner, fades_at
from drill.memory.planner import REFRESH_BELOW
from drill.progress import Progress
from drill.recall import Recall
from tests.progress.conftest import Unread, beginner


class Empty(Unread):
    """A record with an empty log."""

    def attempts(self, card: str | None = None):  # type: ignore[no-untyped-def]
        return iter(())


def newcomer(learner: Learner | None = None) -> Progress:
    fresh = beginner(learner)
    return Progress.of(Recall(Empty(), fresh.learner, 0), fresh.deck, fresh.settings, fresh.now_s)


def test_the_first_card_is_what_a_drill_would_ask_first() -> None:
    progress = newcomer()
    choice = Planner(Learner(), progress.deck.items, progress.now_s).next(progress.now_s, 300)
    assert choice is not None
    story = progress.story(choice.card)
    assert story.why.startswith("It is what a drill would ask first.")
    assert story.why.endswith(choice.why)
    assert story.known.state == "fresh"
    assert story.history == ()


def test_a_card_waits_for_what_it_builds_on() -> None:
    progress = newcomer()
    story = progress.story("shape-anchor:key=Am:shape=string-6")
    # the index fret of A minor builds on A on the low E string (fret 5) and on the finger of a minor tonic
    assert "tonic-fret:key=Am:string=6" in story.waits_for
    assert "tonic-finger:key=Am:shape=string-6" in story.waits_for
    assert story.why == f"It is not asked yet: {len(story.waits_for)} cards it builds on do not hold yet."
    alone = next(s for s in map(progress.story, progress.deck.entries) if len(s.waits_for) == 1)
    assert alone.why == "It is not asked yet: 1 card it builds on does not hold yet."


def test_new_cards_that_wait_for_nothing_wait_for_their_turn() -> None:
    progress = newcomer()
    cards = [card for card, entry in progress.deck.entries.items() if entry.item.family == "note-at-fret"]
    assert progress.story(cards[-1]).why.endswith("new cards come before it in the deck.")
    assert progress.story(cards[1]).why == "It is not asked yet: 1 new card comes before it in the deck."


def test_a_card_of_another_deck_says_so() -> None:
    story = newcomer().story("note-at-fret:string=1:fret=5")
    assert story.why == "It is not asked: the deck “Two shapes, every key” does not hold it."
    assert story.card.accepts == ("A",)


@pytest.mark.parametrize(
    "card", ["", "nonsense", "note-at-fret", "note-at-fret:string=6", "note-at-fret:fret=3:fret=4"]
)
def test_no_card(card: str) -> None:
    with pytest.raises(UnknownName):
        newcomer().story(card)


def test_a_known_card_tells_its_rank_its_history_and_when_it_fades(progress: Progress) -> None:
    fluent = next(s for s in progress.standings if s.state == "fluent" and s.asked > 3)
    story = progress.story(fluent.card)
    assert [row.card for row in story.history] == [fluent.card] * fluent.asked
    assert story.standing == fluent
    assert story.known.fades_at_s == fades_at(progress.learner, fluent.item, progress.now_s)
    assert story.known.fades_at_s is not None
    assert story.known.fades_at_s > progress.now_s
    assert "in the same time" in story.why or story.why.startswith("It is not due")


def test_a_card_that_fades_is_due_and_one_that_holds_is_not(progress: Progress) -> None:
    below = [s for s in progress.standings if s.met and s.strength < REFRESH_BELOW]
    others = [s for s in progress.standings if s.met and s.strength >= REFRESH_BELOW]
    whys = [progress.story(standing.card).why for standing in below]
    due = [why for why in whys if not why.startswith("It is what a drill would ask first")]
    assert len(due) >= len(below) - 1
    places = [re.search(rf"; (\d+) of {len(below)} cards below {REFRESH_BELOW:.0%} come first", why) for why in due]
    ahead = sorted(int(place[1]) for place in places)  # type: ignore[index]
    assert ahead == sorted(set(ahead)), "each has a rank of its own"
    assert progress.story(others[0].card).why.startswith(f"It is not due: it holds at {others[0].strength:.0%}.")
