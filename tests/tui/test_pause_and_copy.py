"""A pause has a way on and a way out; Ctrl+C ends no drill by surprise; a dragged mouse copies and does not click."""

from __future__ import annotations

import pytest
from textual.events import MouseDown, MouseMove, MouseUp
from textual.pilot import Pilot

from drill.tui import FretsureApp
from tests.support.screens import begin, press, sees, shown, until
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp
from tests.tui.test_mouse_and_paste import place

SIZES = [(40, 12), (80, 24), (120, 40)]


def where(app: FretsureApp) -> str:
    return getattr(app.screen, "where", "")


async def drag(pilot: Pilot[None], start: tuple[int, int], end: tuple[int, int]) -> None:
    """Hold the button down from one place to another, as a terminal reports it."""
    for kind, (x, y), button in ((MouseDown, start, 1), (MouseMove, end, 1), (MouseUp, end, 1)):
        pilot.app.post_message(kind(None, x, y, 0, 0, button, False, False, False, x, y))
        await pilot.pause()


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_a_pause_says_what_can_be_done_and_its_question_is_hidden(
    size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=size) as pilot:
        drill = await begin(pilot)
        assert drill.question is not None
        await press(pilot, "space")
        for words in ("You stopped the clock.", "Space  Resume", "l  Look up", "Paused time does not count."):
            await sees(pilot, words)
        screen = await sees(pilot, "e  End the drill")
        assert drill.question.card.ask.ask not in screen
        await press(pilot, "f1")
        await until(pilot, lambda: where(app) == "help")
        await press(pilot, "escape", "e")
        await until(pilot, lambda: where(app) == "after")


@pytest.mark.long
async def test_a_key_is_looked_up_in_a_pause_and_the_drill_goes_on(make_app: MakeApp) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        question = drill.question
        await press(pilot, "space")
        await sees(pilot, "You stopped the clock.")
        await press(pilot, "l")
        await until(pilot, lambda: where(app) == "look-up")
        await press(pilot, *"Am", "enter")
        await sees(pilot, "relative C major")
        await press(pilot, "f3")  # a drill that is paused is not replaced by another
        assert where(app) == "look-up"
        await press(pilot, "escape")
        await sees(pilot, "You stopped the clock.")
        await press(pilot, "space")
        await until(pilot, lambda: app.screen is drill and not drill.session.watch.paused)
        assert drill.question is question


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_ctrl_c_pauses_a_drill_and_a_second_one_ends_the_program(
    size: tuple[int, int], make_app: MakeApp, clock: HandClock
) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=size) as pilot:
        await begin(pilot)
        await press(pilot, "ctrl+c")
        await sees(pilot, "You pressed Ctrl+C")
        await press(pilot, "ctrl+c")  # held down
        assert app.left_with is None
        clock.tick(1)
        await press(pilot, "ctrl+c")
        await until(pilot, lambda: app.left_with == 130)


async def test_ctrl_c_over_a_paused_drill_leads_back_to_the_pause(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "space")
        await sees(pilot, "You stopped the clock.")
        await press(pilot, "l")
        await until(pilot, lambda: where(app) == "look-up")
        clock.tick(9)
        await press(pilot, "ctrl+c")
        await until(pilot, lambda: where(app) == "pause")
        assert app.left_with is None


@pytest.mark.long
async def test_a_drill_that_is_over_holds_no_ctrl_c_back(make_app: MakeApp) -> None:
    """A drill that the program began with stays below the other screens."""
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "escape")
        await until(pilot, lambda: where(app) == "after")
        await press(pilot, "ctrl+c")
        await until(pilot, lambda: app.left_with == 130)


async def test_ctrl_c_elsewhere_ends_the_program(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "l")
        await until(pilot, lambda: where(app) == "look-up")
        await press(pilot, "ctrl+c")
        await until(pilot, lambda: app.left_with == 130)


@pytest.mark.long
async def test_a_dragged_mouse_copies_text_and_opens_nothing(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "escape", "question_mark")
        screen = await sees(pilot, "Home: this screen")
        line = next(line for line in screen.splitlines() if "Home: this screen" in line)
        left, row = place(screen, "Home: this screen")
        await drag(pilot, (left, row), (left + 2, row))
        await sees(pilot, "Copied.")
        assert app.clipboard == line[left : left + len(app.clipboard)] != ""
        await press(pilot, "ctrl+c")
        assert app.left_with is None


@pytest.mark.long(but=1)
@pytest.mark.parametrize("words", ["6 E", "Focus", "B♭m"])
async def test_a_dragged_mouse_opens_no_screen_of_home(words: str, make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        left, row = place(await sees(pilot, words), words)
        await drag(pilot, (left, row), (left + 2, row))
        await pilot.pause()
        assert where(app) == "home", shown(app)
