"""Set-up in a learner's words beside a neck; help begins with the screen it was called from; the palette finds all."""

from __future__ import annotations

import pytest

from drill.present.setting_words import title_of, value_of
from drill.settings import Settings, fields
from drill.tui import FretsureApp
from drill.tui.palette import CommandProvider
from drill.tui.widgets.choices import Choices
from tests.support.screens import begin, press, sees, shown, until
from tests.tui.conftest import MakeApp

SIZES = [(40, 12), (80, 24), (120, 40)]


def where(app: FretsureApp) -> str:
    return getattr(app.screen, "where", "")


def test_every_setting_has_words_of_its_own() -> None:
    for field in fields():
        assert "bpm" not in title_of(field.name).casefold()
        for choice in field.choices:
            assert value_of(field.name, choice) != choice or choice == "fingers"


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_a_change_of_set_up_shows_on_the_neck(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "s")
        await sees(pilot, "Instrument         Guitar, standard")
        if size == (40, 12):
            assert "Example" not in shown(app)
            return
        await sees(pilot, "Example: B minor, low-E-string shape")
        for _ in range(3):
            await press(pilot, "down")
        await press(pilot, "right")
        await sees(pilot, "left-handed")
        lines = shown(app).splitlines()
        assert any(line.rstrip().endswith(("6 E", "6 E  █")) or "║ 6 E" in line or " 6 E" in line for line in lines)
        await press(pilot, "down", "down", "right")
        await sees(pilot, "Example: H minor, low-E-string shape")
        await press(pilot, "down", "right")
        await sees(pilot, "Example: H minor, low-E-string shape (number 1)")


@pytest.mark.long
async def test_the_setting_under_the_cursor_is_in_sight_in_the_lowest_window(make_app: MakeApp) -> None:
    """A long sentence below the list takes room from it."""
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape", "s")
        await sees(pilot, "Back Set-up")
        for field in fields():
            await sees(pilot, title_of(field.name))
            await press(pilot, "down")


@pytest.mark.long
async def test_a_letter_leads_to_the_next_setting_of_that_name_and_around(make_app: MakeApp) -> None:
    """By any word of four letters or more: "t" does not stop at the neck for its "the"."""
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "s")
        await sees(pilot, "Instrument         Guitar, standard")
        settings = app.screen.query_one(Choices)
        for letter, title in (
            ("t", "Beats and time"), ("t", "Your tempo"), ("t", "Heard through"), ("t", "Title of reports"),
            ("t", "Beats and time"), ("n", "Your name"), ("n", "Frets on the neck"), ("n", "Note names"),
        ):  # fmt: skip
            await press(pilot, letter)
            await until(pilot, lambda title=title: title_of(settings.chosen or "instrument") == title)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_help_begins_with_this_screen_and_the_signs(size: tuple[int, int], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape", "l")
        await until(pilot, lambda: where(app) == "look-up")
        await press(pilot, "f1")
        screen = await sees(pilot, "Look up: this screen")
        assert screen.index("Look up: this screen") < screen.index("Show")
        if size == (120, 40):
            assert screen.index("Semitone up") < screen.index("On the neck") < screen.index("Everywhere")


@pytest.mark.long
async def test_help_in_a_drill_begins_with_the_drill(make_app: MakeApp) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "f1")
        await sees(pilot, "Drill: this screen")


async def found(app: FretsureApp, query: str) -> list[str]:
    """Titles as the palette orders them."""
    hits = [hit async for hit in CommandProvider(app.screen, None).search(query)]
    return [str(hit.text or hit.match_display) for hit in sorted(hits, key=lambda hit: -hit.score)]


async def test_the_palette_ranks_titles_first(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        for query, title in (
            ("eb minor", "E♭ minor"),
            ("ebm", "E♭ minor"),
            ("whole", "The whole neck"),
            ("note names", "Note names"),
            ("tempo", "Your tempo"),
            ("help", "Help"),
            ("look", "Look up"),
        ):
            assert (await found(app, query))[0] == title


@pytest.mark.long
async def test_the_palette_tells_no_key_that_would_be_typed_into_the_field_below(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "f")
        await until(pilot, lambda: where(app) == "focus")
        await press(pilot, "ctrl+p")
        await sees(pilot, "^q  Leave the program")


async def test_the_palette_opens_a_key_a_setting_and_takes_a_deck(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        app.show_setting("tempo_bpm")
        await sees(pilot, "80 beats per minute")
        assert app.screen.query_one("#settings").chosen == "tempo_bpm"  # type: ignore[attr-defined]
        await press(pilot, "escape")
        await until(pilot, lambda: where(app) == "home")
        app.choose_deck("whole-neck")
        await sees(pilot, "fretsure · The whole neck")
        assert app.services.settings == Settings(deck="whole-neck")
