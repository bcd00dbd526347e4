"""What Home is told, and what a changed setting leads to."""

from __future__ import annotations

from pathlib import Path

import pytest

from drill.decks import Focus
from drill.errors import CannotWrite
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.tui.services import Services
from tests.support.asking import ask
from tests.support.worlds import HandClock


def drilled(services: Services, clock: HandClock, thinking_s: float = 1.2) -> None:
    """A drill in which all comes right."""
    session = services.start(Focus())
    while (question := ask(session)) is not None:
        clock.tick(thinking_s)
        session.first_response()
        session.answer(question.card.accepts[0])
        clock.tick(1.5)
    session.finish()


@pytest.mark.long
def test_until_the_next_day_home_changes_only_what_was_asked_today(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    services = Services(fake_environment, Settings(deck="naturals"), record, minutes=3)
    for _ in range(5):
        drilled(services, clock)
        clock.tick(86_400.0)
    before, fading = services.home(), services.progress().whole.fading
    session = services.start(Focus())
    for _ in range(4):
        assert ask(session) is not None
        session.give_up()
        clock.tick(40.0)
    session.finish()
    missed = {card for card, state in services.store.learner.cards.items() if state.last_s > clock.now() - 3600}
    touched = {spot for spot, row in services.progress().spots.items() if missed & {s.card for s in row.statuses}}
    after = services.home()
    assert 0 < len(touched) < len(after.strengths) / 2
    for spot, strength in after.strengths.items():
        was = before.strengths[spot]
        if strength is not None and was is not None and spot not in touched:
            assert abs(strength - was) < 0.005, "but for the minutes that have passed"
    assert any((after.strengths[spot] or 1) < (before.strengths[spot] or 0) - 0.03 for spot in touched)
    assert services.progress().whole.fading <= fading + len(missed)
    clock.tick(86_400.0)
    assert services.progress().sitting is not None, "the next drill begins the next sitting"


def test_a_deck_that_cannot_be_saved_is_not_drilled_either(
    fake_environment: Environment, record: Record, tmp_path: Path
) -> None:
    (tmp_path / "a file").touch()
    nowhere = fake_environment._replace(config_path=tmp_path / "a file" / "settings.toml")
    services = Services(nowhere, Settings(), record)
    assert services.deck.id == "two-shapes"
    with pytest.raises(CannotWrite):
        services.change("deck", "naturals")
    assert (services.settings.deck, services.deck.id) == ("two-shapes", "two-shapes")


def test_a_name_changed_in_set_up_is_that_of_the_next_export(fake_environment: Environment, record: Record) -> None:
    record.call("Ann")
    services = Services(fake_environment, Settings(), record)
    services.change("learner", "Anna")
    assert record.owner is not None
    assert record.owner.name == "Anna"


@pytest.mark.long
def test_home_says_when_today_is_done_and_what_tomorrow_brings(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    services = Services(fake_environment, Settings(start="notes"), record, minutes=2)
    assert "is done" not in services.home().today, "nothing was drilled yet"
    session = services.start(Focus())
    for _ in range(3):
        assert ask(session) is not None
        clock.tick(4.0)
        session.give_up()
    session.finish()
    assert services.home().today.startswith("Today brings "), "three answers are no drill"
    drilled(services, clock)
    view = services.home()
    assert view.today.startswith("Today's drill is done: now play. Tomorrow brings ")
    assert view.today.endswith(" again.")
    assert not view.letters, "nothing calls for a drill any more"
    drilled(services, clock)
    assert services.home().today.startswith("Today's drill is done"), "going on undoes nothing"
    clock.tick(86_400.0)
    assert services.home().today.startswith("Today brings ")
    assert services.home().letters


def test_home_says_that_a_drill_that_ended_early_is_done_and_offers_it_anew_tomorrow(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    services = Services(fake_environment, Settings(deck="naturals"), record, minutes=5)
    began_s = clock.now()
    drilled(services, clock)
    assert clock.now() - began_s < 200, "each natural note came right in time"
    assert services.home().today.startswith("Today's drill is done"), "no further minute is asked for"
    again = Services(fake_environment, Settings(deck="naturals"), record, minutes=5)
    assert again.home().today.startswith("Today's drill is done"), "the record knows"
    clock.tick(86_400.0)
    assert "done" not in again.home().today


def test_home_counts_net_times_as_the_drill_does(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    """1.6 s for a note are within its 1.5 s once the key press is taken off."""
    services = Services(fake_environment, Settings(deck="naturals"), record, minutes=5)
    drilled(services, clock, thinking_s=1.6)
    longer = Services(fake_environment, Settings(deck="naturals"), record, minutes=20)
    assert longer.home().today.startswith("Today's drill is done")


def test_a_deck_with_its_own_instrument_loses_nothing_on_another(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    services = Services(fake_environment, Settings(deck="bass"), record, minutes=1)
    drilled(services, clock)
    assert services.deck.neck != services.settings.neck
    assert services.home().notices == ()
    services.change("capo", 2)
    assert services.kept_elsewhere() == "", "the deck is asked as before"
