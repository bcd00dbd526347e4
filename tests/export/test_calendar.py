"""The daily drill for a calendar, read by `icalendar`, which knows RFC 5545 and nothing of ours."""

from __future__ import annotations

import shlex
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from icalendar import Calendar, Component

from drill.cli.commands.record import calendar_lines
from drill.decks import load_deck
from drill.errors import UsageProblem
from drill.export.calendar_file import calendar
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from tests.export.conftest import DRILL, SETTINGS, progress_of, world

DAY_MS, HOUR_MS = 86_400_000, 3_600_000


def text_of(here: Environment, settings: Settings = SETTINGS) -> str:
    with progress_of(here, settings) as progress:
        return calendar(progress, here.utc_offset_minutes)


def event_of(text: str) -> Component:
    [event] = Calendar.from_ical(text).walk("VEVENT")
    assert event.errors == []
    return event


def drilled_at(here: Environment, *hours_utc: float) -> None:
    """Put a drill at such an hour into the record on each of the days before."""
    midnight_ms = DRILL.started_at - 8 * HOUR_MS
    with Record.open(here.record_path, here.now) as record:
        for number, hour in enumerate(hours_utc):
            moment = round(midnight_ms - (number + 1) * DAY_MS + hour * HOUR_MS)
            record.start_drill(DRILL._replace(id=f"drill-{number}", started_at=moment))


def test_a_strict_reader_finds_a_daily_event_with_a_reminder(tmp_path: Path) -> None:
    text = text_of(world(tmp_path), Settings(minutes=7))
    read = Calendar.from_ical(text)
    assert (read["VERSION"], len(read.walk("VEVENT")), read.errors) == ("2.0", 1, [])
    event = event_of(text)
    assert event["RRULE"]["FREQ"] == ["DAILY"]
    assert event["DURATION"].dt == timedelta(minutes=7)
    assert event["DTSTAMP"].dt.isoformat() == "2026-01-05T08:00:00+00:00"
    [alarm] = event.walk("VALARM")
    assert (alarm["ACTION"], alarm["TRIGGER"].dt) == ("DISPLAY", timedelta(0))


def test_it_comes_at_the_same_hour_wherever_the_learner_is(tmp_path: Path) -> None:
    """A time without zone and without Z is floating: RFC 5545, 3.3.5, form 1. The clock here is an hour ahead."""
    start = event_of(text_of(world(tmp_path)))["DTSTART"].dt
    assert (start, start.tzinfo) == (datetime(2026, 1, 5, 18), None)


@pytest.mark.parametrize(
    ("hours_utc", "start"),
    [
        ((6.4, 6.4, 6.5, 20.0), datetime(2026, 1, 6, 7, 15)),  # over for today on a clock that shows nine
        ((19.9, 20.2, 20.3), datetime(2026, 1, 5, 21, 0)),
        ((23.5, 23.5, 23.6), datetime(2026, 1, 6, 0, 30)),  # past midnight on the learner's clock
        ((5.0, 5.0), datetime(2026, 1, 5, 18)),  # too few to tell a habit
    ],
)
def test_it_begins_at_the_learners_usual_time(hours_utc: tuple[float, ...], start: datetime, tmp_path: Path) -> None:
    here = world(tmp_path)
    drilled_at(here, *hours_utc)
    assert event_of(text_of(here))["DTSTART"].dt == start


def test_taken_in_twice_it_is_one_event_and_the_later_file_wins(tmp_path: Path) -> None:
    """A calendar tells events apart by UID and their revisions by SEQUENCE: RFC 5545, 3.8.4.7 and 3.8.7.4."""
    here = world(tmp_path / "one")
    first = event_of(text_of(here))
    again = event_of(text_of(here._replace(now=lambda: here.now() + 86_400.0)))
    other = event_of(text_of(world(tmp_path / "other")))
    assert first["UID"] == again["UID"] != other["UID"]
    assert again["SEQUENCE"] > first["SEQUENCE"]


def test_no_title_of_a_deck_writes_lines_of_its_own(tmp_path: Path) -> None:
    title = "Ça, c’est; \\nBEGIN:VEVENT 🎸 ♭ " + "Γειά σου " * 20
    with progress_of(world(tmp_path)) as progress:
        text = calendar(replace(progress, deck=progress.deck._replace(title=title)), lambda _: 60)
    assert event_of(text)["DESCRIPTION"].startswith(title.rstrip())
    lines = text.encode().split(b"\r\n")
    assert max(map(len, lines)) <= 75
    assert not any(b"\n" in line or b"\r" in line for line in lines)


DECK = """title = "Flats"
about = "For Thursday."
{}
[[part]]
families = ["shape-anchor"]
keys = ["F", "Bb"]
"""


def for_deck(here: Environment, deck: str) -> str:
    with progress_of(here, SETTINGS) as progress:
        found = load_deck(deck, SETTINGS.neck)
        return calendar(replace(progress, deck=found, deck_option=deck), here.utc_offset_minutes)


def test_the_event_of_a_deck_names_its_command_and_ends_on_the_last_day(tmp_path: Path, added_decks: Path) -> None:
    """UNTIL has the type of DTSTART, here floating time, and bounds the recurrences: RFC 5545, 3.3.10."""
    added_decks.mkdir()
    (added_decks / "flats.toml").write_text(DECK.format("until = 2026-01-08"), encoding="utf-8")
    here = world(tmp_path)
    event = event_of(for_deck(here, "flats"))
    assert str(event["DESCRIPTION"]) == "Flats. In a terminal: fretsure today --deck flats"
    [until] = event["RRULE"]["UNTIL"]
    assert (until, until.tzinfo) == (datetime(2026, 1, 8, 23, 59, 59), None)
    assert event["UID"] != event_of(text_of(here))["UID"], "the daily event of before stays where it is"


def test_what_is_said_of_a_calendar_names_the_last_day(tmp_path: Path, added_decks: Path) -> None:
    added_decks.mkdir()
    (added_decks / "flats.toml").write_text(DECK.format("until = 2026-01-08"), encoding="utf-8")
    here = world(tmp_path)
    with progress_of(here, SETTINGS) as progress:
        asked = replace(progress, deck=load_deck("flats", SETTINGS.neck), deck_option="flats")
        [said] = calendar_lines(asked, here, tmp_path / "flats.ics")
        [daily] = calendar_lines(progress, here, tmp_path / "daily.ics")
    assert ", until 8 January 2026, is in" in said
    assert "until" not in daily


def test_a_deck_file_is_named_by_its_whole_path_and_without_homework_there_is_no_end(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "my flats.toml").write_text(DECK.format(""), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    event = event_of(for_deck(world(tmp_path), "my flats.toml"))
    assert str(event["DESCRIPTION"]).endswith(f"--deck {shlex.quote(str(tmp_path / 'my flats.toml'))}")
    assert "UNTIL" not in event["RRULE"]


def test_homework_that_is_over_makes_no_event(tmp_path: Path) -> None:
    path = tmp_path / "flats.toml"
    path.write_text(DECK.format("until = 2026-01-04"), encoding="utf-8")
    with pytest.raises(UsageProblem, match="ends on 4 January 2026"):
        for_deck(world(tmp_path), str(path))
