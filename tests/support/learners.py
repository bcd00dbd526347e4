"""Progress without a record: for what must be known without reading the log."""

from __future__ import annotations

from collections.abc import Iterator

from drill.decks import load_deck
from drill.memory import Attempt, Learner
from drill.progress import Progress
from drill.record import AttemptRow, LandingRow, Record
from drill.settings import Settings
from tests.support.worlds import MONDAY_MORNING

DAY_S = 86_400


class Unread(Record):
    """A record whose log nobody may read."""

    def __init__(self) -> None:
        pass

    def attempts(self, card: str | None = None) -> Iterator[AttemptRow]:
        raise AssertionError("the log was read")

    def landings(self) -> Iterator[LandingRow]:
        return iter(())


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
