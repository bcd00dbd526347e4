"""The look-up screen: what it shows of what was typed. What can be typed: tests/lookup/test_query.py."""

from __future__ import annotations

import pytest
from textual.app import App
from textual.widgets import Static

from drill.tui.widgets.big_words import BigWords
from tests.support.screens import look_up_at_home, press, sees, shown, until
from tests.tui.conftest import MakeApp


@pytest.mark.long
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


async def test_arrows_move_a_loop_and_f5_goes_on_from_there(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "D C G")
        await sees(pilot, "fits D mixolydian or G major")
        await press(pilot, "up")
        await sees(pilot, "E♭ D♭ A♭: fits E♭ mixolydian or A♭ major")
        await press(pilot, "f5")
        await sees(pilot, "resting on E♭: E♭ mixolydian")
        await press(pilot, "down")
        await sees(pilot, "D C G, resting on D: D mixolydian")


async def test_a_loop_is_played_in_the_key_that_was_named(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "D C G in G")
        await sees(pilot, "resting on G: G major")
        await press(pilot, "f7")
        await sees(pilot, "Shapes of E minor and G major")
        assert "another key" not in shown(app)


@pytest.mark.parametrize("size", [(40, 12), (80, 24)])
async def test_an_open_loop_says_how_to_name_its_key_and_its_title_names_the_mode(
    size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        app.open("look-up")
        await sees(pilot, "Type a key")
        await press(pilot, *"Em7", "space", *"A7", "enter")
        await until(pilot, lambda: "any key can be typed after the chords: … in D major." in said(app))
        assert ("E dorian / D major" in shown(app).splitlines()[1]) == (size == (40, 12))
        assert app.screen.query_one(BigWords).short == "E dor / D"
        await press(pilot, *"Em7", "space", *"A7", "space", *"in", "space", "D", "enter")
        await until(pilot, lambda: "It rests on" not in said(app) and "the key is D major." in said(app))
        assert "any key can be typed" not in said(app)


def said(app: App[None]) -> str:
    """The sentences below the neck, whether or not they are in view."""
    return str(app.screen.query_one("#found", Static).content)


@pytest.mark.long
async def test_a_key_rests_nowhere(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "Bb minor")
        await press(pilot, "f5")
        assert "resting" not in await sees(pilot, "relative D♭ major")


@pytest.mark.parametrize(
    ("key", "hint"), [("l", "▌ Eb or F#m, A dorian or Am F C G"), ("f", "▌ such as Eb minor on the A string")]
)
async def test_the_example_in_an_empty_field_is_whole_in_forty_columns(make_app: MakeApp, key: str, hint: str) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape", key)
        await until(pilot, lambda: shown(app).splitlines()[-1] == hint)
        await pilot.resize_terminal(100, 12)
        await until(pilot, lambda: hint not in shown(app))


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
async def test_the_result_stands_first_and_arrows_step_through_the_keys(
    size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        app.open("look-up")
        await sees(pilot, "Type a key")
        await press(pilot, *"Am", "enter")
        screen = await sees(pilot, "relative C major")
        assert ("A minor" in screen.splitlines()[1]) == (size == (40, 12))  # else it stands there in block letters
        assert ("██" in screen) == (size != (40, 12))
        for key, words in (
            ("right", "relative G major"),
            ("left", "relative C major"),
            ("up", "relative D♭ major"),
            ("down", "relative C major"),
            ("tab", "relative A minor"),
        ):
            await press(pilot, key)
            screen = await sees(pilot, words)
            assert "◆" in screen


async def test_an_arrow_moves_the_cursor_while_something_is_edited(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "Am")
        await sees(pilot, "relative C major")
        await press(pilot, *"Em", "left", "b", "enter")
        await sees(pilot, "relative G♭ major")


@pytest.mark.long
async def test_a_scale_is_shown_and_the_footer_tells_only_what_works(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(100, 24)) as pilot:
        await press(pilot, "escape", "l")
        footer = (await sees(pilot, "step through the keys")).splitlines()[-1]
        assert "F2" not in footer and "F7" not in footer
        await press(pilot, "A", "space", *"dorian", "enter")
        await sees(pilot, "A B C D E F♯ G")
        footer = (await sees(pilot, "F2 Dots")).splitlines()[-1]
        assert "F7" not in footer and "F3" not in footer
        await press(pilot, *"Am", "space", "F", "enter")
        await until(pilot, lambda: "F7 Play it" in shown(app).splitlines()[-1])
        await press(pilot, "f7")
        await until(pilot, lambda: getattr(app.screen, "where", "") == "play")


async def test_the_dots_of_a_scale_show_what_the_line_below_them_says(make_app: MakeApp) -> None:
    """A scale all over the neck has no fingers: its dots show notes or degrees, and each press changes them."""
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await look_up_at_home(pilot, "A dorian")
        assert "(F♯)" in await sees(pilot, "dots show notes (F2)")
        await press(pilot, "f2")
        assert "(♭3)" in await sees(pilot, "dots show degrees (F2)")
        await press(pilot, "f2")
        assert "(F♯)" in await sees(pilot, "dots show notes (F2)")


async def test_what_is_shown_is_copied_with_its_neck(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await look_up_at_home(pilot, "Am")
        await sees(pilot, "relative C major")
        await press(pilot, "f6")
        await sees(pilot, "Copied.")
        assert "A-string shape: index fret" in app.clipboard
        assert "◆1m" in app.clipboard
