"""A round of keys and a loop on the screen, over a clock moved by hand, with and without a sound card."""

from __future__ import annotations

import sys
from collections.abc import Callable

import numpy as np
import pytest
from textual.pilot import Pilot

from drill import settings as settings_file
from drill.lookup.loops import LoopView
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.chords import Chord, parse_chords
from drill.theory.keys import parse_key
from drill.tui import FretsureApp
from drill.tui.screens import playing
from drill.tui.screens.base import BaseScreen
from drill.tui.screens.play import PlayScreen
from drill.tui.screens.playing import PlayingScreen
from drill.tui.screens.round import RoundScreen
from drill.tui.widgets.beats import ON, Beats
from drill.tui.widgets.big_words import BigWords
from tests.support.screens import press, reads, sees, shown, until
from tests.support.speakers import SpeakerShop
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp

KEYS = (parse_key("F#m"), parse_key("Bb"))
Make = Callable[[Callable[[], BaseScreen]], FretsureApp]


@pytest.fixture
def shop(clock: HandClock) -> SpeakerShop:
    return SpeakerShop(clock)


@pytest.fixture
def loud(fake_environment: Environment, record: Record, shop: SpeakerShop) -> Make:
    """An app with a sound card that begins on a screen."""
    environment = fake_environment._replace(open_speaker=shop)
    return lambda first: FretsureApp(environment, Settings(tempo_bpm=120, minutes=1), record, first=first)


async def begun(pilot: Pilot[None]) -> None:
    """Wait until the screen plays."""
    await until(pilot, lambda: isinstance(pilot.app.screen, PlayingScreen) and pilot.app.screen.playback)


def called(app: FretsureApp) -> str:
    return app.screen.query_one(BigWords).words


async def test_a_round_runs_by_itself_from_the_first_click_to_the_last(
    loud: Make, shop: SpeakerShop, clock: HandClock, record: Record
) -> None:
    app = loud(lambda: RoundScreen(KEYS))
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await until(pilot, lambda: called(app) == "Count-in")
        clock.tick(2.0)
        await until(pilot, lambda: called(app) == "F♯ minor")
        screen = await sees(pilot, "land on it in this bar")
        assert "string 6" not in screen
        clock.tick(2.0)
        screen = await sees(pilot, "F♯ minor: string 6 (low E): fret 2 or 14; string 5 (A): fret 9")
        assert "◆1m" in screen
        assert "land on it" not in screen
        clock.tick(2.0)
        await until(pilot, lambda: called(app) == "B♭ major")
        assert "string 6" not in shown(app)
        clock.tick(60.0)
        await reads(pilot, "The round is over: 15 keys called.")
        assert shop.speaker is not None
        assert shop.speaker.stopped
        await press(pilot, "a")
        await until(pilot, lambda: called(app) == "Count-in")
    assert shop.speaker.stopped
    assert list(record.landings()) == list(record.drills()) == []


async def test_the_beats_of_the_bar_run(loud: Make, clock: HandClock) -> None:
    app = loud(lambda: RoundScreen(KEYS))
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        beats = app.screen.query_one(Beats)
        for beat in (0, 1, 2, 3, 0):
            await until(pilot, lambda: beats.beat == beat)  # noqa: B023
            assert str(beats.render()).split("   ")[0].split("  ").index(ON) == beat
            clock.tick(0.5)


async def test_had_it_is_optional_and_kept_apart(loud: Make, clock: HandClock, record: Record) -> None:
    app = loud(lambda: RoundScreen(KEYS))
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        await press(pilot, "space")  # during the count-in there is nothing to have
        clock.tick(3.5)
        await until(pilot, lambda: called(app) == "F♯ minor")
        await press(pilot, "space")
        await reads(pilot, "Had it: F♯ minor. 1 key so far, by your own account.")
        await press(pilot, "space")
        clock.tick(60.0)
        await reads(pilot, "15 keys called, 1 landed by your own account.")
    (landing,) = record.landings()
    assert (landing.key, landing.how, landing.landed) == ("F# minor", "self-checked", True)
    (drill,) = record.drills()
    assert drill.ended_at is not None
    assert record.attempt_count() == 0


async def test_home_opens_a_round_of_the_deck_and_escape_leads_back(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "r Round")
        await press(pilot, "r")
        await begun(pilot)
        await reads(pilot, "No sound card was found. It goes on in silence.")
        clock.tick(3.0)
        await until(pilot, lambda: called(app) == "C major")
        await press(pilot, "escape")
        await sees(pilot, "t Today")


async def test_a_sound_card_that_goes_is_said_and_the_round_goes_on(
    loud: Make, shop: SpeakerShop, clock: HandClock
) -> None:
    app = loud(lambda: RoundScreen(KEYS))
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        clock.tick(2.0)
        await until(pilot, lambda: called(app) == "F♯ minor")
        assert "sound card" not in shown(app)
        assert shop.speaker is not None
        shop.speaker.unplug()
        await reads(pilot, "The sound card is gone. It goes on in silence.")
        clock.tick(4.0)
        await until(pilot, lambda: called(app) == "B♭ major")


async def test_one_key_alone_is_called_again_and_again(loud: Make, clock: HandClock) -> None:
    app = loud(lambda: RoundScreen(KEYS[:1]))
    async with app.run_test(size=(80, 24)) as pilot:
        await begun(pilot)
        clock.tick(2.0)
        await until(pilot, lambda: called(app) == "F♯ minor")
        clock.tick(4.0)
        await pilot.pause(0.1)
        assert called(app) == "F♯ minor"
        await press(pilot, "escape")
    assert app.return_code == 0


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", [(40, 12), (30, 8), (120, 40)])
async def test_a_key_is_seen_on_any_screen(size: tuple[int, int], loud: Make, clock: HandClock) -> None:
    app = loud(lambda: RoundScreen(KEYS))
    async with app.run_test(size=size) as pilot:
        await begun(pilot)
        clock.tick(2.0)
        await until(pilot, lambda: called(app) == "F♯ minor")
        await pilot.pause()
        screen = shown(app)
        assert "█" in screen or "F♯ minor" in screen
        assert ON in screen
        if size == (40, 12):
            assert all(string in screen for string in ("5 A", "6 E", "·3·")), "the strings of both tonics, and frets"


# -- a loop ------------------------------------------------------------------------------------------------------------


def view_of(chords: tuple[Chord, ...]) -> LoopView:
    return LoopView.of(chords, Settings().neck)


def loop() -> BaseScreen:
    return PlayScreen.of(view_of(parse_chords("Am F")), Settings(tempo_bpm=120))


@pytest.mark.long
async def test_a_loop_shows_chord_by_chord_what_lies_inside_and_outside(loud: Make, clock: HandClock) -> None:
    app = loud(loop)
    async with app.run_test(size=(100, 30)) as pilot:
        await begun(pilot)
        await sees(pilot, "count-in")
        clock.tick(2.0)
        await sees(pilot, "over Am: the pentatonic contains A, C and E")
        await until(pilot, lambda: "count-in" not in shown(app))
        clock.tick(2.0)
        screen = await sees(pilot, "over F: the pentatonic contains A and C but not F")
        assert "[3]" in screen
        assert called(app) == "F"
        clock.tick(2.0)
        await sees(pilot, "over Am")


@pytest.mark.parametrize("size", [(40, 12), (60, 16)])
async def test_a_loop_shows_the_whole_neck_in_a_low_window(size: tuple[int, int], loud: Make, clock: HandClock) -> None:
    app = loud(loop)
    async with app.run_test(size=size) as pilot:
        await begun(pilot)
        clock.tick(2.0)
        screen = await sees(pilot, "6 E")
        assert all(words in screen for words in ("1 E", "·7·", "Am  F", "F1 Help"))
        assert ("██" in screen) == (size == (60, 16))
        await press(pilot, "pagedown")
        await sees(pilot, "Shapes of A minor and C major")


async def test_parts_are_switched_and_the_loop_stops_and_starts(
    loud: Make, shop: SpeakerShop, clock: HandClock
) -> None:
    app = loud(loop)
    async with app.run_test(size=(100, 30)) as pilot:
        await begun(pilot)
        await sees(pilot, "chords on (c)   bass on (b)   drums on (d)")
        await press(pilot, "d", "b", "c")
        await sees(pilot, "chords off (c)   bass off (b)   drums off (d)")
        clock.tick(2.5)
        await sees(pilot, "over Am")
        assert shop.speaker is not None
        tail = np.frombuffer(bytes(shop.speaker.heard), dtype="<i2")[-4000:]
        assert not tail.any()
        await press(pilot, "space")
        await sees(pilot, "stopped (Space: start)")
        assert shop.speaker.stopped
        await press(pilot, "space")
        await begun(pilot)
        await sees(pilot, "count-in")
        assert not shop.speaker.stopped
        await press(pilot, "escape")
    assert shop.speaker.stopped


async def test_volume_grows_in_small_steps_and_is_remembered_only_downward(
    loud: Make, fake_environment: Environment
) -> None:
    app = loud(loop)
    async with app.run_test(size=(100, 30)) as pilot:
        await begun(pilot)
        await press(pilot, "plus")
        await sees(pilot, "Volume -18 dB. Keep it low, most of all on headphones.")
        assert settings_file.load(fake_environment.config_path).decibels_down == 20
        await press(pilot, "minus", "minus", "minus")
        await sees(pilot, "Volume -24 dB")
        assert settings_file.load(fake_environment.config_path).decibels_down == 24


async def test_another_key_of_the_loop_can_be_shown(loud: Make) -> None:
    loops = [parse_chords(loop) for loop in ("Dm G", "D C G", "Am D", "C F", "Em A")]
    chords, (_, (_, second), *_) = next(
        (loop, groups) for loop in loops if len(groups := view_of(loop).by_shapes()) > 1
    )
    app = loud(lambda: PlayScreen.of(view_of(chords), Settings()))
    async with app.run_test(size=(100, 30)) as pilot:
        await sees(pilot, "(Tab: another key)")
        await press(pilot, "tab")
        await sees(pilot, f"Shapes of {second.key.minor.shown_in('english')} and")


@pytest.mark.long
@pytest.mark.parametrize(
    ("installed", "said"), [(True, "No sound card was found."), (False, "Sound is not installed.")]
)
async def test_a_loop_without_sound_runs_in_silence(
    installed: bool, said: str, make_app: MakeApp, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not installed:
        monkeypatch.setitem(sys.modules, "numpy", None)
    app = make_app({"tempo_bpm": 120})
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        app.play_loop(parse_chords("Am F"))
        await begun(pilot)
        await reads(pilot, said)
        await reads(pilot, "It goes on in silence.")
        clock.tick(4.0)
        await sees(pilot, "over F")
        await press(pilot, "d", "plus")
        await reads(pilot, "It goes on in silence.")
        assert "Volume" not in shown(app), "there is none"
        await press(pilot, "escape")
        await sees(pilot, "t Today")


async def test_why_nothing_is_heard_gives_the_neck_its_rows_back(
    make_app: MakeApp, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    app = make_app({"tempo_bpm": 120})
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        monkeypatch.setattr(playing, "READING_S", 0.05)
        app.start_round((parse_key("Am"),))
        await begun(pilot)
        clock.tick(6.0)
        await until(pilot, lambda: "No sound card" not in shown(app) and "·3·" in shown(app))


@pytest.mark.long
async def test_a_loop_that_cannot_be_played_is_said(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        app.play_loop(parse_chords("Am F") * 40)
        await reads(pilot, "80 chords")
