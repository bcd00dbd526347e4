"""The tuning check in lines: cents beside each string as it is played; Enter goes on, and a pipe never waits."""

from __future__ import annotations

import io

import pytest

from drill.cli.tuning_lines import PATIENCE_S, UNCHECKED, check_tuning_in_words
from drill.practice.hearing import Ears
from drill.settings import Settings
from drill.system.environment import Environment
from tests.support.microphone import FakeDuplex
from tests.support.playing import detuned, note_of
from tests.support.worlds import HandClock

RATE = 44_100
GUITAR = (40, 45, 50, 55, 59, 64)


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def checked(world: Environment, duplex: FakeDuplex) -> list[str]:
    ears = Ears(duplex, 40, 79)
    ears.start()
    check_tuning_in_words(ears, Settings(), world)
    assert isinstance(world.stdout, io.StringIO)
    return world.stdout.getvalue().splitlines()


@pytest.fixture
def world(fake_environment: Environment) -> Environment:
    return fake_environment._replace(stdin=Terminal("\n"), take_line=lambda stream: None)


def test_each_string_is_told_as_it_is_played(world: Environment, clock: HandClock) -> None:
    plucks = [(1.0 + number, midi) for number, midi in enumerate(GUITAR)]
    lines = checked(world, FakeDuplex(clock, RATE, plucks))
    assert lines[0].startswith("Tuning: Play each open string once")
    assert [line.split(":")[0].strip() for line in lines[1:-1]] == [
        "string 6 (low E)", "string 5 (A)", "string 4 (D)", "string 3 (G)", "string 2 (B)", "string 1 (high E)",
    ]  # fmt: skip
    assert all("in tune" in line for line in lines[1:-1])
    assert lines[-1] == "Every string is in tune."
    assert clock.monotonic_s - 1000.0 < 7.5


@pytest.mark.long
def test_a_string_that_is_flat_is_told_with_its_cents(world: Environment, clock: HandClock) -> None:
    duplex = FakeDuplex(clock, RATE)
    duplex.script[RATE] = detuned(note_of(45, 1.0), -35)
    lines = checked(world, duplex)
    assert lines[1] == "  string 5 (A): 35 cents flat: tune it, or its notes would be misjudged"
    assert lines[-1] == "1 of 6 strings heard."


@pytest.mark.long
def test_whoever_plays_nothing_is_not_kept_waiting(world: Environment, clock: HandClock) -> None:
    lines = checked(world, FakeDuplex(clock, RATE))
    assert lines[-1] == "0 of 6 strings heard."
    assert clock.monotonic_s - 1000.0 == pytest.approx(PATIENCE_S, abs=0.2)


def test_enter_goes_on(world: Environment, clock: HandClock) -> None:
    world = world._replace(take_line=lambda stream: stream.readline() if clock.monotonic_s > 1002.0 else None)
    lines = checked(world, FakeDuplex(clock, RATE))
    assert lines[-1] == "0 of 6 strings heard."
    assert clock.monotonic_s - 1000.0 < 2.2
    assert world.stdin.read() == ""


def test_a_pipe_never_waits(fake_environment: Environment, clock: HandClock) -> None:
    assert checked(fake_environment, FakeDuplex(clock, RATE)) == []
    assert isinstance(fake_environment.stderr, io.StringIO)
    assert fake_environment.stderr.getvalue() == f"fretsure: {UNCHECKED}\n"
    assert clock.monotonic_s == 1000.0


def test_a_microphone_that_goes_ends_it(world: Environment, clock: HandClock) -> None:
    duplex = FakeDuplex(clock, RATE)
    ears = Ears(duplex, 40, 79)
    ears.start()
    duplex.unplug()
    check_tuning_in_words(ears, Settings(), world)
    assert isinstance(world.stdout, io.StringIO)
    assert world.stdout.getvalue().endswith("\n0 of 6 strings heard.\n")
    assert clock.monotonic_s == 1000.0
