"""Everything answers to the mouse, too; and an answer may be pasted."""

from __future__ import annotations

import re

import pytest
from textual import events

from tests.support.screens import begin, go_on, press, reads, sees, shown, until
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp


def place(screen: str, words: str) -> tuple[int, int]:
    """Column and row of the first cell of these words."""
    row, line = next((row, line) for row, line in enumerate(screen.splitlines()) if words in line)
    return line.index(words), row


@pytest.mark.long(but=1)
@pytest.mark.parametrize("way", ["Focus", "Progress", "Decks", "Set-up"])
async def test_a_click_on_a_way_opens_that_one(make_app: MakeApp, way: str) -> None:
    """Wherever it stands in its row."""
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        screen = await sees(pilot, f" {way} ")
        await pilot.click(offset=place(screen, f" {way} "))
        name = f"{way.replace('-', '').casefold()}screen"
        await until(pilot, lambda: type(app.screen).__name__.casefold() == name)


async def test_a_click_turns_to_a_page_of_progress(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "p")
        screen = await sees(pilot, "[Neck]")
        for page, words in (
            ("Weeks", "No weeks yet"),
            ("Mix-ups", "No recognised mix-ups yet"),
            ("Keys", "not measured yet"),
        ):
            await pilot.click(offset=place(screen, page))
            await sees(pilot, f"[{page}]")
            screen = await sees(pilot, words)


@pytest.mark.long
async def test_a_click_on_a_short_page_bar_turns_to_the_next_page(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape", "p", "tab")
        screen = await sees(pilot, "[Keys] 2 of 6")
        await pilot.click(offset=place(screen, "Keys"))
        await sees(pilot, "[Strings and kinds] 3 of 6")


@pytest.mark.long
async def test_a_click_takes_a_deck_and_ends_a_pause(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "d")
        screen = await sees(pilot, "○ ")
        await pilot.click(offset=place(screen, "○ "))
        await until(pilot, lambda: app.services.settings.deck != "two-shapes")
        await press(pilot, "escape", "t")
        drill = await begin(pilot)
        await press(pilot, "space")
        screen = await sees(pilot, "You stopped the clock.")
        await pilot.click(offset=place(screen, "You stopped"))
        await until(pilot, lambda: app.screen is drill and not drill.session.watch.paused)


@pytest.mark.long
@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_home_and_progress_show_the_neck_that_is_set(make_app: MakeApp, size: tuple[int, int]) -> None:
    """Standard bass tuning from the highest string: G D A E (common practice, no source)."""
    app = make_app({"tuning": "bass", "deck": "bass", "frets": 12})
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape")
        for keys, words in ((), "t Today"), (("p",), "[Neck]"):
            await press(pilot, *keys)
            lines = (await sees(pilot, words)).splitlines()
            strings = [line.split()[:2] for line in lines if re.match(r" *[1-9] [A-G] ", line)]
            all_of_them = [["1", "G"], ["2", "D"], ["3", "A"], ["4", "E"]]
            assert strings == (all_of_them[-2:] if words == "t Today" and size == (40, 12) else all_of_them)
        screen = shown(app)
        _, row = place(screen, "4 E")
        numbers = screen.splitlines()[row + 1]
        await pilot.click(offset=(re.search(r"\b12\b", numbers).start(), row))  # type: ignore[union-attr]
        await reads(pilot, "String 4, fret 12")
        await press(pilot, "up", "left")
        await reads(pilot, "String 3, fret 11")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_a_click_changes_a_setting_and_says_its_choices(make_app: MakeApp, size: tuple[int, int]) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "s")
        screen = await sees(pilot, "You play")
        await pilot.click(offset=place(screen, "You play"))
        await until(pilot, lambda: app.services.settings.hand == "left")
        await reads(pilot, "Choices: right-handed, left-handed (← →).")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_a_line_of_focus_is_drilled_by_a_click_and_several_by_space(
    make_app: MakeApp, size: tuple[int, int]
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        await press(pilot, "down", "space", "space", "down", "space")
        screen = await reads(pilot, "string 5 (A): 44 cards.")
        assert "[ ] string 6" in screen
        await press(pilot, "escape")
        screen = await reads(pilot, "Enter drills it.")
        await pilot.click(offset=place(screen, "string 6 (low E)"))
        drill = await begin(pilot)
        assert all("string=6" in card or "shape=string-6" in card for card in drill.session.deck.entries)


async def test_what_is_pasted_by_key_ends_thinking_too(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        app.copy_to_clipboard("E")
        clock.tick(1.5)
        await press(pilot, "ctrl+v")
        await sees(pilot, "▌ E")
        clock.tick(5.0)
        await press(pilot, "enter")
        await sees(pilot, "Right: ")
        assert drill.verdict is not None
        assert drill.verdict.thinking_s == 1.5


async def test_a_pasted_answer_ends_thinking_and_counts_and_none_is_taken_on_a_verdict(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        assert drill.question is not None
        clock.tick(1.5)
        app.post_message(events.Paste(drill.question.card.accepts[0]))
        await sees(pilot, f"▌ {drill.question.card.accepts[0]}")
        clock.tick(5.0)
        await press(pilot, "enter")
        await sees(pilot, "Right: ")
        assert drill.verdict is not None
        assert drill.verdict.thinking_s == 1.5
        app.post_message(events.Paste("pasted too late"))
        await go_on(pilot)
        assert "pasted" not in shown(app)
