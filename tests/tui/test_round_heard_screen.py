"""A round that listens, on the screen: tuned first, then judged call by call, and the microphone closes in time."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from textual.pilot import Pilot

from drill.record import Record
from drill.settings import Settings
from drill.system.audio import NOT_INSTALLED
from drill.system.duplex import open_duplex
from drill.system.environment import Environment
from drill.theory.keys import parse_key
from drill.tui import FretsureApp
from drill.tui.screens.round import RoundScreen
from drill.tui.screens.tuning_check import TuningCheckScreen
from drill.tui.widgets.beats import ON
from drill.tui.widgets.big_words import BigWords
from drill.tui.widgets.listening_sign import WORDS
from tests.support.microphone import MicrophoneShop
from tests.support.missing import hide_numpy
from tests.support.screens import press, reads, sees, shown, until
from tests.support.worlds import HandClock

KEYS = (parse_key("F#m"), parse_key("Bb"))
Make = Callable[[MicrophoneShop | None], FretsureApp]


@pytest.fixture
def shop(clock: HandClock) -> MicrophoneShop:
    return MicrophoneShop(clock)


@pytest.fixture
def make(fake_environment: Environment, record: Record) -> Make:
    """An app that begins on a round of a minute at 120 bpm which listens: calls at 2, 6 and 10 s and so on."""

    def app(shop: MicrophoneShop | None) -> FretsureApp:
        environment = fake_environment._replace(open_duplex=shop) if shop else fake_environment
        settings = Settings(tempo_bpm=120, minutes=1, path_ms=50)
        return FretsureApp(environment, settings, record, first=lambda: RoundScreen(KEYS, listens=True))

    return app


async def tuned(pilot: Pilot[None]) -> None:
    """Go past the tuning check."""
    await until(pilot, lambda: isinstance(pilot.app.screen, TuningCheckScreen) and pilot.app.screen.is_current)
    await press(pilot, "enter")
    await until(pilot, lambda: isinstance(pilot.app.screen, RoundScreen) and pilot.app.screen.playback)


async def pass_time(pilot: Pilot[None], clock: HandClock, seconds: float) -> None:
    """Let time pass as the microphone gives it, so that the screen looks many times."""
    for _ in range(round(seconds * 5)):
        clock.tick(0.2)
        await pilot.pause(0.04)


@pytest.mark.long
@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_a_round_is_tuned_heard_and_told_with_a_table(
    make: Make, shop: MicrophoneShop, clock: HandClock, record: Record, size: tuple[int, int]
) -> None:
    app = make(shop)
    async with app.run_test(size=size) as pilot:
        await tuned(pilot)
        assert shop.duplex is not None
        await reads(pilot, WORDS[:30])
        await reads(pilot, "Wear headphones")
        at = shop.duplex._due()
        shop.duplex.pluck_at(at + round(3.05 * shop.duplex.rate), 54)
        shop.duplex.pluck_at(at + round(7.35 * shop.duplex.rate), 48)
        await pass_time(pilot, clock, 3.6)
        await reads(pilot, "F♯ minor: landed after 2.")
        await press(pilot, "space")  # it is heard; there is nothing to say
        assert "Had it" not in shown(app)
        await pass_time(pilot, clock, 4.4)
        await reads(pilot, "B♭ major: another note: C")
        assert ON in shown(app)
        clock.tick(55.0)
        await reads(pilot, "The round is over: 1 of 2 calls landed in time.")
        await until(pilot, lambda: all(words in shown(app) for words in ("unsure", "B♭ maj", "F♯ min")))
        screen = shown(app)
        assert screen.index("B♭ maj") < screen.index("F♯ min")
        assert WORDS[:20] not in screen
        assert not shop.duplex.is_open
    assert [(row.how, row.landed) for row in record.landings()][:2] == [("heard", True), ("heard", False)]
    [drill] = record.drills()
    assert drill.ended_at is not None


async def test_one_key_begins_to_listen_and_ends_it(make: Make, shop: MicrophoneShop, clock: HandClock) -> None:
    app = make(shop)
    async with app.run_test(size=(80, 24)) as pilot:
        await tuned(pilot)
        assert shop.duplex is not None and shop.duplex.is_open
        await press(pilot, "l")
        await until(pilot, lambda: shop.duplex and not shop.duplex.is_open)
        await until(pilot, lambda: app.screen.query_one(BigWords).words == "Count-in")
        assert WORDS not in shown(app)
        await press(pilot, "l")
        await until(pilot, lambda: shop.duplex and shop.duplex.is_open)
        await sees(pilot, WORDS)


async def test_without_a_microphone_the_round_goes_on_with_a_note(make: Make, clock: HandClock) -> None:
    app = make(None)
    async with app.run_test(size=(80, 24)) as pilot:
        await tuned(pilot)
        await reads(pilot, "Space says that you had it.")
        clock.tick(3.5)
        await until(pilot, lambda: app.screen.query_one(BigWords).words == "F♯ minor")
        await press(pilot, "space")
        await reads(pilot, "Had it: F♯ minor.")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("how", ["help", "blur", "back", "quit"])
async def test_the_microphone_closes_whenever_the_round_is_left(
    make: Make, shop: MicrophoneShop, clock: HandClock, how: str
) -> None:
    app = make(shop)
    async with app.run_test(size=(80, 24)) as pilot:
        await tuned(pilot)
        assert shop.duplex is not None and shop.duplex.is_open
        await pass_time(pilot, clock, 1.0)
        if how == "blur":
            app.on_app_blur()
        else:
            await press(pilot, {"help": "f1", "back": "escape", "quit": "q"}[how])
        if how in ("help", "blur"):
            await until(pilot, lambda: shop.duplex and not shop.duplex.is_open)
        if how == "blur":
            await reads(pilot, "The microphone is closed, and the round is over.")
    assert not shop.duplex.is_open


@pytest.mark.long
async def test_a_microphone_that_goes_is_said_and_the_round_goes_on(
    make: Make, shop: MicrophoneShop, clock: HandClock, record: Record
) -> None:
    app = make(shop)
    async with app.run_test(size=(80, 24)) as pilot:
        await tuned(pilot)
        await pass_time(pilot, clock, 2.4)
        assert shop.duplex is not None
        shop.duplex.unplug()
        await reads(pilot, "It goes on in silence.")
        clock.tick(1.5)
        await press(pilot, "space")
        await reads(pilot, "Had it: F♯ minor.")
    assert [row.how for row in record.landings()] == ["self-checked"]


async def test_what_was_heard_before_the_microphone_went_is_told_with_a_table(
    make: Make, shop: MicrophoneShop, clock: HandClock
) -> None:
    app = make(shop)
    async with app.run_test(size=(80, 24)) as pilot:
        await tuned(pilot)
        assert shop.duplex is not None
        shop.duplex.pluck_at(shop.duplex._due() + round(3.05 * shop.duplex.rate), 54)
        await pass_time(pilot, clock, 3.6)
        await reads(pilot, "F♯ minor: landed after 2.")
        shop.duplex.unplug()
        await reads(pilot, "It goes on in silence.")
        clock.tick(60.0)
        await reads(pilot, "The round is over: 15 keys called.")
        assert "F♯ min" in await sees(pilot, "unsure")


@pytest.mark.long
async def test_without_numpy_the_round_says_so_and_goes_on_in_silence(
    fake_environment: Environment, record: Record, monkeypatch: pytest.MonkeyPatch
) -> None:
    environment = fake_environment._replace(open_duplex=open_duplex)
    settings = Settings(tempo_bpm=120, minutes=1, path_ms=50)
    hide_numpy(monkeypatch)
    app = FretsureApp(environment, settings, record, first=lambda: RoundScreen(KEYS, listens=True))
    async with app.run_test(size=(80, 24)) as pilot:
        await reads(pilot, NOT_INSTALLED)
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, RoundScreen) and app.screen.playback)
        await reads(pilot, NOT_INSTALLED)
