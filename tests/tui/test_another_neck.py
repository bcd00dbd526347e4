"""A capo or a tuning changed by a slip: Set-up and Home say that nothing is lost, and it comes back."""

from __future__ import annotations

import pytest

from tests.support.screens import answer_rightly, begin, go_on, press, reads, sees, shown, until
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp

SIZES = [(40, 12), (120, 40)]
KEPT = "What you know without a capo is kept"


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_a_capo_set_by_a_slip_loses_nothing_and_both_screens_say_so(
    size: tuple[int, int], make_app: MakeApp, clock: HandClock
) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=size) as pilot:
        await begin(pilot)
        for _ in range(2):
            clock.tick(1)
            await answer_rightly(pilot)
            await go_on(pilot)
        await press(pilot, "escape", "escape")
        await sees(pilot, "t Today")
        await press(pilot, "s")
        await until(pilot, lambda: getattr(app.screen, "where", "") == "set-up")
        await press(pilot, "c", "right")  # the capo
        await reads(pilot, KEPT)
        assert app.services.settings.capo == 1
        await press(pilot, "escape")
        await until(pilot, lambda: getattr(app.screen, "where", "") == "home")
        assert any(KEPT in notice for notice in app.services.home().notices)
        if size[1] >= 24:
            await reads(pilot, KEPT)
        await press(pilot, "s")
        await until(pilot, lambda: getattr(app.screen, "where", "") == "set-up")
        await press(pilot, "c", "left")
        await until(pilot, lambda: app.services.settings.capo == 0)
        await pilot.pause(0.05)
        assert KEPT not in shown(app)
        assert not app.services.kept_elsewhere()


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_home_names_the_capo_even_where_nothing_has_been_asked_yet(
    size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape")
        assert "Capo" not in await sees(pilot, "t Today")
        app.services.change("capo", 2)
        app.screen.refresh_view()
        await sees(pilot, "Capo at fret 2 · Two shapes, every key")


NO_SHAPES = "drill notes and relative keys; shapes are for strings in fourths, as on a guitar in standard tuning."


async def test_in_drop_d_the_screens_say_that_shapes_are_for_other_tunings(make_app: MakeApp) -> None:
    app = make_app({"tuning": "drop-d"})
    async with app.run_test(size=(80, 40)) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter")
        await reads(pilot, NO_SHAPES)
        assert "anchors" not in shown(app)
        await press(pilot, "escape", "escape")
        await sees(pilot, "t Today")
        await reads(pilot, NO_SHAPES)
        await press(pilot, "f")
        await sees(pilot, "To begin with")
        await press(pilot, *"am", "space", *"shape")
        await reads(pilot, NO_SHAPES)
