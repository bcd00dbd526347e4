"""A learner with three invented months behind them, and a few landings of rounds."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from drill.decks import load_deck
from drill.practice.demo import SETTINGS, fill
from drill.practice.learner_store import LearnerStore
from drill.progress import Progress
from drill.record import LandingRow, Record
from tests.support.worlds import MONDAY_MORNING, HandClock, make_environment

AT_MS = round(1000 * MONDAY_MORNING) - 60_000
LANDINGS = (
    LandingRow("landing-1", "demo-0001", "F minor", AT_MS, "self-checked", True, None, None, None),
    LandingRow("landing-2", "demo-0001", "F minor", AT_MS + 7000, "self-checked", True, None, None, None),
    LandingRow("landing-3", "demo-0001", "B minor", AT_MS + 1000, "heard", True, 12, "B", 90),
    LandingRow("landing-4", "demo-0001", "B minor", AT_MS + 2000, "heard", False, 30, "C", 90),
)


@pytest.fixture(scope="session")
def progress(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Progress]:
    """The invented learner's progress, on a Monday morning."""
    clock = HandClock()
    environment = make_environment(tmp_path_factory.mktemp("progress"), clock)
    fill(environment)
    with Record.open(environment.record_path, clock.now) as record:
        deck = load_deck(SETTINGS.deck, SETTINGS.neck)
        for landing in LANDINGS:
            record.append_landing(landing)
        store = LearnerStore.of(record)
        yield Progress(store.learner, record, deck, SETTINGS, MONDAY_MORNING, store.calibration)
