"""A learner with three invented months behind them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from drill.decks import load_deck
from drill.practice.demo import SETTINGS, fill
from drill.practice.learner_store import LearnerStore
from drill.progress import Progress
from drill.record import Record
from tests.support.worlds import MONDAY_MORNING, HandClock, make_environment


@pytest.fixture(scope="session")
def progress(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Progress]:
    """The invented learner's progress, on a Monday morning."""
    clock = HandClock()
    environment = make_environment(tmp_path_factory.mktemp("progress"), clock)
    fill(environment)
    with Record.open(environment.record_path, clock.now) as record:
        deck = load_deck(SETTINGS.deck, SETTINGS.neck)
        store = LearnerStore.of(record)
        yield Progress(store.learner, record, deck, SETTINGS, MONDAY_MORNING, store.calibration)
