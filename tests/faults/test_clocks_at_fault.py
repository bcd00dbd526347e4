"""Clocks that are set, jump and stand still: a drill goes on, its time is right, and nothing is lost or locked away."""

from __future__ import annotations

import itertools
import json
import os
import re
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from drill.decks import Deck, load_deck
from drill.practice.learner_store import LearnerStore
from drill.practice.session import Session
from drill.progress import Progress
from drill.record import Record, backups
from drill.record.check import examine_fully
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.faults.program import run
from tests.support.asking import answers, ask
from tests.support.worlds import HandClock

DAY_S, YEAR_S = 86_400.0, 365 * 86_400.0
SETTINGS = Settings()


@pytest.fixture
def deck() -> Deck:
    return load_deck("naturals", Neck(STANDARD))


@pytest.fixture
def record(fake_environment: Environment) -> Iterator[Record]:
    with Record.open(fake_environment.record_path, fake_environment.now) as opened:
        yield opened


class Learner:
    """Knows every answer, and takes a second and a half for each."""

    def __init__(self, environment: Environment, record: Record, deck: Deck, clock: HandClock) -> None:
        self.environment, self.record, self.deck, self.clock = environment, record, deck, clock

    def begin(self, minutes: float = 5) -> Session:
        return Session.start(self.environment, SETTINGS, self.record, self.deck, minutes)

    def answer(self, session: Session, count: int) -> int:
        """Answers so many questions, or as many as there are; gives how many."""
        for number in range(count):
            question = ask(session)
            if question is None:
                return number
            self.clock.tick(1.5)
            assert session.answer(question.card.accepts[0]).right
        return count

    def progress(self) -> Progress:
        learner = LearnerStore.of(self.record).learner
        return Progress(learner, self.record, self.deck, SETTINGS, self.environment.now())


@pytest.fixture
def learner(fake_environment: Environment, record: Record, deck: Deck, clock: HandClock) -> Learner:
    return Learner(fake_environment, record, deck, clock)


@pytest.mark.parametrize("jump_s", [-DAY_S, YEAR_S, -3600.0, 3600.0, -20 * YEAR_S])
def test_a_clock_set_within_a_drill(jump_s: float, learner: Learner, clock: HandClock) -> None:
    session = learner.begin()
    learner.answer(session, 10)
    left_s = session.seconds_left
    clock.jump(jump_s)
    assert session.seconds_left == left_s, "the time of a drill is not the calendar's"
    learner.answer(session, 10)
    assert session.finish().answered == 20
    examine_fully(learner.record.path)
    assert len(answers(learner.record)) == 20
    known = LearnerStore.of(learner.record).learner
    now_s = clock.now()
    assert all(0 <= known.strength(item, now_s) <= 1 for item in learner.deck.items)
    assert learner.progress().whole.seen > 0


@pytest.mark.parametrize("jump_s", [-DAY_S, YEAR_S])
def test_a_clock_set_between_drills_and_set_right_again(jump_s: float, learner: Learner, clock: HandClock) -> None:
    """Answers that seem to lie in the future lock nothing away: there is something to ask, and it is learnt."""
    learner.answer(learner.begin(), 15)
    clock.jump(jump_s)
    clock.tick(3600)
    assert learner.answer(learner.begin(), 15) == 15
    clock.jump(-jump_s)
    clock.tick(DAY_S)
    assert learner.answer(learner.begin(), 15) == 15
    assert learner.progress().whole.seen >= 15
    examine_fully(learner.record.path)
    assert len(answers(learner.record)) == 45


def test_cards_fade_again_after_a_clock_that_ran_a_year_ahead(learner: Learner, clock: HandClock) -> None:
    clock.jump(YEAR_S)
    learner.answer(learner.begin(), 15)
    clock.jump(-YEAR_S)
    learner.answer(learner.begin(), 5)
    before = learner.progress().whole.strength or 0.0
    clock.tick(30 * DAY_S)
    after = learner.progress().whole.strength or 0.0
    assert after < before


@pytest.mark.parametrize(("before", "after"), [(60, 120), (120, 60)])
def test_a_change_to_or_from_summer_time_within_a_drill(
    before: int, after: int, learner: Learner, clock: HandClock
) -> None:
    clock.offset_minutes = before
    session = learner.begin()
    learner.answer(session, 3)
    clock.offset_minutes = after
    learner.answer(session, 3)
    session.finish()
    rows = answers(learner.record)
    assert [row.utc_offset_min for row in rows] == [before] * 3 + [after] * 3
    assert all(later.asked_at - earlier.asked_at == 1500 for earlier, later in itertools.pairwise(rows))
    assert sum(day.answers for day in learner.progress().days) == 6


def test_a_laptop_that_sleeps_in_the_middle_of_a_question(learner: Learner, clock: HandClock) -> None:
    session = learner.begin()
    question = ask(session)
    assert question is not None
    clock.tick(1.0)
    clock.jump(8 * 3600)  # the clock that only grows stands still in a sleep
    verdict = session.answer(question.card.accepts[0])
    assert (verdict.right, verdict.thinking_s) == (True, None)
    assert session.seconds_left == pytest.approx(299.0)
    assert learner.answer(session, 5) == 5
    first, *_ = answers(learner.record)
    assert first.thinking_ms is None


@pytest.mark.long(but=1)
@pytest.mark.parametrize("zone", ["XXX24:59:59", "XXX-24:59:59", "<+14>-14"])
def test_a_time_zone_days_away_is_exported_and_restored(zone: str, tmp_path: Path) -> None:
    def move() -> None:
        os.environ["TZ"] = zone
        time.tzset()

    other = str(tmp_path / "other.sqlite3")
    assert run("today", "--plain", home=tmp_path, reads="E\nE\n", before=move).code == 0
    assert run("export", str(tmp_path / "out"), home=tmp_path, before=move).code == 0
    restored = run("--record", other, "restore", str(tmp_path / "out" / "attempts.jsonl"), home=tmp_path)
    assert (restored.code, restored.complained) == (0, "")
    assert re.match(r"Of \d+ answers? in ", restored.said)
    with Record.open(tmp_path / "record.sqlite3", time.time) as mine, Record.open(Path(other), time.time) as theirs:
        assert list(mine.attempts()) == list(theirs.attempts())
    assert run("progress", "--record", other, home=tmp_path, before=move).code == 0


def test_backups_are_made_and_kept_whatever_the_clock_says(fake_environment: Environment, clock: HandClock) -> None:
    for jump_s in (0.0, YEAR_S, -2 * YEAR_S, DAY_S, DAY_S):
        clock.jump(jump_s)
        with Record.open(fake_environment.record_path, fake_environment.now) as record:
            learner = Learner(fake_environment, record, load_deck("naturals", Neck(STANDARD)), clock)
            learner.answer(learner.begin(), 1)
    assert len(backups.all_of(fake_environment.record_path)) == 5
    last = backups.last_good(fake_environment.record_path)
    assert last is not None
    with Record.open(last, fake_environment.now) as record:
        assert len(answers(record)) == 5
        assert json.loads(record.states()["position"]) == record.attempt_count()
