"""Every command exists once, works where it is offered, and is told by help, footer and palette."""

from __future__ import annotations

import itertools

import pytest
from textual.pilot import Pilot

from drill.decks import Focus
from drill.theory.chords import parse_chords
from drill.tui import FretsureApp
from drill.tui.commands import COMMANDS, everywhere, find, of_screen
from drill.tui.palette import CommandProvider
from drill.tui.screens import PAGES, page
from drill.tui.screens.after import AfterScreen
from drill.tui.screens.drill import DrillScreen
from drill.tui.screens.home import HomeScreen
from drill.tui.screens.pause import PauseScreen
from drill.tui.screens.play import PlayScreen
from drill.tui.screens.widen import WidenScreen
from drill.tui.widgets.key_footer import KeyFooter
from tests.support.screens import begin, press, sees, shown, until
from tests.tui.conftest import MakeApp

SCREENS = {name: page(name) for name in PAGES} | {
    "home": HomeScreen,
    "drill": DrillScreen,
    "pause": PauseScreen,
    "after": AfterScreen,
    "play": PlayScreen,
    "widen": WidenScreen,
}
OVERRIDDEN = {("drill", "question_mark")}
"""Keys that a screen takes from the commands that work everywhere: in a drill ? means not known, and F1 still helps."""


LEFT_TO_THE_FIELD = {"answer", "show", "start"}
"""Commands whose Enter the field of the screen handles, in the order of the keys; tests of these screens press it."""


def test_ids_are_given_once() -> None:
    ids = [command.id for command in COMMANDS]
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("where", SCREENS)
def test_no_key_of_a_screen_means_two_things(where: str) -> None:
    keys = [key for command in of_screen(where) for key in command.key.split(",")]
    assert len(keys) == len(set(keys))
    others = {key for command in everywhere() for key in command.key.split(",")}
    assert {(where, key) for key in keys if key in others} <= OVERRIDDEN


@pytest.mark.long(but=40)
@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.id)
def test_every_command_is_carried_out_where_it_is_offered(command) -> None:  # type: ignore[no-untyped-def]
    homes = [SCREENS[where] for where in command.where] or [FretsureApp]
    assert all(callable(getattr(home, f"action_{command.action}", None)) for home in homes)


async def go_to(pilot: Pilot[None], where: str) -> None:
    """Bring a screen to the front as a learner does: through Home, or from a drill that has begun."""
    await until(pilot, lambda: getattr(pilot.app.screen, "where", "") in ("welcome", "drill"))
    if where in PAGES:
        pilot.app.open(where)  # type: ignore[attr-defined]
    elif where == "play":
        pilot.app.play_loop(parse_chords("Am F C G"))  # type: ignore[attr-defined]
    elif where == "widen":
        pilot.app.start_drill(Focus(strings=(1,)))  # type: ignore[attr-defined]
    else:
        await press(pilot, *{"home": ["escape"], "pause": ["space"], "after": ["escape"]}.get(where, []))
    await until(pilot, lambda: getattr(pilot.app.screen, "where", "") == where and pilot.app.screen.is_mounted)
    if where == "drill":
        await begin(pilot)
    await pilot.pause()


async def assert_keys_do(pilot: Pilot[None], where: str, patch: pytest.MonkeyPatch) -> None:
    """Every key of the screen in front does what the table says."""
    done: list[str] = []
    commands = [command for command in of_screen(where) if command.id not in LEFT_TO_THE_FIELD]
    for command in commands:
        patch.setattr(SCREENS[where], f"action_{command.action}", lambda _, id=command.id: done.append(id))
    patch.setattr(SCREENS[where], "check_action", lambda *_: True)  # some work only once something is there
    for command in commands:
        for key in command.key.split(","):
            await press(pilot, key)
            await until(pilot, lambda: done)
            assert done == [command.id]
            done.clear()


@pytest.mark.long(but=1)
@pytest.mark.parametrize("where", sorted(SCREENS.keys() - PAGES))
async def test_every_key_of_a_screen_does_what_the_table_says(
    where: str, make_app: MakeApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = make_app(begin=where in ("drill", "pause", "after"))
    async with app.run_test(size=(40, 12)) as pilot:
        await go_to(pilot, where)
        await assert_keys_do(pilot, where, monkeypatch)


@pytest.mark.long
async def test_every_key_of_a_page_does_what_the_table_says(make_app: MakeApp, monkeypatch: pytest.MonkeyPatch) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        for where in PAGES:
            await go_to(pilot, where)
            await assert_keys_do(pilot, where, monkeypatch)
            while getattr(app.screen, "where", "") != "welcome":
                app.pop_screen()


def test_every_screen_of_the_table_exists() -> None:
    assert set(itertools.chain.from_iterable(command.where for command in COMMANDS)) <= set(SCREENS)


@pytest.mark.long
async def test_help_tells_every_command_and_question_mark_opens_and_closes_it(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(110, 170)) as pilot:
        await press(pilot, "escape", "question_mark")
        screen = " ".join((await sees(pilot, "Everywhere")).split())
        for command in COMMANDS:
            assert f"{command.key_shown} {command.title} {command.help}" in screen
        await press(pilot, "question_mark")
        await sees(pilot, "t Today")


@pytest.mark.long
async def test_help_keeps_its_columns_in_a_narrow_terminal(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 24)) as pilot:
        await press(pilot, "escape", "question_mark")
        lines = (await sees(pilot, "Home: this screen")).splitlines()
        at = next(number for number, line in enumerate(lines) if line.split() == ["f", "Focus"])
        under = lines[at].index("Focus")
        assert lines[at + 1].index("Drill one string, key") == under
        assert lines[at + 2][:under].isspace()


async def test_the_palette_offers_what_works_here_and_runs_it(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        provider = CommandProvider(app.screen, None)
        titles = {str(hit.display) async for hit in provider.discover()}
        works = {command.title for command in (*of_screen("home"), *everywhere())}
        assert titles == works - {"Homework"}, "nothing is set"
        hit = max([hit async for hit in provider.search("look up")], key=lambda hit: hit.score)
        await hit.command()  # type: ignore[misc]
        await sees(pilot, "Type a key, a scale or the chords of a loop")


async def test_the_footer_names_the_keys_of_a_drill(make_app: MakeApp) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(100, 24)) as pilot:
        await begin(pilot)
        for name in ("answer", "pause", "not-known", "end"):
            await until(pilot, lambda: f"{find(name).key_shown} {find(name).title}" in shown(app).splitlines()[-1])  # noqa: B023


def footer(app: FretsureApp) -> str:
    """What the footer tells, each command once."""
    return " ".join("".join(shown(app).splitlines()[-1:]).split())


@pytest.mark.long(but=1)
@pytest.mark.parametrize("where", ["home", "after", "progress", "decks", "pause", "set-up"])
async def test_a_letter_that_quits_is_told_and_where_letters_are_typed_another_key_is(
    where: str, make_app: MakeApp
) -> None:
    app = make_app(begin=where in ("pause", "after"))
    async with app.run_test(size=(100, 24)) as pilot:
        await go_to(pilot, where)
        await until(pilot, lambda: "q Quit" in footer(app))
        app.open("look-up")
        await until(pilot, lambda: "^q Quit" in footer(app))
        await press(pilot, "escape")
        await until(pilot, lambda: "q Quit" in footer(app) and "^q" not in footer(app))
        await press(pilot, "q")
        await until(pilot, lambda: app.left_with == 0)


@pytest.mark.long
async def test_a_footer_is_drawn_anew_only_when_other_keys_are_offered(
    make_app: MakeApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = make_app()
    async with app.run_test(size=(100, 24)) as pilot:
        await go_to(pilot, "home")
        await until(pilot, lambda: "q Quit" in footer(app))
        row = app.screen.query_one(KeyFooter)
        keys = row.keys
        app.screen.refresh_bindings()
        await press(pilot, "escape")
        await pilot.pause()
        assert row.keys is keys
        monkeypatch.setattr(app, "check_action", lambda action, parameters: action != "do_quit")
        app.screen.refresh_bindings()
        await until(pilot, lambda: "q Quit" not in footer(app) and "Enter" in footer(app))


async def test_the_footer_of_a_pause_tells_that_keys_can_be_looked_up(make_app: MakeApp) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(100, 24)) as pilot:
        await go_to(pilot, "pause")
        await until(pilot, lambda: "l Look up" in footer(app) and "e End the drill" in footer(app))


@pytest.mark.long
@pytest.mark.parametrize("where", ["home", "after"])
async def test_the_footer_repeats_no_command_that_the_screen_lists(where: str, make_app: MakeApp) -> None:
    app = make_app(begin=where == "after")
    async with app.run_test(size=(100, 24)) as pilot:
        await go_to(pilot, where)
        await until(pilot, lambda: footer(app) == "Enter Open q Quit F1 Help")
