"""The look-up screen: what it shows of what was typed. What can be typed: tests/lookup/test_query.py."""

from __future__ import annotations

from tests.support.screens import look_up_at_home, press, sees
from tests.tui.conftest import MakeApp


async def test_a_refusal_takes_the_place_of_what_was_found_before(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "Bb minor")
        assert "◆1m" in await sees(pilot, "relative D♭ major")
        await press(pilot, *"Bdim", "enter")
        screen = await sees(pilot, "“Bdim” is a single chord")
        assert "relative D♭ major" not in screen
        assert "◆" not in screen
        await press(pilot, "f2", *"Em", "enter")
        screen = await sees(pilot, "relative G major")
        assert "is a single chord" not in screen
        assert "◆" in screen


async def test_one_key_says_on_which_chord_a_loop_rests(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "D C G")
        assert "fits D mixolydian or G major" in await sees(pilot, "D C G")
        await press(pilot, "f5")
        await sees(pilot, "resting on D: D mixolydian")
        await press(pilot, "f5", "f5")
        await sees(pilot, "resting on G: G major")
        await press(pilot, "f5")
        await sees(pilot, "fits D mixolydian or G major")


async def test_a_key_rests_nowhere(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "Bb minor")
        await press(pilot, "f5")
        assert "resting" not in await sees(pilot, "relative D♭ major")
