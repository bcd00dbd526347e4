"""Progress without a record: for what must be known without reading the log."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drill.decks import load_deck
from drill.memory import Learner
from drill.practice.learner_store import LearnerStore
from drill.progress import Progress
from drill.record import AttemptRow, Record
from drill.settings import Settings
from tests.support.worlds import MONDAY_MORNING


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
    return Progress.of(
        LearnerStore(Unread(), learner or Learner(), 0), load_deck(deck, settings.neck), settings, MONDAY_MORNING
    )
