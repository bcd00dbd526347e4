"""Focus, Few cards and After use a large window, and stay whole in a small one."""

from __future__ import annotations

import pytest

from drill.decks import Focus
from drill.theory.keys import parse_key
from drill.tui import FretsureApp
from drill.tui.screens.after import AfterScreen
from drill.tui.screens.progress import ProgressScreen
from drill.tui.screens.widen import WidenScreen
from drill.tui.widgets.focus_preview import BESIDE_FROM, FocusPreview
from drill.tui.widgets.spot_picker import StrengthMap
from tests.support.reading import says
from tests.support.screens import answer_rightly, begin, drilling, go_on, press, reads, resized, sees, shown, until
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp

SIZES = [(40, 12), (80, 24), (120, 40), (200, 60)]
WIDE = [(120, 40), (200, 60)]
ON_A = Focus(strings=(5,), keys=(parse_key("Ebm"),))


def list_of(app: FretsureApp) -> str:
    """The list alone, without what stands beside it."""
    width = app.size.width if app.size.width < BESIDE_FROM else 2 * app.size.width // 5
    return "\n".join(row[:width] for row in shown(app).splitlines())


def column_filled(screen: str, at: int) -> float:
    """The share of rows that have something beyond a column."""
    rows = screen.splitlines()
    return sum(bool(row[at:].strip()) for row in rows) / len(rows)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_few_cards_begins_with_what_was_asked_for_and_says_what_each_line_adds(
    size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app(begin=True, focus=ON_A)
    async with app.run_test(size=size) as pilot:
        await sees(pilot, "as it is  1 card")
        await reads(pilot, "Just what you asked for.")
        await press(pilot, "down")
        await until(pilot, lambda: says(list_of(app), "It adds all else that is asked about D♯ minor."))
        assert says(list_of(app), "the same key on every string 4 cards")
        await press(pilot, "up", "enter")
        await begin(pilot)
        assert [entry.item.card for entry in drilling(app).session.deck.entries.values()] == [
            "shape-anchor:key=D#m:shape=string-5"
        ]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_a_click_takes_a_line_of_few_cards(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app(begin=True, focus=ON_A)
    async with app.run_test(size=size) as pilot:
        screen = (await reads(pilot, "the same key on every string")).splitlines()
        row = next(at for at, line in enumerate(screen) if "the same key" in line)
        await pilot.click(offset=(6, row))
        await begin(pilot)
        assert len(drilling(app).session.deck.entries) == 4


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", WIDE)
async def test_beside_a_choice_stands_what_it_would_drill(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "f")
        screen = await reads(pilot, "Its questions")
        assert column_filled(screen, size[0] // 2) > 0.6
        await press(pilot, *"bm")
        screen = await reads(pilot, "D major: relative minor?")
        assert "Index fret of a shape: 2 cards" in screen
        assert "◆1m" in screen


@pytest.mark.long
@pytest.mark.parametrize("size", [(40, 12), (80, 24)])
async def test_a_small_window_keeps_the_whole_list(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "f")
        await sees(pilot, "To begin with")
        assert not app.screen.query_one(FocusPreview).display
        await press(pilot, *"ebm")
        await sees(pilot, "4 cards")
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, WidenScreen))
        assert not app.screen.query_one(FocusPreview).display


@pytest.mark.long
async def test_after_a_drill_a_high_window_shows_the_neck_as_it_stands_now(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=SIZES[0]) as pilot:
        await begin(pilot)
        for _ in range(3):
            clock.tick(1)
            await answer_rightly(pilot)
            await go_on(pilot)
        await press(pilot, "escape")
        for size in SIZES:
            await resized(pilot, size)
            await reads(pilot, "3 of 3 right")
            neck = app.screen.query_one(StrengthMap)
            assert neck.display == (size in WIDE)
            if neck.display:
                spots = app.services.progress().spots
                assert neck.strengths == {spot: row.recall for spot, row in spots.items()}
                blank = [row for row in shown(app).splitlines() if not row.strip()]
                assert len(blank) < size[1] / 3
                row = next(at for at, line in enumerate(shown(app).splitlines()) if line.startswith(" 6 E"))
                await pilot.click(offset=(shown(app).splitlines()[row].index("║") + 4, row))
                await until(pilot, lambda: isinstance(app.screen, ProgressScreen))
                await press(pilot, "escape")
                await until(pilot, lambda: isinstance(app.screen, AfterScreen))
