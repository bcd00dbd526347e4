"""Home, After and Progress at four sizes: what has to be seen is seen, and every way on is reached."""

from __future__ import annotations

import re
from itertools import product

import pytest

from drill.decks import load_deck
from drill.present.summaries import NextStep
from drill.progress.card_history import card_history
from drill.record import DrillRow, LandingRow, Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.keys import PRACTICAL_KEYS
from drill.tui import FretsureApp
from drill.tui.commands import find
from drill.tui.drill_times import SUMMARY_S
from drill.tui.screens.after import AfterScreen
from drill.tui.screens.home import HomeScreen, ways
from drill.tui.screens.play import PlayScreen
from drill.tui.screens.round import RoundScreen
from drill.tui.services import Services
from drill.tui.widgets.block_letters import BLOCKS
from drill.tui.widgets.ways import Ways
from tests.support.screens import answer_rightly, begin, drilling, go_on, press, reads, resized, sees, shown, until
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp

SIZES = [(40, 12), (80, 24), (120, 40), (200, 60)]


async def drilled(pilot, clock: HandClock, answers: int = 3) -> FretsureApp:  # type: ignore[no-untyped-def]
    """Answer some questions rightly, and end the drill."""
    await begin(pilot)
    for _ in range(answers):
        clock.tick(1)
        await answer_rightly(pilot)
        await go_on(pilot)
    await press(pilot, "escape")
    await until(pilot, lambda: isinstance(pilot.app.screen, AfterScreen) and pilot.app.screen.is_mounted)
    app: FretsureApp = pilot.app
    return app


# -- home --------------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_home_says_two_sentences_and_lists_every_way_at_every_size(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=SIZES[0]) as pilot:
        await drilled(pilot, clock)
        await press(pilot, "escape")
        for size in SIZES:
            await resized(pilot, size)
            screen = await reads(pilot, "5 minutes at most.")
            await reads(pilot, "3 cards in time so far.")
            for command in ways():
                assert f"{command.key_shown} {command.title}" in screen
            assert "6 E" in screen and "5 A" in screen
            assert not re.search(r"\b(fading|fresh|slow|due)\b", screen.split("Enter")[0])


@pytest.mark.long
async def test_a_large_window_has_the_keys_of_today_in_large_letters(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=SIZES[-1]) as pilot:
        await drilled(pilot, clock)
        await press(pilot, "escape")
        for size, has_letters in (((200, 60), True), ((120, 40), True), ((80, 24), False)):
            await resized(pilot, size)
            screen = await reads(pilot, "5 minutes at most.")
            above = screen.split("Today brings")[0]
            assert any(block in above for block in BLOCKS.strip()) == has_letters
            blank = [line for line in screen.splitlines() if not line.strip()]
            assert len(blank) <= size[1] / 3


async def test_a_newcomer_reads_what_enter_does_and_sees_no_figure(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        screen = await reads(pilot, "Enter starts your first 5 minutes.")
        assert "Tomorrow this line says what grew." in screen
        table = screen[screen.index(" minor Am") :].split("▸")[0]
        assert not re.search(r"\d", table), "nothing was measured"


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_arrows_reach_every_way_and_enter_opens_the_one_that_is_told(
    make_app: MakeApp, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[str] = []
    for command in ways():
        monkeypatch.setattr(HomeScreen, f"action_{command.action}", lambda _, id=command.id: opened.append(id))
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "▸t Today")
        for number, command in enumerate(ways()):
            await sees(pilot, command.help[:15])
            await press(pilot, "enter")
            await until(pilot, lambda number=number: len(opened) == number + 1)
            await press(pilot, "right")
        assert opened == [command.id for command in ways()]
        grid = app.screen.query_one(Ways)
        await press(pilot, "home", "down")
        assert grid.at == (grid.columns(grid.size.width) if grid.columns(grid.size.width) < len(ways()) else 0)


@pytest.mark.long
async def test_a_drag_over_the_ways_opens_none(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "▸t Today")
        await pilot.mouse_down(Ways, offset=(2, 0))
        await pilot.mouse_up(Ways, offset=(9, 0))
        await pilot.pause()
        assert isinstance(app.screen, HomeScreen)


# -- after -------------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_after_says_what_came_of_it_when_to_come_back_and_how_to_play_it(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=SIZES[0]) as pilot:
        await drilled(pilot, clock)
        for size in SIZES:
            await resized(pilot, size)
            for words in ("3 of 3 right", "Come back tomorrow", "Now play it: r calls"):
                await reads(pilot, words)
            for name in ("home", "play-round", "play-loop", "again", "drill-weakest"):
                assert f"{find(name).key_shown} {find(name).title}" in shown(app)
            assert find("faster").title not in shown(app) and find("next-deck").title not in shown(app)


async def test_an_enter_meant_for_the_last_verdict_does_not_turn_the_summary_away(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await drilled(pilot, clock)
        await press(pilot, "enter")
        assert isinstance(app.screen, AfterScreen)
        clock.tick(SUMMARY_S)
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, HomeScreen))


async def test_a_round_and_a_loop_take_the_keys_just_drilled(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await drilled(pilot, clock)
        assert isinstance(app.screen, AfterScreen)
        keys = app.screen.summary.keys
        assert len(keys) == 3
        await press(pilot, "r")
        await until(pilot, lambda: isinstance(app.screen, RoundScreen) and app.screen.round)
        assert set(app.screen.round.keys) == set(keys)  # type: ignore[attr-defined]
        await press(pilot, "escape")
        await until(pilot, lambda: isinstance(app.screen, AfterScreen))
        await press(pilot, "l")
        await until(pilot, lambda: isinstance(app.screen, PlayScreen))


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("key", "setting", "value"), [("t", "tempo_bpm", 90), ("d", "deck", "one-bar")])
async def test_what_is_proposed_is_taken_by_one_key(
    make_app: MakeApp, clock: HandClock, monkeypatch: pytest.MonkeyPatch, key: str, setting: str, value: str | int
) -> None:
    title = load_deck("one-bar", Settings().neck).title
    step = NextStep("Two shapes, every key", 80, 90, "one-bar", title)
    monkeypatch.setattr(Services, "next_step", lambda *_: step)
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await drilled(pilot, clock, 1)
        await reads(pilot, f"Next: 90 beats a minute or the deck “{title}”.")
        await press(pilot, key)
        await until(pilot, lambda: isinstance(app.screen, HomeScreen))
        assert getattr(app.services.settings, setting) == value


# -- progress ----------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_every_page_of_progress_has_its_footer_and_its_heads(make_app: MakeApp, clock: HandClock) -> None:
    heads = {"Neck": "6 E", "Keys": "ready", "Strings and kinds": "strength", "Weeks": "Week of", "Mix-ups": "mix-ups"}
    app = make_app(begin=True)
    async with app.run_test(size=SIZES[0]) as pilot:
        await drilled(pilot, clock)
        for size, (page, head) in product(SIZES, heads.items()):
            if page == "Neck":  # each size begins with Progress opened anew
                app.go_home()
                await resized(pilot, size)
                await reads(pilot, "5 minutes at most.")
                await press(pilot, "p")
            await sees(pilot, f"[{page}]")
            await sees(pilot, head)
            if size[1] >= 20:
                drills, speed = page not in ("Weeks", "Mix-ups"), page == "Neck"
                works = ["Tab Next page", "w Weakest", *["Enter Drill this"] * drills, *["m Speed"] * speed]
                footer = " ".join([*works, "Esc Back q Quit F1 Help"])
                await until(pilot, lambda footer=footer: shown(app).splitlines()[-1].strip() == footer)
            await press(pilot, "tab")


@pytest.mark.long
async def test_nothing_is_weakest_before_anything_was_asked(make_app: MakeApp, record: Record) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, HomeScreen))
        await press(pilot, "p")
        screen = await sees(pilot, "writes a sheet to print")
        assert "weakest" not in screen.casefold()
        drills = len(list(record.drills()))
        await press(pilot, "w")
        await pilot.pause()
        assert len(list(record.drills())) == drills


@pytest.mark.long
async def test_home_and_progress_agree_on_a_day_of_misses(
    make_app: MakeApp, clock: HandClock, fake_environment: Environment, record: Record
) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await drilled(pilot, clock)
        clock.tick(86_400)
        await press(pilot, "a")
        await begin(pilot)
        await press(pilot, "question_mark")
        await until(pilot, lambda: drilling(app).verdict)
        await press(pilot, "escape", "escape")
        await until(pilot, lambda: isinstance(app.screen, HomeScreen))
        view, progress = app.services.home(), app.services.progress()
        assert progress.sitting is not None
        assert {spot: row.recall for spot, row in progress.spots.items()} == view.strengths
        for status in progress.statuses:
            if status.seen:
                assert card_history(status.card, progress).status.strength == pytest.approx(status.strength, abs=1e-9)


@pytest.mark.long
async def test_after_tells_what_was_landed_on_in_rounds_of_these_keys(
    make_app: MakeApp, clock: HandClock, record: Record
) -> None:
    record.start_drill(DrillRow("round-1", 0, None, "two-shapes", 5, "{}", "", None))
    for key in PRACTICAL_KEYS:
        uid = f"landing-{key.name}"
        record.append_landing(LandingRow(uid, "round-1", key.name, 0, "self-checked", True, None, None, None))
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await drilled(pilot, clock)
        await reads(pilot, "In rounds you landed on F♯ minor once by your own account;")
