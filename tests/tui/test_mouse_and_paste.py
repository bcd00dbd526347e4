"""Everything answers to the mouse, too; and an answer may be pasted."""

from __future__ import annotations

from textual import events

from tests.conftest import HandClock
from tests.support.screens import begin, go_on, press, sees, shown, until
from tests.tui.conftest import MakeApp


def place(screen: str, words: str) -> tuple[int, int]:
    """Column and row of the first cell of these words."""
    row, line = next((row, line) for row, line in enumerate(screen.splitlines()) if words in line)
    return line.index(words), row


async def test_a_click_turns_to_a_page_of_progress(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "p")
        screen = await sees(pilot, "[Neck]")
        for page, words in (("Weeks", "Nothing yet"), ("Mix-ups", "No recognised mix-ups yet"), ("Ahead", "No card")):
            await pilot.click(offset=place(screen, page))
            await sees(pilot, f"[{page}]")
            screen = await sees(pilot, words)


async def test_a_click_on_a_short_page_bar_turns_to_the_next_page(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape", "p", "tab")
        screen = await sees(pilot, "[Strings] 2 of 8")
        await pilot.click(offset=place(screen, "Strings"))
        await sees(pilot, "[Keys] 3 of 8")


async def test_a_click_takes_a_deck_and_ends_a_pause(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "d")
        screen = await sees(pilot, "○ ")
        await pilot.click(offset=place(screen, "○ "))
        await until(pilot, lambda: app.desk.settings.deck != "two-shapes")
        await press(pilot, "escape", "t")
        drill = await begin(pilot)
        await press(pilot, "space")
        screen = await sees(pilot, "Paused")
        await pilot.click(offset=place(screen, "Paused"))
        await until(pilot, lambda: app.screen is drill and not drill.session.watch.paused)


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
