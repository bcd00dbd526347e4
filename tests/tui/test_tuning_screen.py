"""The tuning check on the screen, and the sign that stands whenever the microphone is open."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable

import pytest
from textual import events
from textual.pilot import Pilot

from drill.practice.hearing import NOT_LET
from drill.record import Record
from drill.settings import Settings
from drill.system.audio import NOT_INSTALLED
from drill.system.duplex import open_duplex
from drill.system.environment import Environment
from drill.system.signals import STANDS_STILL
from drill.tui import FretsureApp
from drill.tui.screens import page
from drill.tui.screens.help import HelpScreen
from drill.tui.screens.tuning_check import SEEN_S, TuningCheckScreen
from drill.tui.widgets.listening_sign import WORDS
from tests.support.microphone import FakeDuplex, MicrophoneShop
from tests.support.missing import hide_numpy
from tests.support.screens import press, reads, sees, shown, until
from tests.support.worlds import HandClock

GUITAR = (40, 45, 50, 55, 59, 64)
IN_TUNE = [(1.0 + number, midi) for number, midi in enumerate(GUITAR)]


@pytest.fixture
def shop(clock: HandClock) -> MicrophoneShop:
    return MicrophoneShop(clock, IN_TUNE)


@pytest.fixture
def app(fake_environment: Environment, record: Record, shop: MicrophoneShop) -> FretsureApp:
    return FretsureApp(fake_environment._replace(open_duplex=shop), Settings(), record)


def stream(shop: MicrophoneShop) -> FakeDuplex:
    assert shop.duplex is not None
    return shop.duplex


def push(app: FretsureApp, then: Callable[[object], None] = lambda _: None) -> None:
    app.push_screen(TuningCheckScreen(), then)


@pytest.mark.long
async def test_strings_are_told_as_they_are_played_and_it_goes_on_by_itself(
    app: FretsureApp, shop: MicrophoneShop, clock: HandClock
) -> None:
    gone_on: list[object] = []
    async with app.run_test(size=(80, 24)) as pilot:
        push(app, gone_on.append)
        screen = await sees(pilot, WORDS)
        assert "string 6 (low E)    not heard yet" in screen
        clock.tick(1.8)
        await sees(pilot, "string 6 (low E)    in tune")
        assert "string 5 (A)        not heard yet" in shown(app)
        clock.tick(6)
        await reads(pilot, "Every string is in tune.")
        assert not stream(shop).is_open
        await until(pilot, lambda: gone_on == [None])


@pytest.mark.long(but=1)
@pytest.mark.parametrize("key", ["enter", "space", "escape"])
async def test_one_key_skips_it_and_closes_the_microphone(key: str, app: FretsureApp, shop: MicrophoneShop) -> None:
    gone_on: list[object] = []
    async with app.run_test(size=(80, 24)) as pilot:
        push(app, gone_on.append)
        await sees(pilot, WORDS)
        assert stream(shop).is_open
        await press(pilot, key)
        await until(pilot, lambda: gone_on == [None])
        assert not stream(shop).is_open


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", [(40, 12), (80, 24)])
async def test_it_fits(size: tuple[int, int], app: FretsureApp, clock: HandClock) -> None:
    async with app.run_test(size=size) as pilot:
        push(app)
        await sees(pilot, "listening")
        clock.tick(1.8)
        screen = await sees(pilot, "string 6 (low E)    in tune")
        assert "string 1 (high E)" in screen
        await reads(pilot, "1 of 6 strings heard.")


@pytest.mark.long
async def test_without_a_microphone_it_says_so_and_one_key_goes_on(
    fake_environment: Environment, record: Record
) -> None:
    app = FretsureApp(fake_environment, Settings(), record)
    gone_on: list[object] = []
    async with app.run_test(size=(80, 24)) as pilot:
        push(app, gone_on.append)
        await reads(pilot, "No microphone was found.")
        assert WORDS not in shown(app)
        await press(pilot, "enter")
        await until(pilot, lambda: gone_on == [None])


@pytest.mark.long
async def test_a_microphone_that_gives_nothing_is_explained(
    app: FretsureApp, shop: MicrophoneShop, clock: HandClock
) -> None:
    shop.plucks, shop.hiss = (), 0.0
    async with app.run_test(size=(80, 24)) as pilot:
        push(app)
        await sees(pilot, WORDS)
        clock.tick(2.5)
        await reads(pilot, NOT_LET)
        assert WORDS not in shown(app)
        assert not stream(shop).is_open


@pytest.mark.long
async def test_a_microphone_that_is_unplugged_is_one_sentence(app: FretsureApp, shop: MicrophoneShop) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        push(app)
        await sees(pilot, WORDS)
        stream(shop).unplug()
        await reads(pilot, "The microphone is gone, so nothing is heard any more.")
        assert WORDS not in shown(app)


async def test_the_microphone_closes_when_the_program_is_left(app: FretsureApp, shop: MicrophoneShop) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        push(app)
        await sees(pilot, WORDS)
        app.leave()
    assert not stream(shop).is_open


@pytest.mark.long(but=1)
@pytest.mark.parametrize("how", ["pause", "help", "blur"])
async def test_the_microphone_closes_whenever_nobody_looks(how: str, app: FretsureApp, shop: MicrophoneShop) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        push(app)
        await sees(pilot, WORDS)
        if how == "help":
            await press(pilot, "f1")
        elif how == "blur":
            app.on_app_blur()
        else:
            app.screen.pause("The program was suspended.")  # type: ignore[attr-defined]
        await until(pilot, lambda: not stream(shop).is_open)
        await until(pilot, lambda: WORDS not in shown(app))


@pytest.mark.long
async def test_the_microphone_is_closed_while_the_program_stands_still(
    app: FretsureApp, shop: MicrophoneShop, monkeypatch: pytest.MonkeyPatch
) -> None:
    if STANDS_STILL is None:
        pytest.skip("no program can be suspended here")
    stopped: list[bool] = []
    async with app.run_test(size=(80, 24)) as pilot:
        push(app)
        await sees(pilot, WORDS)
        with monkeypatch.context() as patched:
            patched.setattr(os, "kill", lambda process, number: stopped.append(stream(shop).is_open))
            signal.raise_signal(STANDS_STILL)
        assert stopped == [False]
        await sees(pilot, WORDS)
        assert stream(shop).is_open
    assert not stream(shop).is_open


async def test_help_over_it_stays_when_the_strings_are_in_tune(
    app: FretsureApp, shop: MicrophoneShop, clock: HandClock
) -> None:
    """Help that is opened just before the check leaves by itself is read in peace; then the check goes on."""
    gone_on: list[object] = []
    async with app.run_test(size=(80, 24)) as pilot:
        push(app, gone_on.append)
        await sees(pilot, WORDS)
        clock.tick(8)
        await reads(pilot, "Every string is in tune.")
        await press(pilot, "f1")
        await until(pilot, lambda: not isinstance(app.screen, TuningCheckScreen))
        await pilot.pause(SEEN_S + 0.3)
        assert isinstance(app.screen, HelpScreen)
        assert not gone_on
        await press(pilot, "escape")
        await until(pilot, lambda: gone_on == [None])


async def leave(pilot: Pilot[None], how: str) -> None:
    if how == "help":
        await press(pilot, "f1")
    else:
        pilot.app.post_message(events.AppBlur())


async def come_back(pilot: Pilot[None], how: str) -> None:
    if how == "help":
        await press(pilot, "escape")
    else:
        pilot.app.post_message(events.AppFocus())


@pytest.mark.parametrize("how", ["help", "blur"])
async def test_it_listens_again_when_the_learner_is_back(how: str, app: FretsureApp, shop: MicrophoneShop) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        push(app)
        await sees(pilot, WORDS)
        await leave(pilot, how)
        await until(pilot, lambda: not stream(shop).is_open)
        await come_back(pilot, how)
        await until(pilot, lambda: stream(shop).is_open)
        await sees(pilot, WORDS)
        assert "Another window" not in shown(app)


@pytest.mark.long
async def test_without_numpy_it_says_so_and_one_key_goes_on(
    fake_environment: Environment, record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = FretsureApp(fake_environment._replace(open_duplex=open_duplex), Settings(), record)
    gone_on: list[object] = []
    hide_numpy(monkeypatch)
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(page("tuning-check")(), gone_on.append)
        await reads(pilot, NOT_INSTALLED)
        await press(pilot, "enter")
        await until(pilot, lambda: gone_on == [None])
