"""The check of sound and microphone: quiet, level, latency, and a loop that must name nothing."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from drill.practice.hearing import LOST, NOT_LET
from drill.practice.sound_check import SoundCheck, warnings
from drill.practice.sound_steps import Finding
from drill.settings import Settings
from drill.system.duplex import Devices
from drill.system.environment import Environment
from tests.support.microphone import FakeDuplex, MicrophoneShop
from tests.support.worlds import HandClock

RATE = 44_100
QUIET_S, LEVEL_S, WAY_S = 2.5, 8.0, 18.5
"""Second of the stream at which each step begins; each is preceded by time to read."""
Prepare = Callable[[FakeDuplex], object]


def checked(world: Environment, clock: HandClock, prepare: Prepare) -> tuple[dict[str, Finding], SoundCheck]:
    """Run a whole check; the findings by their titles."""
    shop = MicrophoneShop(clock)
    check = SoundCheck(world._replace(open_duplex=shop), Settings())
    assert shop.duplex is not None
    prepare(shop.duplex)
    check.start()
    found = []
    for _ in range(60 * 30):
        clock.tick(1 / 30)
        found += check.poll()
        if check.step is None:
            break
    assert found == check.findings
    assert not shop.duplex.is_open
    return {finding.title: finding for finding in found}, check


def played_well(duplex: FakeDuplex) -> None:
    """Notes as loud as they should be, and clicks that come back from a headphone."""
    for number in range(4):
        duplex.pluck_at(round((LEVEL_S + 0.5 + number) * RATE), 45 + 5 * number)
    duplex.path = 3087


def leaking(duplex: FakeDuplex) -> None:
    played_well(duplex)
    duplex.leak = 1.0


@pytest.mark.long
def test_all_is_well(fake_environment: Environment, clock: HandClock) -> None:
    def with_a_headphone_held_to_it(duplex: FakeDuplex) -> None:
        played_well(duplex)
        duplex.leak = 0.02

    found, check = checked(fake_environment, clock, with_a_headphone_held_to_it)
    assert [finding.good for finding in found.values()] == [True] * 4
    assert list(found) == ["Quiet", "Level", "Latency", "Loop"]
    assert check.latency_ms == 70
    assert found["Latency"].words == "A click takes 70 ms out and back; lateness leaves it out."
    assert found["Level"].words == "The loudest was at -10 dB: good."


def test_a_loop_from_loudspeakers_is_heard_as_notes_and_headphones_are_advised(
    fake_environment: Environment, clock: HandClock
) -> None:
    found, _ = checked(fake_environment, clock, leaking)
    assert not found["Loop"].good
    assert "Use headphones" in found["Loop"].words


@pytest.mark.long
def test_without_a_latency_nothing_is_made_up(fake_environment: Environment, clock: HandClock) -> None:
    found, check = checked(fake_environment, clock, played_well)
    assert check.latency_ms is None
    assert found["Latency"].words.startswith("0 of the 8 clicks came back.")


@pytest.mark.long
@pytest.mark.parametrize(
    ("level", "words"),
    [(4.0, "too loud"), (0.03, "too soft"), (0.0, "too soft")],
)
def test_the_level_is_judged(level: float, words: str, fake_environment: Environment, clock: HandClock) -> None:
    def prepare(duplex: FakeDuplex) -> None:
        played_well(duplex)
        duplex.script = {at: np.clip(note * level, -1, 1) for at, note in duplex.script.items()}

    found, _ = checked(fake_environment, clock, prepare)
    assert not found["Level"].good
    assert words in found["Level"].words


def test_a_loud_room_is_told(fake_environment: Environment, clock: HandClock) -> None:
    def prepare(duplex: FakeDuplex) -> None:
        duplex._hiss = 0.02

    found, _ = checked(fake_environment, clock, prepare)
    assert not found["Quiet"].good
    assert found["Quiet"].words.startswith("The room is at -34 dB. That is loud: soft notes will be missed.")


@pytest.mark.long
def test_notes_while_nobody_plays_are_told(fake_environment: Environment, clock: HandClock) -> None:
    found, _ = checked(fake_environment, clock, lambda duplex: duplex.pluck_at(round((QUIET_S + 1) * RATE), 45))
    assert "Notes are heard while nobody plays" in found["Quiet"].words


def test_a_microphone_that_is_gone_ends_it(fake_environment: Environment, clock: HandClock) -> None:
    found, _ = checked(fake_environment, clock, lambda duplex: setattr(duplex, "_hiss", 0.0))
    assert found["Microphone"].words.startswith(NOT_LET)
    shop = MicrophoneShop(clock)
    check = SoundCheck(fake_environment._replace(open_duplex=shop), Settings())
    check.start()
    assert shop.duplex is not None
    shop.duplex.unplug()
    assert [finding.words for finding in check.poll()] == [LOST]
    assert not shop.duplex.is_open


def test_a_step_can_be_skipped(fake_environment: Environment, clock: HandClock) -> None:
    check = SoundCheck(fake_environment._replace(open_duplex=MicrophoneShop(clock)), Settings())
    check.start()
    for title in ("Quiet", "Level", "Latency", "Loop"):
        assert check.step is not None
        assert check.step.title == title
        check.skip()
    assert check.step is None
    assert check.poll() == []


def test_bluetooth_is_warned_of() -> None:
    devices = Devices(("Built-in", "AirPods"), ("Built-in",))
    assert [words.split(" goes")[0] for words in warnings(Settings(), devices)] == ["“AirPods”"]
    assert warnings(Settings(microphone="Built-in", speaker="Built-in"), devices) == []
    assert len(warnings(Settings(microphone="AirPods", speaker="Built-in"), devices)) == 1
