"""A long record does not hold the screens up: they say that a part is still to be read, and read it meanwhile."""

from __future__ import annotations

import random

import pytest

from drill.decks import load_deck
from drill.practice import replay
from drill.practice.learner_store import BEHIND
from drill.record import POSITION, Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.tui import FretsureApp
from drill.tui.screens.drill import DrillScreen
from tests.support.records import attempt, drill
from tests.support.screens import begin, press, sees, shown, until

SETTINGS = Settings(deck="naturals")
ANSWERS = 3_000
BEGINNING = " ".join(BEHIND.split()[:8])


class Steps:
    """A clock on which every look takes so many seconds."""

    def __init__(self, step_s: float) -> None:
        self._step_s, self._now_s = step_s, 0.0

    def __call__(self) -> float:
        self._now_s += self._step_s
        return self._now_s


@pytest.fixture
def app(fake_environment: Environment, record: Record, monkeypatch: pytest.MonkeyPatch) -> FretsureApp:
    """The program over a log of which a start reads some 200 answers, and a slice some hundred."""
    monkeypatch.setattr("drill.tui.services.SLICE_S", 1.0)
    monkeypatch.setattr(replay, "TAIL", 30)
    chance, cards = random.Random(1), list(load_deck("naturals", SETTINGS.neck).entries)
    numbers = range(-100_000, -100_000 + ANSWERS)
    record.merge([drill()], (attempt(number, card=chance.choice(cards)) for number in numbers))
    return FretsureApp(fake_environment._replace(monotonic=Steps(0.01)), SETTINGS, record)


@pytest.mark.long
async def test_home_says_so_and_is_shown_anew_when_all_is_read(app: FretsureApp, record: Record) -> None:
    async with app.run_test(size=(100, 50)) as pilot:
        await sees(pilot, BEGINNING)
        assert app.services.behind
        await until(pilot, lambda: BEGINNING not in shown(app))
        assert not app.services.behind
        assert sum(card.asked for card in app.services.store.learner.cards.values()) == ANSWERS
    assert record.states()[POSITION] == str(ANSWERS)


@pytest.mark.long
async def test_a_drill_says_so_with_its_first_question_and_goes_by_all_once_it_is_read(app: FretsureApp) -> None:
    async with app.run_test(size=(100, 50)) as pilot:
        await sees(pilot, BEGINNING)
        await press(pilot, "t")
        await begin(pilot)
        assert BEGINNING in shown(app)
        assert isinstance(app.screen, DrillScreen)
        session = app.screen.session
        so_far = session.store.learner
        await until(pilot, lambda: not session.store.behind)
        assert session.store.learner is not so_far


async def test_progress_shows_what_is_read_so_far_and_says_so(app: FretsureApp) -> None:
    async with app.run_test(size=(100, 50), notifications=True) as pilot:
        await sees(pilot, BEGINNING)
        await press(pilot, "p")
        await until(pilot, lambda: "Mix-ups" in shown(app) and "Part of your long record" in shown(app))
