"""Keys can be given to other commands in the settings file; what cannot be is told with file, field and fix."""

from __future__ import annotations

import pytest
from textual.widgets import Input

from drill import settings as settings_file
from drill.errors import BadFile
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.tui.keymap import read_keymap
from drill.tui.palette import CommandProvider
from tests.support.records import attempt, drill
from tests.support.screens import press, sees, shown, until
from tests.tui.conftest import MakeApp


@pytest.mark.parametrize(
    ("command", "key", "problem", "fix"),
    [
        ("lookup", "f8", "there is no such command", "The nearest is “look-up”."),
        ("look-up", "f88", "“f88” is not a key", "Write one key, such as"),
        ("look-up", "p", "“p” is the key of “progress” on the same screen", "another key"),
        ("help", "t", "“t” is the key of “", "another key"),
        ("pause", "p", "“p” is typed into the field of “drill”", "Use a function key or Ctrl"),
    ],
)
def test_what_cannot_be_bound_is_told(command: str, key: str, problem: str, fix: str) -> None:
    with pytest.raises(BadFile) as refused:
        read_keymap(((command, key),), "settings.toml")
    assert refused.value.message.startswith(f"settings.toml, keys.{command}: ")
    assert problem in refused.value.message
    assert fix in refused.value.fix


def test_two_commands_may_swap_their_keys() -> None:
    assert read_keymap((("look-up", "p"), ("progress", "l")), "") == {"look-up": "p", "progress": "l"}


def test_the_former_name_of_a_command_is_read_for_ever() -> None:
    assert read_keymap((("half-tone-up", "f8"),), "settings.toml") == {"semitone-up": "f8"}


def test_the_table_is_read_and_written_with_the_settings() -> None:
    settings = settings_file.parse('frets = 22\n[keys]\nlook-up = "f8"\n', "settings.toml")
    assert settings.keys == (("look-up", "f8"),)
    assert settings_file.parse(settings_file.dump(settings), "") == settings
    with pytest.raises(BadFile, match=r"keys\.look-up: “8” does not fit"):
        settings_file.parse("[keys]\nlook-up = 8\n", "settings.toml")


@pytest.mark.long
async def test_a_command_answers_to_its_new_key_and_is_shown_with_it(make_app: MakeApp) -> None:
    app = make_app({"keys": (("look-up", "f8"),)})  # type: ignore[dict-item]
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "F8 Look up")
        await press(pilot, "l")
        assert "t Today" in shown(app)
        await press(pilot, "f8")
        await until(pilot, lambda: getattr(app.screen, "where", "") == "look-up")


def test_a_conflict_stops_the_program_before_it_opens(make_app: MakeApp) -> None:
    with pytest.raises(BadFile, match=r"settings\.toml, keys\.look-up"):
        make_app({"keys": (("look-up", "p"),)})  # type: ignore[dict-item]


def test_no_table_changes_nothing() -> None:
    assert "[keys]" not in settings_file.dump(Settings())


OWN = (
    ("look-up", "f8"), ("round", "u"), ("quit", "ctrl+t"), ("help", "f9"), ("not-known", "f10"), ("go-on", "g"),
    ("end-drill", "x"), ("dots", "f11"), ("relative", "f12"), ("weakest", "z"), ("drill-weakest", "z"), ("again", "b"),
    ("yes", "j"), ("chords", "k"), ("check-on", "g"),
)  # fmt: skip
"""A key of its own for commands that screens tell of."""


@pytest.mark.long(but=1)
@pytest.mark.parametrize(
    ("keys", "begin", "words"),
    [
        (["escape"], False, ["F8 Look up", "u Round", "^t Quit", "F9 Help"]),
        (["enter", "enter"], False, ["j  Yes"]),
        (["escape", "f8", "a", "enter"], False, ["(F11)", "F12 relative key", "F11 Dots", "^t Quit"]),
        (["escape", "f9"], False, ["F8     Look up", "u      Round"]),
        ([], True, ["^t Quit", "F9 Help"]),
        (["space"], True, ["g  Resume", "F8  Look up", "x  End the drill", "x End the drill", "F8 Look up"]),
        (["escape"], True, ["b Another drill", "^t Quit"]),
        (["escape", "o"], False, ["chords on (k)"]),
        (["escape", "s", "m"], False, ["g begins the check."]),
    ],
)
async def test_a_new_key_is_told_everywhere(keys: list[str], begin: bool, words: list[str], make_app: MakeApp) -> None:
    app = make_app({"keys": OWN}, begin=begin)  # type: ignore[dict-item]
    async with app.run_test(size=(100, 40)) as pilot:
        await until(pilot, lambda: getattr(app.screen, "where", "") in ("welcome", "drill"))
        for key in keys:
            before = app.screen
            await press(pilot, key)
            await until(pilot, lambda before=before: app.screen is not before or isinstance(app.focused, Input))  # type: ignore[misc]
        for each in words:
            await sees(pilot, each)


@pytest.mark.long
async def test_a_new_key_for_what_is_weakest_is_told_once_something_was_asked(
    make_app: MakeApp, fake_environment: Environment, record: Record
) -> None:
    asked_at = round(1000 * fake_environment.now())
    record.start_drill(drill())
    record.append(attempt(1, card="shape-anchor:key=Am:shape=string-6", family="shape-anchor", asked_at=asked_at))
    app = make_app({"keys": OWN})  # type: ignore[dict-item]
    async with app.run_test(size=(100, 40)) as pilot:
        await sees(pilot, "t Today")
        await press(pilot, "p")
        for words in ("z drills what is weakest", "z Weakest"):
            await sees(pilot, words)


@pytest.mark.long
async def test_the_palette_tells_a_new_key(make_app: MakeApp) -> None:
    app = make_app({"keys": OWN})  # type: ignore[dict-item]
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "u Round")
        helps = {str(hit.display): hit.help async for hit in CommandProvider(app.screen, None).discover()}
        assert helps["Look up"].startswith("F8 ") and helps["Quit"].startswith("^t ")  # type: ignore[union-attr]
