"""What comes after a deck: the next tempo, and the deck it leads on to."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drill.decks import load_deck
from drill.memory import Learner, State
from drill.practice.attempts import milliseconds
from drill.progress import Progress
from drill.progress.next_step import READY, TEMPOS, next_step
from drill.record import AttemptRow
from drill.settings import Settings
from drill.theory.bars import bar_seconds
from tests.support.learners import Unread, beginner, taught
from tests.support.records import attempt


def fluent(deck: str, thinking_s: float = 0.6) -> Learner:
    """A learner to whom every card of a deck came right at once, three days running."""
    progress = beginner(deck=deck)
    return taught(progress, dict.fromkeys(progress.deck.entries, True), thinking_s)


@pytest.fixture(scope="module")
def ready() -> Learner:
    return fluent("two-shapes")


def test_a_beginner_has_work_to_do() -> None:
    assert next_step(beginner()) is None


class AskedAt(Unread):
    """A log in which the newest answers to the first `count` cards of a bar were asked at a tempo."""

    def __init__(self, bpm: int, count: int) -> None:
        self._bar_s, self._count = bar_seconds(bpm), count

    def last_answers(self, *_: object) -> list[AttemptRow]:
        entries = load_deck("two-shapes", Settings().neck, self._bar_s).entries.values()
        cards = [each.item.card for each in entries if each.item.target_s == self._bar_s]
        target_ms = milliseconds(self._bar_s)
        return [attempt(number, card=card, target_ms=target_ms) for number, card in enumerate(cards[: self._count])]


def at_tempo(learner: Learner, bpm: int, log: Unread) -> Progress:
    deck = load_deck("two-shapes", Settings().neck, bar_seconds(bpm))
    return replace(beginner(learner, settings=Settings(tempo_bpm=bpm)), deck=deck, log=log)


@pytest.mark.parametrize(("bpm", "faster"), [(60, 80), (80, 90), (85, 90), (110, 120)])
def test_whose_keys_are_ready_goes_on_to_the_next_tempo(ready: Learner, bpm: int, faster: int) -> None:
    step = next_step(at_tempo(ready, bpm, AskedAt(bpm, 24)))
    assert step is not None
    assert (step.tempo_bpm, step.faster_bpm) == (bpm, faster)


@pytest.mark.parametrize(
    ("asked_at", "count", "faster"), [(80, 48, None), (90, 23, None), (90, 24, 100), (110, 24, 100)]
)
def test_a_tempo_just_taken_is_drilled_before_the_next_is_proposed(
    ready: Learner, asked_at: int, count: int, faster: int | None
) -> None:
    step = next_step(at_tempo(ready, 90, AskedAt(asked_at, count)))
    assert step is not None, "the next deck may be taken"
    assert step.faster_bpm == faster


def test_the_deck_it_leads_on_to_is_named(ready: Learner) -> None:
    progress = beginner(ready, settings=Settings(tempo_bpm=TEMPOS[-1]))
    step = next_step(progress)
    assert step is not None
    assert (step.faster_bpm, step.deck) == (None, progress.deck.next)
    assert step.deck_title == load_deck(progress.deck.next, progress.deck.neck).title


def test_a_key_measured_in_part_is_not_ready_however_likely_the_rest_is(ready: Learner) -> None:
    progress = beginner(ready)
    [first, *others] = progress.keys
    unasked = first.needed[0].status._replace(state=State.FRESH, asked=0, right=0, is_touched=False)
    needed = (first.needed[0]._replace(status=unasked), *first.needed[1:])
    progress.__dict__["keys"] = (first._replace(needed=needed), *others)
    assert first.readiness > READY and next_step(progress) is None


def test_right_but_slow_is_not_ready() -> None:
    assert next_step(beginner(fluent("two-shapes", thinking_s=8.0))) is None


def test_a_deck_without_keys_is_known_when_its_cards_are_fluent_and_has_no_tempo() -> None:
    assert next_step(beginner(deck="naturals")) is None
    step = next_step(beginner(fluent("naturals"), deck="naturals"))
    assert step is not None
    assert (step.faster_bpm, step.deck) == (None, "two-shapes")
