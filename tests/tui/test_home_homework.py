"""What a teacher set is told on Home, whatever deck is the daily one, and one key drills it."""

from __future__ import annotations

from pathlib import Path

import pytest

from drill.record import Record
from drill.system.environment import Environment
from drill.tui.widgets.ways import Ways
from tests.support.asking import introduce
from tests.support.screens import begin, press, sees
from tests.tui.conftest import MakeApp

DECK = """title = "Flats"
about = "For Thursday."
until = 2026-01-08
goal = "2 keys ready"
by = "Ms Adler"
[[part]]
families = ["shape-anchor"]
keys = ["F", "Bb", "Eb"]
"""


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", [(80, 24), (100, 36)])
async def test_home_tells_homework_of_another_deck_and_h_drills_it(
    size: tuple[int, int], make_app: MakeApp, added_decks: Path, record: Record, fake_environment: Environment
) -> None:
    added_decks.mkdir()
    (added_decks / "flats.toml").write_text(DECK, encoding="utf-8")
    introduce(record, fake_environment.now())
    app = make_app()
    async with app.run_test(size=size) as pilot:
        screen = await sees(pilot, "“Flats”, set by Ms Adler until Thursday: 0 of 2 keys ready.")
        assert "h Homework" in screen
        assert app.query_one(Ways).chosen.id == "today", "Enter still starts today's drill"
        await press(pilot, "h")
        await begin(pilot)
    assert "flats" in {drill.deck for drill in record.drills()}


@pytest.mark.long
async def test_where_nothing_is_set_no_key_offers_it(
    make_app: MakeApp, record: Record, fake_environment: Environment
) -> None:
    introduce(record, fake_environment.now())
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        assert "Homework" not in await sees(pilot, "t Today")
        await press(pilot, "h")
        assert app.screen.where == "home"  # type: ignore[attr-defined]


@pytest.mark.long
async def test_sentences_of_two_lines_leave_the_keys_in_sight(
    make_app: MakeApp, added_decks: Path, record: Record, fake_environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    added_decks.mkdir()
    (added_decks / "flats.toml").write_text(DECK, encoding="utf-8")
    introduce(record, fake_environment.now())
    app = make_app()
    home = app.services.home
    long = {
        "today": "Today brings Am and C again. " * 4,
        "growth": "15 cards in time.",
        "homework": ("Until Thursday. " * 6,),
    }
    monkeypatch.setattr(app.services, "home", lambda: home()._replace(**long))
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "Until Thursday.")
        await pilot.pause()
        page = app.screen.query_one("#page")
        assert page.virtual_size.height <= page.size.height, "the strengths of the major keys are the last line"
