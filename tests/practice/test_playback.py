"""What is played follows the sound card while there is one, and the clock from the moment it is gone."""

from __future__ import annotations

import sys
from collections.abc import Callable

import numpy as np
import pytest

from drill.errors import NoSound
from drill.practice.playback import LOST, Playback, play_clicks, play_loop
from drill.sound.arrangement import arrange
from drill.system.audio import (
    LEAD_S,
    LOST_S,
    PERIOD_MS,
    QUESTIONS,
    STORE_S,
    SoundCard,
    Speaker,
    Timing,
    open_speaker,
)
from drill.system.environment import Environment
from drill.theory.chords import parse_chords
from tests.sound.reader import onsets
from tests.support.speakers import SpeakerShop
from tests.support.worlds import HandClock


@pytest.fixture
def shop(clock: HandClock) -> SpeakerShop:
    return SpeakerShop(clock)


@pytest.fixture
def loud(fake_environment: Environment, shop: SpeakerShop) -> Environment:
    return fake_environment._replace(open_speaker=shop)


def test_the_clicks_that_are_heard_keep_time_for_ten_minutes(
    loud: Environment, shop: SpeakerShop, clock: HandClock
) -> None:
    playback, mix = play_clicks(loud, 97, 20)
    assert mix is not None
    mix.rate = 8000  # ten minutes of 44,100 a second would take long to look through
    assert shop.speaker is not None
    shop.speaker.rate = 8000
    for _ in range(600 * 4):
        clock.tick(0.25)
        assert abs(playback.elapsed_s - (clock.monotonic_s - 1000.0)) < 0.005
    samples = np.frombuffer(shop.speaker.heard, dtype="<i2").astype(np.float32)
    found = np.array(onsets(samples, 8000, quiet_s=0.1)) / 8000
    assert abs(len(found) - 970) <= 1
    assert np.abs(found - np.arange(len(found)) * 60 / 97).max() < 0.005


def test_time_goes_on_when_the_sound_card_is_unplugged(loud: Environment, shop: SpeakerShop, clock: HandClock) -> None:
    playback, _ = play_clicks(loud, 80, 20)
    clock.tick(3.0)
    assert playback.elapsed_s == pytest.approx(3.0)
    assert playback.silent_because == ""
    assert shop.speaker is not None
    shop.speaker.unplug()
    assert playback.elapsed_s == pytest.approx(3.0)
    assert playback.silent_because == LOST
    assert shop.speaker.stopped
    clock.tick(2.0)
    assert playback.elapsed_s == pytest.approx(5.0)


def test_stopping_gives_the_sound_card_back(loud: Environment, shop: SpeakerShop) -> None:
    playback, _ = play_clicks(loud, 80, 20)
    playback.stop()
    playback.stop()
    assert shop.speaker is not None
    assert shop.speaker.stopped
    assert playback.silent_because == ""


@pytest.mark.parametrize("play", [play_clicks, play_loop], ids=["clicks", "loop"])
def test_without_numpy_or_a_sound_card_time_passes_in_silence(
    play: Callable[..., tuple[Playback, object]],
    fake_environment: Environment,
    clock: HandClock,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    what = 80 if play is play_clicks else arrange(parse_chords("Am F"), 80)
    playback, _ = play(fake_environment, what, 20)
    assert playback.silent_because == "No sound card was found."
    monkeypatch.setitem(sys.modules, "numpy", None)
    playback, mix = play(fake_environment, what, 20)
    assert mix is None
    assert playback.silent_because.startswith("Sound is not installed. In your clone of fretsure, run: pip install")
    clock.tick(1.5)
    assert playback.elapsed_s == pytest.approx(1.5)


def test_sound_starts_as_low_as_it_was_left(loud: Environment, shop: SpeakerShop, clock: HandClock) -> None:
    for decibels_down in (20, 34):
        playback, _ = play_clicks(loud, 80, decibels_down)
        clock.tick(1.0)
        assert playback.elapsed_s > 0
        assert shop.speaker is not None
        peak = np.abs(np.frombuffer(shop.speaker.heard, dtype="<i2")).max() / 32767
        assert 20 * np.log10(peak) == pytest.approx(-decibels_down, abs=0.5)


# -- the door ----------------------------------------------------------------------------------------------------------


class FakeMiniaudio:
    """As much of miniaudio as the door uses."""

    class MiniaudioError(Exception):
        pass

    def __init__(self, backend: str = "PulseAudio", *, opens: bool = True, starts: bool = True) -> None:
        self.backend, self.opens, self.starts = backend, opens, starts
        self.closed = False
        self.feeding: object = None

    def PlaybackDevice(self, **options: object) -> FakeMiniaudio:  # noqa: N802 - miniaudio's name
        if not self.opens:
            raise self.MiniaudioError("failed to init device", -204)
        return self

    def start(self, feeding: object) -> None:
        if not self.starts:
            raise self.MiniaudioError("failed to start audio device", -103)
        self.feeding = feeding

    def close(self) -> None:
        self.closed = True


def opened(monkeypatch: pytest.MonkeyPatch, miniaudio: FakeMiniaudio | None, clock: HandClock) -> Speaker:
    monkeypatch.setitem(sys.modules, "miniaudio", miniaudio)
    return open_speaker(44_100, clock.monotonic)


def test_the_door_says_in_a_sentence_why_nothing_is_heard(monkeypatch: pytest.MonkeyPatch, clock: HandClock) -> None:
    with pytest.raises(
        NoSound, match=r"^Sound is not installed\. In your clone of fretsure, run: pip install '\.\[sound\]'$"
    ):
        opened(monkeypatch, None, clock)
    null = FakeMiniaudio("Null")  # what miniaudio plays to where there is no device
    for miniaudio in (FakeMiniaudio(opens=False), null):
        with pytest.raises(NoSound, match=r"^No sound card was found\."):
            opened(monkeypatch, miniaudio, clock)
    assert null.closed
    with pytest.raises(NoSound, match=r"^No sound card was found\."):
        opened(monkeypatch, FakeMiniaudio(starts=False), clock).start(lambda frames: bytes(2 * frames))
    assert NoSound.exit_code == 2


def test_a_sound_card_counts_what_was_heard_and_is_lost_when_it_stops_asking(
    monkeypatch: pytest.MonkeyPatch, clock: HandClock
) -> None:
    miniaudio = FakeMiniaudio()
    speaker = opened(monkeypatch, miniaudio, clock)
    assert isinstance(speaker, SoundCard)
    speaker.start(lambda frames: b"ab" * frames)
    feeding = miniaudio.feeding
    frames = 44_100 * PERIOD_MS // 1000
    for _ in range(round(LEAD_S * 1000 / PERIOD_MS)):
        assert feeding.send(frames) == bytes(2 * frames)  # type: ignore[attr-defined]
        assert speaker.position_s == 0
    in_store = round(STORE_S * 1000 / PERIOD_MS) + 1
    for _ in range(in_store):
        assert feeding.send(frames) == b"ab" * frames  # type: ignore[attr-defined]
    assert speaker.position_s == 0
    for count in range(1, 21):
        clock.tick(PERIOD_MS / 1000)
        feeding.send(frames)  # type: ignore[attr-defined]
        assert speaker.position_s == pytest.approx(count * PERIOD_MS / 1000)
    clock.tick(PERIOD_MS / 2000)
    assert speaker.position_s == pytest.approx(20.5 * PERIOD_MS / 1000)
    assert not speaker.lost
    clock.tick(LOST_S + 0.1)
    assert speaker.lost
    speaker.stop()
    assert miniaudio.closed
    assert not speaker.lost


RATE, PERIOD = 44_100, PERIOD_MS / 1000


def left_out(late_s: list[float], drift: float = 0.0) -> list[int]:
    """What is left out at each question of a sound card; it asks once a period, so much later than it should."""
    timing, given, found = Timing(RATE), 0, []
    for number, late in enumerate(late_s):
        missed = timing.missed(number * PERIOD * (1 + drift) + late, given)
        given += missed + round(PERIOD * RATE)
        found.append(missed)
    return found


def test_a_gap_that_was_heard_moves_what_follows_back_to_its_time() -> None:
    found = left_out([0.0] * 40 + [0.13] * 40)
    assert sum(found) == pytest.approx(0.13 * RATE, abs=2)
    assert sum(found[: 40 + QUESTIONS]) == sum(found)  # within half a second


def test_what_a_sound_card_asks_for_at_first_is_no_measure() -> None:
    assert sum(left_out([0.0] * 10 + [0.19] * 60)) == 0


def test_being_asked_late_is_no_gap_while_the_store_lasts() -> None:
    late = [0.0] * 20 + [3 * PERIOD, 2 * PERIOD, PERIOD] + [0.0] * 20
    assert sum(left_out(late * 5)) == 0
    assert sum(left_out([0.01 * (number % 5) for number in range(400)])) == 0


@pytest.mark.parametrize("drift", [-0.0003, 0.0003])
def test_a_clock_of_its_own_is_no_gap(drift: float) -> None:
    """Crystals of sound cards are off by some ten, cheap ones by a few hundred parts in a million."""
    assert sum(left_out([0.0] * 12_000, drift)) == 0  # ten minutes
