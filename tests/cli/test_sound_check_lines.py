"""The check of sound and microphone in lines: it says when the microphone opens and closes, and keeps the latency."""

from __future__ import annotations

import io

import pytest

from drill import settings as settings_file
from drill.cli.sound_check_lines import OFFER, check_sound_in_words, offered_check
from drill.errors import NoSound
from drill.practice.hearing import CLOSED, OPENED
from drill.settings import Settings
from drill.system.duplex import SYSTEM_CHOICE, Chosen, Devices, Duplex
from drill.system.environment import Environment
from tests.support.microphone import FakeDuplex, MicrophoneShop
from tests.support.worlds import HandClock


def said(world: Environment) -> list[str]:
    assert isinstance(world.stdout, io.StringIO)
    return world.stdout.getvalue().splitlines()


class Leaking(MicrophoneShop):
    """Opens microphones that a headphone is held to."""

    def __call__(self, rate: int, monotonic: object, chosen: Chosen = SYSTEM_CHOICE) -> Duplex:
        duplex = FakeDuplex(self.clock, rate)
        duplex.leak, duplex.path = 0.02, 2205
        self.duplex = duplex
        return duplex


@pytest.mark.long
def test_each_step_is_asked_and_what_it_found_is_told(fake_environment: Environment, clock: HandClock) -> None:
    shop = Leaking(clock)
    devices = Devices(("AirPods",), ("Built-in",))
    world = fake_environment._replace(open_duplex=shop, find_devices=lambda: devices)
    measured = check_sound_in_words(Settings(), world)
    assert measured == Settings(path_ms=50)
    assert settings_file.load(world.config_path) == measured
    lines = said(world)
    assert lines[0] == "Sound and microphone. Enter skips a step."
    assert lines[1] == OPENED
    assert lines[-1] == CLOSED
    assert [line.split(":")[0] for line in lines[2:-1:2]] == ["Quiet", "Level", "Latency", "Loop"]
    assert "  A click takes 50 ms out and back; lateness leaves it out." in lines
    assert isinstance(world.stderr, io.StringIO)
    assert "“AirPods” goes by Bluetooth" in world.stderr.getvalue()
    assert shop.duplex is not None
    assert not shop.duplex.is_open


def test_enter_skips_and_nothing_is_kept(fake_environment: Environment, clock: HandClock) -> None:
    world = fake_environment._replace(
        open_duplex=MicrophoneShop(clock),
        stdin=io.StringIO("\n" * 4 + "kept\n"),
        take_line=lambda stream: stream.readline(),
    )
    assert check_sound_in_words(Settings(), world) == Settings()
    assert not world.config_path.exists()
    assert world.stdin.read() == "kept\n"
    assert clock.monotonic_s < 1001


def test_an_interruption_closes_the_microphone(fake_environment: Environment, clock: HandClock) -> None:
    shop = MicrophoneShop(clock)

    def interrupted(seconds: float) -> None:
        raise KeyboardInterrupt

    world = fake_environment._replace(open_duplex=shop, sleep=interrupted)
    with pytest.raises(KeyboardInterrupt):
        check_sound_in_words(Settings(), world)
    assert shop.duplex is not None
    assert not shop.duplex.is_open
    assert said(world)[-1] == CLOSED


def test_without_a_microphone_it_is_one_sentence(fake_environment: Environment) -> None:
    with pytest.raises(NoSound, match="No microphone was found"):
        check_sound_in_words(Settings(), fake_environment)
    assert said(fake_environment) == []


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("typed", "path_ms"), [("c\n", 50), ("\n", 0), ("", 0)])
def test_the_check_is_offered_where_nothing_has_been_measured(
    typed: str, path_ms: int, fake_environment: Environment, clock: HandClock
) -> None:
    world = fake_environment._replace(open_duplex=Leaking(clock), stdin=Terminal(typed), take_line=lambda stream: None)
    assert offered_check(Settings(), world).path_ms == path_ms
    assert said(world)[0] == OFFER


def test_the_check_is_not_offered_to_a_pipe_nor_once_it_has_measured(fake_environment: Environment) -> None:
    assert offered_check(Settings(), fake_environment) == Settings()
    attended = fake_environment._replace(stdin=Terminal("c\n"))
    assert offered_check(Settings(path_ms=30), attended) == Settings(path_ms=30)
    assert said(fake_environment) == []
