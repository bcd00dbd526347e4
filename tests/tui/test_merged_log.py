"""A log merged from elsewhere may hold answers that its cards would never have taken: they are shown as they are."""

from __future__ import annotations

import pytest

from drill.decks import load_deck
from drill.practice.learner_store import LearnerStore
from drill.progress import Progress
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.tui.screens.progress_pages import PAGES, Shown
from tests.support.records import attempt, drill


@pytest.mark.parametrize(("given", "said"), [("fretboard?", "You said fretboard?."), ("", "You said no answer.")])
def test_a_mixup_is_told_whatever_was_answered(
    fake_environment: Environment, record: Record, given: str, said: str
) -> None:
    record.start_drill(drill())
    record.append(attempt(1, given=given, correct=False, mixup="one fret off"))
    settings = Settings(deck="naturals")
    deck = load_deck("naturals", settings.neck)
    progress = Progress(LearnerStore.of(record).learner, record, deck, settings, fake_environment.now())
    mixups = next(page for page in PAGES if page.title == "Mix-ups")
    assert mixups.lines is not None
    assert said in "".join(line.content.plain for line in mixups.lines(Shown(progress, settings, fake_environment)))
