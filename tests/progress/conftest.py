"""A learner with three invented months behind them, and one with none."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass

import pytest

from drill.decks import load_deck
from drill.memory import Attempt, Learner
from drill.practice.demo import SETTINGS, fill
from drill.practice.learner_store import LearnerStore
from drill.progress import Progress
from drill.record import AttemptRow, Record
from drill.settings import Settings
from drill.system.environment import Environment
from tests.conftest import MONDAY_MORNING, HandClock, counting_uids

DAY_S = 86_400


@pytest.fixture(scope="session")
def progress(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Progress]:
    """The invented learner's progress, on a Monday morning."""
    folder, clock = tmp_path_factory.mktemp("progress"), HandClock()
    world = Environment.real()
    environment = Environment(
        now=clock.now,
        monotonic=clock.monotonic,
        utc_offset_minutes=clock.utc_offset_minutes,
        rng=random.Random(7),
        new_uid=counting_uids(clock),
        record_path=folder / "record.sqlite3",
        config_path=folder / "settings.toml",
        stdin=world.stdin,
        stdout=world.stdout,
        stderr=world.stderr,
    )
    fill(environment)
    with Record.open(environment.record_path, clock.now) as record:
        deck = load_deck(SETTINGS.deck, SETTINGS.neck)
        store = LearnerStore.of(record)
        yield Progress(store.learner, record, deck, SETTINGS, MONDAY_MORNING, store.foretold)


@dataclass
class Unread(Record):
    """A record whose log nobody may read."""

    def __init__(self) -> None:
        pass

    def attempts(self, card: str | None = None) -> Iterator[AttemptRow]:
        raise AssertionError("the log was read")


def beginner(learner: Learner | None = None, deck: str = "two-shapes", settings: Settings | None = None) -> Progress:
    """The progress of someone whose log must not be read; of a beginner, if no learner is given."""
    settings = settings or Settings()
    return Progress(learner or Learner(), Unread(), load_deck(deck, settings.neck), settings, MONDAY_MORNING)


class Empty(Unread):
    """A record with an empty log."""

    def attempts(self, card: str | None = None):  # type: ignore[no-untyped-def]
        return iter(())


def taught(progress: Progress, right: dict[str, bool], thinking_s: float = 0.9) -> Learner:
    """A learner asked these cards three days running, always right or always wrong."""
    learner = Learner()
    for day in (3, 2, 1):
        for number, (card, outcome) in enumerate(right.items()):
            at_s = MONDAY_MORNING - day * DAY_S + 10 * number
            learner.observe(progress.deck.entries[card].item, Attempt(card, at_s, outcome, thinking_s))
    return learner
