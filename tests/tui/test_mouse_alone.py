"""The screens around the drill by mouse alone, at four sizes: German notes, left hand, no colour."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot

from drill.decks import Focus
from drill.present.cautions import FIRST_CAUTIONS
from drill.present.placement import QUESTIONS
from drill.tui import FretsureApp
from drill.tui.screens.look_up import LookUpScreen
from tests.support.screens import begin, press, reads, sees, shown, type_in, until
from tests.tui.conftest import MakeApp

SIZES = [(40, 12), (80, 24), (120, 40)]
GERMAN_LEFT = {"note_language": "german", "hand": "left", "low_string": "top", "start": "shapes"}
STILL = 5
"""So many looks in a row at words in one place, a hundredth of a second apart, show that they stay there."""


def where(app: FretsureApp) -> str:
    return getattr(app.screen, "where", "")


def look_up(app: FretsureApp) -> LookUpScreen:
    """The look-up on the screen."""
    assert isinstance(app.screen, LookUpScreen)
    return app.screen


def key_of(app: FretsureApp) -> str:
    """The name of the key that is looked up; empty for none."""
    found = look_up(app).found
    return found.key.name if found and found.key else ""


def place(screen: str, words: str) -> tuple[int, int] | None:
    """Column and row of the first cell of these words; None while they are nowhere."""
    return next(((line.index(words), row) for row, line in enumerate(screen.splitlines()) if words in line), None)


async def click(pilot: Pilot[None], words: str) -> None:
    """Click on the first cell of these words, once they stand where they will stay."""
    looks: list[tuple[int, int] | None] = []

    def is_still() -> bool:
        looks.append(place(shown(pilot.app), words))
        return looks[-1] is not None and looks[-STILL:] == looks[-1:] * STILL

    await until(pilot, is_still)
    await pilot.click(offset=looks[-1])


async def go_back(pilot: Pilot[None], size: tuple[int, int]) -> None:
    """Click on what leads back: the footer, or the bar of a window too low for one."""
    await click(pilot, "‹ Back" if size[1] < 20 else "Esc Back")


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_the_first_start_goes_on_by_clicks(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await reads(pilot, FIRST_CAUTIONS[0])
        await click(pilot, "Enter: the idea.")
        await until(pilot, lambda: where(app) == "idea")
        await pilot.click("#way-on")
        await reads(pilot, QUESTIONS[0])
        await click(pilot, "y  Yes")
        await reads(pilot, QUESTIONS[1])
        await click(pilot, "n  No")
        await until(pilot, lambda: where(app) == "ready")
        await pilot.pause(0.05)
        await pilot.click("#way-on")
        await until(pilot, lambda: where(app) == "drill")


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_the_first_questions_are_left_out_by_a_click(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await click(pilot, "Enter: the idea.")
        await until(pilot, lambda: where(app) == "idea")
        await pilot.click("#way-on")
        await click(pilot, "your first answers decide.")
        await until(pilot, lambda: where(app) == "home")


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_a_click_leads_to_a_screen_and_back(
    size: tuple[int, int], make_app: MakeApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = make_app(GERMAN_LEFT)
    async with app.run_test(size=size) as pilot:
        for way, screen in (
            ("f Focus", "focus"),
            ("l Look up", "look-up"),
            ("d Decks", "decks"),
            ("s Set-up", "set-up"),
        ):
            await sees(pilot, "t Today")
            await click(pilot, way)
            await until(pilot, lambda screen=screen: where(app) == screen)
            await go_back(pilot, size)
            await until(pilot, lambda: where(app) == "home")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("way", "screen"), [("p", "progress"), ("r", "round"), ("o", "play")])
async def test_a_click_leads_back_from_screens_with_a_bar_of_their_own(
    way: str, screen: str, size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app(GERMAN_LEFT)
    async with app.run_test(size=size) as pilot:
        await sees(pilot, "t Today")
        await press(pilot, way)
        await until(pilot, lambda: where(app) == screen)
        if screen != "progress":
            await sees(pilot, " bpm")
        await go_back(pilot, size)
        await until(pilot, lambda: where(app) == "home")


async def test_the_pages_of_progress_are_turned_beside_the_way_back(make_app: MakeApp) -> None:
    app = make_app(GERMAN_LEFT)
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "p")
        await click(pilot, "[Neck] 1 of 6")
        await sees(pilot, "[Keys] 2 of 6")


@pytest.mark.parametrize(("key", "title"), [("p", "Progress"), ("l", "Look up"), ("s", "Set-up")])
async def test_the_bar_of_a_low_window_leads_to_the_keys(make_app: MakeApp, key: str, title: str) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape", key)
        await until(pilot, lambda: shown(app).splitlines()[0].endswith("F1 Help"))
        await click(pilot, "F1 Help")
        await sees(pilot, f"{title}: this screen")


async def test_a_click_where_the_way_to_the_keys_has_no_room_turns_the_page(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape", "p")
        await sees(pilot, "[Neck] 1 of 6")
        await press(pilot, "tab", "tab")
        screen = await sees(pilot, "[Strings and kinds] 3 of 6")
        assert "F1 Help" not in screen.splitlines()[0]
        await pilot.click(offset=(36, 0))
        await sees(pilot, " 4 of 6")


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_lines_are_selected_by_their_boxes_and_drilled_together(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app(GERMAN_LEFT)
    async with app.run_test(size=size) as pilot:
        await press(pilot, "f")
        await sees(pilot, "To begin with")
        await type_in(pilot, "string")
        for number in (6, 5):
            await click(pilot, f"[ ] string {number}")
            await sees(pilot, "drills")
            await type_in(pilot, "string")
        await click(pilot, "drills")
        await begin(pilot)
        assert app._focus == Focus(strings=(6, 5))


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_keys_are_stepped_through_by_clicks(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app(GERMAN_LEFT)
    async with app.run_test(size=size) as pilot:
        await press(pilot, "l")
        for key in ("A minor", "Bb minor"):
            await until(pilot, lambda: isinstance(app.screen, LookUpScreen) and app.screen.query("#found"))
            look_up(app).query_one("#page").scroll_end(animate=False)
            await click(pilot, "↑ ↓ semitones")
            await until(pilot, lambda key=key: key_of(app) == key)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES[1:])
async def test_a_number_is_set_by_clicks_both_ways(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app(GERMAN_LEFT)
    async with app.run_test(size=size) as pilot:
        await press(pilot, "s")
        await until(pilot, lambda: where(app) == "set-up")
        await press(pilot, "c")
        await click(pilot, "→ Next value")
        await until(pilot, lambda: app.services.settings.capo == 1)
        await click(pilot, "← Previous value")
        await until(pilot, lambda: app.services.settings.capo == 0)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_a_deck_is_chosen_by_a_click_and_help_says_the_screen_it_was_called_from(
    size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app(GERMAN_LEFT)
    async with app.run_test(size=size) as pilot:
        await press(pilot, "d")
        await until(pilot, lambda: where(app) == "decks")
        await click(pilot, "○ ")
        await until(pilot, lambda: app.services.settings.deck != "two-shapes")
        await press(pilot, "f1")
        await sees(pilot, "Decks: this screen")
        await go_back(pilot, size)
        await until(pilot, lambda: where(app) == "decks")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_focus_speaks_german_and_is_drawn_for_the_left_hand(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app(GERMAN_LEFT)
    async with app.run_test(size=size) as pilot:
        await press(pilot, "f")
        await sees(pilot, "To begin with")
        await press(pilot, *"h", "space", *"moll")
        await sees(pilot, "H minor: 4 cards")
        if size[0] >= 120:
            screen = await reads(pilot, "H minor: relative major?")
            row = next(line for line in screen.splitlines() if "◆1m" in line)
            assert row.index("●4M") < row.index("◆1m") < row.index("║"), "the nut is at the right"
        await click(pilot, "H minor: 4 cards")
        await until(pilot, lambda: where(app) == "widen")
        await click(pilot, "as it is")
        await until(pilot, lambda: where(app) == "drill")
        assert shown(app)
