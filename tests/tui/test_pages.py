"""The other screens: look up, focus, progress, decks, set-up, after."""

from __future__ import annotations

import re

import pytest

from drill import settings
from drill.decks import Focus
from drill.memory import Ending
from drill.present.neck_drawing import block
from drill.present.summaries import Move, Summary
from drill.system.environment import Environment
from drill.tui import FretsureApp
from drill.tui.drill_times import SUMMARY_S
from drill.tui.screens.after import AfterScreen
from drill.tui.widgets.spot_picker import SpotPicker
from tests.support.screens import (
    answer,
    answer_rightly,
    begin,
    drilling,
    go_on,
    look_up_at_home,
    press,
    sees,
    shown,
    type_in,
    until,
)
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp


async def play(pilot, clock: HandClock, answers: int, wrong: int = 0) -> None:  # type: ignore[no-untyped-def]
    """Answer some questions rightly in a second each, then some wrongly with the note a fret up; end the drill."""
    await begin(pilot)
    for _ in range(answers):
        clock.tick(1)
        await answer_rightly(pilot)
        await go_on(pilot)
    for _ in range(wrong):
        clock.tick(3)
        question = drilling(pilot.app).question
        await answer(pilot, next(m.answer for m in question.card.mixups if m.name == "one fret off"))  # type: ignore[union-attr]
        await go_on(pilot)
    await press(pilot, "escape")
    await until(pilot, lambda: isinstance(pilot.app.screen, AfterScreen))
    clock.tick(SUMMARY_S)


# -- after -------------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_after_tells_what_moved_what_was_mixed_up_what_was_slow_and_when_to_come_back(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(80, 40)) as pilot:
        await play(pilot, clock, answers=2, wrong=1)
        screen = await sees(pilot, "2 of 3 right")
        for words in ("What moved: how surely", "which note?", "What you mixed up", "2 cards in time so far."):
            assert words in screen
        assert re.search(r"string [56] 0\.7 s", screen)
        assert "Come back tomorrow" in screen
        assert "rest your hands" not in screen
        await press(pilot, "a")
        await begin(pilot)


@pytest.mark.long
async def test_what_moved_has_a_block_and_a_figure_on_either_side(make_app: MakeApp) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(80, 40)) as pilot:
        await begin(pilot)
        moved = (Move("a", "An old one?", False, 0.25, 1.0), Move("b", "A new one?", True, 0.25, 0.5))
        app.after_drill(Summary(2, 2, 1, 9.0, moved, (), (), None))
        screen = await sees(pilot, "What moved")
        assert re.search(rf"{block(0.25)} 25% → {block(1.0)} 100% +An old one", screen)
        assert re.search(rf"   new → {block(0.5)} 50% +A new one", screen)


async def test_a_drill_that_ends_early_says_so_and_names_the_deck_that_comes_next(make_app: MakeApp) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(80, 40)) as pilot:
        await begin(pilot)
        app.after_drill(Summary(3, 3, 0, 9.0, (), (), (), None, ending=Ending.KNOWN))
        screen = await sees(pilot, "Nothing more is urgent today")
        assert "Next: the deck “Two shapes" in screen


async def test_a_long_drill_ends_with_the_cautions(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app(begin=True, minutes=30)
    async with app.run_test(size=(80, 40)) as pilot:
        await begin(pilot)
        await answer_rightly(pilot)
        for _ in range(3 * 15):
            clock.tick(20)
            drilling(app).pressed()  # somebody is there
            drilling(app).watch_clock()
        await press(pilot, "escape")
        await sees(pilot, "That was a long drill: rest your hands")


@pytest.mark.long
async def test_a_drill_without_an_answer_says_so(make_app: MakeApp) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "escape")
        screen = await sees(pilot, "Nothing was answered, so nothing has changed.")
        assert "Weakest" not in screen, "nothing was ever asked"
        await press(pilot, "enter")
        await sees(pilot, "t Today")


# -- look up -----------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_looking_a_key_up_shows_both_shapes_and_the_dots_change(make_app: MakeApp) -> None:
    """F minor: index at string 6 fret 1 and string 5 fret 8, A flat three frets up (common practice, no source)."""
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "f minor")
        lines = (await sees(pilot, "relative A♭ major")).splitlines()
        assert "║◆1m┷━━━┷━━━┷●4M┷" in next(line for line in lines if "6 E" in line)
        assert "┿◆1m┿━━━┿━━━┿●4M┿" in next(line for line in lines if "5 A" in line)
        await press(pilot, "f2")
        await sees(pilot, "●♭3M")
        await press(pilot, "f2")
        await sees(pilot, "●A♭M")
        await press(pilot, "f3")
        await sees(pilot, "This focus has only 4 cards")
        await press(pilot, "home", "enter")
        await begin(pilot)
        assert all("key=Fm" in card or "key=Ab" in card for card in drilling(app).session.deck.entries)


@pytest.mark.long
async def test_a_long_neck_is_shown_from_the_lowest_shape_on(make_app: MakeApp) -> None:
    """B flat minor: index at string 5 fret 1 and string 6 fret 6 (common practice, no source)."""
    app = make_app({"frets": 22})
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "Bb minor")
        lines = (await sees(pilot, "A-string shape: index fret 1 or 13")).splitlines()
        assert "║◆1m┿━━━┿━━━┿●4M┿" in next(line for line in lines if "5 A" in line)
        assert "┷◆1m┷━━━┷━━━┷●4M┷" in next(line for line in lines if "6 E" in line)


@pytest.mark.long
async def test_looking_a_loop_up_names_its_keys_and_where_to_put_the_finger(make_app: MakeApp) -> None:
    """Am F C G can be heard in A minor or in C major (Open Music Theory, on chord loops)."""
    app = make_app()
    async with app.run_test(size=(80, 40)) as pilot:
        await look_up_at_home(pilot, "Am F C G")
        screen = await sees(pilot, "Am F C G:")
        assert "A minor" in screen
        assert "C major" in screen
        assert "┷◆1m┷━━━┷━━━┷●4M┷" in next(line for line in screen.splitlines() if "6 E" in line)
        assert "over F:" in screen


async def test_what_cannot_be_looked_up_is_explained_and_typed_over(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape", "l")
        await sees(pilot, "▌ Eb or F#m")
        await type_in(pilot, "H#7[/]")
        await press(pilot, "enter")
        await sees(pilot, "is not a")
        await press(pilot, "e", "m", "enter")
        await sees(pilot, "◆1m")
        await press(pilot, "escape")
        await sees(pilot, "t Today")


# -- focus -------------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_two_keys_lead_from_home_to_a_drill_of_the_weakest(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await play(pilot, clock, answers=1, wrong=3)
        await press(pilot, "enter")
        await sees(pilot, "t Today")
        await press(pilot, "f")
        await sees(pilot, "My weakest:")
        await press(pilot, "enter")
        await begin(pilot)


# -- progress ----------------------------------------------------------------------------------------------------------

PAGES = {
    "Keys": "Ready",
    "Strings and kinds": "string 6",
    "Weeks": "Week",
    "Mix-ups": "one fret",
    "Rounds": "No landings yet",
}


async def test_every_page_of_progress_is_reached_by_tab(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(40, 12)) as pilot:
        await play(pilot, clock, answers=4, wrong=3)
        await press(pilot, "enter", "p")
        await sees(pilot, "[Neck]")
        for page, words in PAGES.items():
            await press(pilot, "tab")
            await sees(pilot, f"[{page}]")
            await sees(pilot, words)
        await press(pilot, "tab")
        await sees(pilot, "[Neck]")
        await press(pilot, "shift+tab", "shift+tab")
        await sees(pilot, "[Mix-ups]")
        await press(pilot, "enter")
        await begin(pilot)


@pytest.mark.long
async def test_a_weak_key_stands_before_the_keys_not_yet_asked_and_one_key_drills_it(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = make_app(begin=True, focus=Focus(families=("shape-anchor",)))
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        key = drilling(app).question.card.facets.key  # type: ignore[union-attr]
        await answer_rightly(pilot)
        await press(pilot, "escape")
        await sees(pilot, "After the drill")
        clock.tick(SUMMARY_S)
        await press(pilot, "enter", "p", "tab")
        lines = (await sees(pilot, "[Keys]")).splitlines()
        first = next(line for line in lines if re.search(r"\d of \d ", line))
        assert key.name.replace("#", "♯").replace("b ", "♭ ") in first
        assert "%" not in first, "three of the four things that it takes were never asked"
        await press(pilot, "enter")
        await begin(pilot)
        drilled = drilling(app).session.deck.entries.values()
        assert all(f"key-{key.short}" in entry.item.groups for entry in drilled)


async def test_a_spot_tells_its_cards_and_is_drilled(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await play(pilot, clock, answers=1)
        await press(pilot, "enter", "p")
        screen = await sees(pilot, "String 6, fret 0")
        assert "1 of 1 right." in screen
        await press(pilot, "m")
        await sees(pilot, "tenths of a second")
        await press(pilot, "up", "right")
        await until(pilot, lambda: app.screen.query_one(SpotPicker).spot.fret == 1)
        await sees(pilot, "String 5, fret 1: this deck does not ask about it.")
        await press(pilot, "left")
        await sees(pilot, "String 5, fret 0")
        await press(pilot, "enter")
        await begin(pilot)
        assert all("string=5" in card for card in drilling(app).session.deck.entries)


async def test_a_click_on_a_spot_or_a_key_of_home_tells_of_it(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        lines = (await sees(pilot, "major C ")).splitlines()
        row = next(i for i, line in enumerate(lines) if "6 E" in line)
        column = lines[row + 1].index("·7·") + 1
        await pilot.click(offset=(column, row))
        await sees(pilot, "String 6, fret 7")
        lines = shown(app).splitlines()
        row = next(i for i, line in enumerate(lines) if "5 A" in line)
        await pilot.click(offset=(column, row))
        await sees(pilot, "String 5, fret 7")
        await press(pilot, "escape")
        lines = (await sees(pilot, "major C ")).splitlines()
        row = next(i for i, line in enumerate(lines) if "B♭m" in line)
        await pilot.click(offset=(lines[row].index("B♭m"), row))
        await sees(pilot, "B♭ minor, relative D♭ major")


@pytest.mark.long
async def test_w_drills_the_weakest(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await play(pilot, clock, answers=1, wrong=1)
        await press(pilot, "enter")
        await sees(pilot, "t Today")
        await press(pilot, "p")
        await sees(pilot, "w drills what is weakest:")
        await press(pilot, "w")
        await begin(pilot)


# -- decks and set-up --------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_a_deck_is_chosen_for_the_daily_drill_and_kept(make_app: MakeApp, fake_environment: Environment) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "d")
        await sees(pilot, "● Two shapes, every key")
        await press(pilot, "down", "enter")
        await sees(pilot, "● The whole neck")
        await press(pilot, "escape")
        await sees(pilot, "fretsure · The whole neck")
    assert settings.load(fake_environment.config_path).deck == "whole-neck"


async def test_settings_are_turned_typed_and_kept(make_app: MakeApp, fake_environment: Environment) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "s")
        await sees(pilot, "Instrument")
        await press(pilot, "down", "right")
        await sees(pilot, "Frets on the neck  16")
        await press(pilot, "enter")
        await sees(pilot, "▌ 16")
        await press(pilot, "9", "9", "enter")  # what is typed takes the place of the old value
        await sees(pilot, "“99” does not fit. From 12 to 24 (← →). The old value stays.")
        await press(pilot, "backspace", "backspace", "2", "2", "enter")
        await sees(pilot, "Frets on the neck  22")
        await sees(pilot, "How many frets the neck has. From 12 to 24 (← →).")
        await press(pilot, "down", "down", "right")
        await sees(pilot, "You play           left-handed")
        await press(pilot, "escape")
        await sees(pilot, "t Today")
    kept = settings.load(fake_environment.config_path)
    assert (kept.frets, kept.hand) == (22, "left")


@pytest.mark.long
async def test_every_setting_can_be_opened_and_says_what_it_takes(make_app: MakeApp) -> None:
    app: FretsureApp = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "s")
        for field in settings.fields():
            screen = " ".join((await sees(pilot, field.sentence[:30])).split())
            assert field.sentence in screen
            await press(pilot, "down")
