"""Sound and microphone on the screen: devices are chosen in Set-up, and the check is reached from there."""

from __future__ import annotations

import pytest

from drill import settings as settings_file
from drill.practice.hearing import LOST
from drill.record import Record
from drill.settings import Settings
from drill.system.audio import NOT_INSTALLED
from drill.system.duplex import Devices, open_duplex
from drill.system.environment import Environment
from drill.tui import FretsureApp
from drill.tui.widgets.listening_sign import WORDS
from tests.support.microphone import MicrophoneShop
from tests.support.missing import hide_numpy
from tests.support.screens import press, reads, sees, shown, until
from tests.support.worlds import HandClock

DEVICES = Devices(("webcam", "interface"), ("HDMI", "headphones"))


@pytest.fixture
def shop(clock: HandClock) -> MicrophoneShop:
    return MicrophoneShop(clock)


@pytest.fixture
def app(fake_environment: Environment, record: Record, shop: MicrophoneShop) -> FretsureApp:
    world = fake_environment._replace(open_duplex=shop, find_devices=lambda: DEVICES)
    return FretsureApp(world, Settings(path_ms=70), record)


@pytest.mark.long
async def test_devices_are_chosen_in_set_up_and_what_was_measured_with_others_is_dropped(app: FretsureApp) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        app.show_setting("microphone")
        screen = await sees(pilot, "Microphone         the system's")
        assert "Choices: the system's, webcam, interface" in screen
        assert app.services.settings.path_ms == 70
        await press(pilot, "right", "right")
        await sees(pilot, "Microphone         interface")
        assert app.services.settings == Settings(microphone="interface", path_ms=0)
        await press(pilot, "down", "left")
        await sees(pilot, "Heard through      headphones")
        await press(pilot, "right")
        await sees(pilot, "Heard through      the system's")
        assert settings_file.load(app.environment.config_path) == Settings(microphone="interface")


@pytest.mark.long
async def test_the_check_is_reached_from_set_up_and_opens_nothing_by_itself(
    app: FretsureApp, shop: MicrophoneShop
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape", "s")
        await sees(pilot, "Instrument")
        await press(pilot, "m")
        await sees(pilot, "Enter begins the check.")
        assert shop.duplex is None
        assert WORDS not in shown(app)


@pytest.mark.long
@pytest.mark.parametrize("size", [(40, 12), (80, 24)])
async def test_the_check_runs_step_by_step_and_keeps_the_latency(
    size: tuple[int, int], app: FretsureApp, shop: MicrophoneShop, clock: HandClock
) -> None:
    async with app.run_test(size=size) as pilot:
        app.open("sound-check")
        await reads(pilot, "Enter begins the check.")
        await press(pilot, "enter")
        await reads(pilot, "Quiet: Do not play, and damp the strings.")
        await sees(pilot, "◉ listening")
        assert shop.duplex is not None
        shop.duplex.leak, shop.duplex.path = 0.02, 4410
        clock.tick(6)
        await reads(pilot, "Level: Play single notes as hard as you ever will")
        await press(pilot, "enter")
        await reads(pilot, "Latency: Hold a headphone against the microphone")
        for _ in range(30):
            clock.tick(0.3)
            await pilot.pause(0.05)
        await reads(pilot, "Loop: Put the headphones on again")
        await press(pilot, "enter")
        await reads(pilot, "That is all.")
        assert not shop.duplex.is_open
        await until(pilot, lambda: "◉ listening" not in shown(app))
        assert app.services.settings.path_ms == 100


async def test_leaving_closes_the_microphone(app: FretsureApp, shop: MicrophoneShop) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open("sound-check")
        await sees(pilot, "Enter begins")
        await press(pilot, "enter")
        await sees(pilot, WORDS)
        await press(pilot, "escape")
        await until(pilot, lambda: shop.duplex is not None and not shop.duplex.is_open)


async def test_a_microphone_that_is_unplugged_is_told(app: FretsureApp, shop: MicrophoneShop) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open("sound-check")
        await sees(pilot, "Enter begins")
        await press(pilot, "enter")
        await sees(pilot, WORDS)
        assert shop.duplex is not None
        shop.duplex.unplug()
        await reads(pilot, LOST)
        await until(pilot, lambda: WORDS not in shown(app))
        await press(pilot, "a")
        await sees(pilot, WORDS)


async def test_without_a_microphone_it_says_so(fake_environment: Environment, record: Record) -> None:
    app = FretsureApp(fake_environment, Settings(), record)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open("sound-check")
        await sees(pilot, "Enter begins")
        await press(pilot, "enter")
        await reads(pilot, "No microphone was found.")
        await sees(pilot, "Enter begins")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("how", ["out of focus", "covered"])
async def test_enter_begins_anew_after_the_check_was_broken_off(
    how: str, app: FretsureApp, shop: MicrophoneShop
) -> None:
    async with app.run_test(size=(80, 24)) as pilot:
        app.open("sound-check")
        await sees(pilot, "Enter begins")
        await press(pilot, "enter")
        await sees(pilot, WORDS)
        if how == "covered":
            await press(pilot, "f1")
            await until(pilot, lambda: shop.duplex is not None and not shop.duplex.is_open)
            await press(pilot, "escape")
        else:
            app.on_app_blur()
        await sees(pilot, "Enter begins")
        await press(pilot, "enter")
        await sees(pilot, WORDS)
        await sees(pilot, "Quiet: ")


async def test_without_numpy_it_says_so(
    fake_environment: Environment, record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    hide_numpy(monkeypatch)
    app = FretsureApp(fake_environment._replace(open_duplex=open_duplex), Settings(), record)
    async with app.run_test(size=(80, 24)) as pilot:
        app.open("sound-check")
        await reads(pilot, NOT_INSTALLED)
        await press(pilot, "enter")
        await until(pilot, lambda: shown(app).count(NOT_INSTALLED) == 2)
