"""Growth against oneself: cards in time now and a week ago."""

from __future__ import annotations

import pytest

from drill.practice.growth import growth
from drill.practice.learner_store import LearnerStore
from drill.present.summaries import Growth, growth_sentence
from drill.record import Record
from drill.theory.neck import STANDARD, Neck
from tests.support.records import attempt, drill
from tests.support.worlds import HandClock

GUITAR = Neck(STANDARD)
DAY_MS = 86_400_000


@pytest.fixture
def store(record: Record, clock: HandClock) -> LearnerStore:
    """Ten days ago two cards came in time and one too late; since then one was lost, two were won."""
    now_ms = round(1000 * clock.now())
    record.start_drill(drill())
    answers = [
        # card, days ago, right, thinking in ms, target in ms
        ("note-at-fret:string=6:fret=1", 10, True, 1400, 1500),
        ("note-at-fret:string=6:fret=3", 10, True, 1500, 1500),
        ("note-at-fret:string=6:fret=5", 10, True, 4000, 1500),
        ("note-at-fret:string=6:fret=3", 2, False, 900, 1500),
        ("note-at-fret:string=6:fret=5", 2, True, 2000, 3000),
        ("note-at-fret:string=6:fret=7", 1, True, 1000, 1500),
        ("note-at-fret:string=6:fret=8", 1, True, None, 1500),
    ]
    for number, (card, days, right, thinking_ms, target_ms) in enumerate(answers):
        at = now_ms - days * DAY_MS + 1000 * number
        row = attempt(number, card=card, correct=right, thinking_ms=thinking_ms, target_ms=target_ms)
        record.append(row._replace(asked_at=at, answered_at=at + 2000))
    return LearnerStore.of(record)


def test_a_card_is_in_time_by_its_newest_answer_and_by_the_target_it_was_asked_with(
    store: LearnerStore, clock: HandClock
) -> None:
    assert growth(store, GUITAR, clock.now()) == Growth(in_time=3, week_ago=2, right=4)


def test_cards_of_another_neck_are_not_counted(store: LearnerStore, clock: HandClock) -> None:
    assert growth(store, Neck(STANDARD, capo=2), clock.now()) == Growth(0, None)
    relative = attempt(
        99, card="relative-minor:key=C", family="relative-minor", correct=True, thinking_ms=900, target_ms=1500
    )
    store.record.append(relative._replace(asked_at=round(1000 * clock.now()) - 5000))
    store = LearnerStore.of(store.record)
    assert growth(store, Neck(STANDARD, capo=2), clock.now()) == Growth(1, None, 1), "a relative is about no neck"
    assert growth(store, GUITAR, clock.now()).in_time == 4


def test_who_began_this_week_is_compared_with_nobody(store: LearnerStore, clock: HandClock) -> None:
    clock.tick(-5 * 86_400)
    assert growth(store, GUITAR, clock.now()).week_ago is None


@pytest.mark.parametrize(
    ("in_time", "week_ago", "sentence"),
    [
        (12, 7, "12 cards in time, 5 more than a week ago."),
        (8, 7, "8 cards in time, 1 more than a week ago."),
        (7, 7, "7 cards in time, as many as a week ago."),
        (5, 7, "5 cards in time; a week ago 7."),
        (1, None, "1 card in time so far."),
        (0, None, ""),
        (0, 0, ""),
        (0, 2, "0 cards in time; a week ago 2."),
    ],
)
def test_growth_in_a_sentence(in_time: int, week_ago: int | None, sentence: str) -> None:
    assert growth_sentence(Growth(in_time, week_ago)) == sentence
