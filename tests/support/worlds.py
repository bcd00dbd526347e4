"""Worlds for tests: a clock moved by hand, chance from a seed, files in a folder of their own."""

from __future__ import annotations

import io
import random
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from drill.errors import NoSound
from drill.system.audio import Speaker
from drill.system.duplex import SYSTEM_CHOICE, Chosen, Devices, Duplex
from drill.system.environment import Environment, uid

MONDAY_MORNING = 1_767_600_000.0  # 2026-01-05 08:00:00 UTC


@dataclass(slots=True)
class HandClock:
    """A clock that moves when told to: `tick` lets time pass, `jump` sets the wall clock alone, as a user might."""

    now_s: float = MONDAY_MORNING
    monotonic_s: float = 1000.0
    offset_minutes: int = 60

    def now(self) -> float:
        return self.now_s

    def monotonic(self) -> float:
        return self.monotonic_s

    def utc_offset_minutes(self, epoch_s: float) -> int:
        return self.offset_minutes

    def tick(self, seconds: float) -> None:
        self.now_s += seconds
        self.monotonic_s += seconds

    def jump(self, seconds: float) -> None:
        self.now_s += seconds


def make_environment(folder: Path, clock: HandClock) -> Environment:
    """A world on this clock whose files lie in the folder, each below a folder that is not there yet."""
    return Environment(
        now=clock.now,
        monotonic=clock.monotonic,
        utc_offset_minutes=clock.utc_offset_minutes,
        rng=random.Random(7),
        new_uid=counting_uids(clock),
        record_path=folder / "data" / "record.sqlite3",
        config_path=folder / "config" / "settings.toml",
        stdin=io.StringIO(),
        stdout=io.StringIO(),
        stderr=io.StringIO(),
        sleep=clock.tick,
        open_speaker=no_sound_card,
        open_duplex=no_microphone,
        find_devices=no_devices,
    )


def no_sound_card(rate: int, monotonic: Callable[[], float]) -> Speaker:
    """A world in silence."""
    raise NoSound("No sound card was found.")


def no_microphone(rate: int, monotonic: Callable[[], float], chosen: Chosen = SYSTEM_CHOICE) -> Duplex:
    """A world that hears nothing."""
    raise NoSound("No microphone was found.")


def no_devices() -> Devices:
    """A world with nothing plugged in."""
    raise NoSound("No microphone was found.")


def counting_uids(clock: HandClock) -> Callable[[], str]:
    """Uids that differ and can be foretold: the chance in them is a counter."""
    count = 0

    def new_uid() -> str:
        nonlocal count
        count += 1
        return uid(clock.now(), count.to_bytes(6, "big"))

    return new_uid
