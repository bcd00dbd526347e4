"""A drill that ends early because everything is known says so in every mode, and names the deck that comes next."""

from __future__ import annotations

import io
import json
from collections.abc import Callable, Iterator

import pytest

from drill.cli.json_mode import drill_in_json
from drill.cli.line_input import step_after
from drill.cli.line_mode import drill_in_words
from drill.decks import Focus, load_deck
from drill.memory import Attempt, Ending
from drill.practice.learner_store import LearnerStore
from drill.practice.session import Session
from drill.present.summaries import NOTHING_URGENT
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.support.asking import ask
from tests.support.worlds import HandClock

DAY_S = 86_400.0
DAYS_AGO = (60, 58, 54, 46, 34, 20, 8, 1)
NATURALS = load_deck("naturals", Neck(STANDARD))

Started = Callable[..., Session]


@pytest.fixture
def record(fake_environment: Environment) -> Iterator[Record]:
    with Record.open(fake_environment.record_path, fake_environment.now) as opened:
        yield opened


@pytest.fixture
def start(fake_environment: Environment, record: Record, clock: HandClock) -> Started:
    """Begins a drill of the natural notes by one who has known them all for two months."""

    def started(thinking_s: float = 0.9, focus: Focus | None = None) -> Session:
        store = LearnerStore.begin(record, fake_environment.monotonic)
        for days in DAYS_AGO:
            for number, (card, entry) in enumerate(NATURALS.entries.items()):
                at_s = clock.now() - days * DAY_S + 4 * number
                store.learner.observe(entry.item, Attempt(card, at_s, True, thinking_s))
        return Session.start(fake_environment, Settings(), record, NATURALS, focus=focus, store=store)

    return started


def said(session: Session, run: Callable[[Session, Environment], None], lines: str = "") -> str:
    out = io.StringIO()
    run(session, session.environment._replace(stdin=io.StringIO(lines), stdout=out))
    return out.getvalue()


def test_who_knows_it_all_is_asked_nothing(start: Started) -> None:
    session = start()
    assert session.ask() is None
    assert session.finish().ending is Ending.KNOWN


def test_json_mode_gives_the_ending_and_the_next_deck(start: Started) -> None:
    summary = json.loads(said(start(), drill_in_json).splitlines()[-1])
    assert (summary["type"], summary["answered"], summary["ending"]) == ("summary", 0, "known")
    assert summary["next"] == {"tempo_bpm": None, "deck": "two-shapes"}


def test_line_mode_says_so_and_proposes_the_next_deck(start: Started) -> None:
    *_, nothing_urgent, _, proposal = said(start(), drill_in_words).splitlines()
    assert nothing_urgent == NOTHING_URGENT
    assert load_deck("two-shapes", Neck(STANDARD)).title in proposal


def test_a_deck_that_came_in_time_in_one_sitting_is_not_called_known(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    session = Session.start(fake_environment, Settings(start="speed"), record, load_deck("two-shapes", Neck(STANDARD)))
    while question := ask(session):
        clock.tick(1.7)
        session.answer(question.card.accepts[0])
        clock.tick(1.0)
    summary = session.finish()
    assert summary.ending is Ending.IN_TIME
    assert step_after(session, summary) is None
    assert not summary.is_known


def test_a_drill_of_a_part_proposes_no_other_deck(start: Started) -> None:
    lines = said(start(focus=Focus(strings=(6,))), drill_in_json).splitlines()
    assert (json.loads(lines[-1])["ending"], json.loads(lines[-1])["next"]) == ("known", None)


def test_a_drill_that_the_learner_leaves_has_no_ending(start: Started) -> None:
    """Twelve seconds for every note are far from known."""
    summary = json.loads(said(start(thinking_s=12.0), drill_in_json).splitlines()[-1])
    assert summary["ending"] is None


class _Slow(io.StringIO):
    """Standard input from which each line takes half a minute."""

    def __init__(self, clock: HandClock, lines: str) -> None:
        super().__init__(lines)
        self._clock = clock

    def readline(self, size: int | None = -1, /) -> str:
        self._clock.tick(30.0)
        return super().readline(-1 if size is None else size)


def test_a_drill_ends_when_its_minutes_are_over_and_says_so(start: Started, clock: HandClock) -> None:
    session, out = start(thinking_s=12.0), io.StringIO()
    drill_in_json(session, session.environment._replace(stdin=_Slow(clock, "C\nD\n" * 20), stdout=out))
    summary = json.loads(out.getvalue().splitlines()[-1])
    assert summary["ending"] == "time"
    assert 4 <= summary["answered"] < 40
