"""Worlds for tests: a clock moved by hand, chance from a seed, a record in a folder of its own."""

from __future__ import annotations

import io
import os
import random
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from drill.system.environment import Environment, uid
from tests.support import offspring

OF_THE_TESTER = re.compile(
    r"PYTHON(DONTWRITEBYTECODE|IOENCODING|UTF8|WARNINGS|OPTIMIZE|_COLORS)|FRETSURE_.*|XDG_.*|TEXTUAL.*"
    r"|COLUMNS|LINES|TERM|COLORTERM|NO_COLOR|(CLICOLOR_)?FORCE_COLOR|TTY_.*"
)
"""Variables by which a tester's terminal and habits would decide what programs in tests show, and where they write."""
for name in filter(OF_THE_TESTER.fullmatch, [*os.environ]):
    del os.environ[name]

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


@pytest.fixture(autouse=True)
def no_child_outlives_its_test() -> Iterator[None]:
    yield
    offspring.end_all()


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def fake_environment(tmp_path: Path, clock: HandClock) -> Environment:
    """A world whose clock is the `clock` fixture and whose files lie in `tmp_path`."""
    return Environment(
        now=clock.now,
        monotonic=clock.monotonic,
        utc_offset_minutes=clock.utc_offset_minutes,
        rng=random.Random(7),
        new_uid=counting_uids(clock),
        record_path=tmp_path / "data" / "record.sqlite3",
        config_path=tmp_path / "config" / "settings.toml",
        stdin=io.StringIO(),
        stdout=io.StringIO(),
        stderr=io.StringIO(),
    )


def counting_uids(clock: HandClock) -> Callable[[], str]:
    """Uids that differ and can be foretold: the chance in them is a counter."""
    count = 0

    def new_uid() -> str:
        nonlocal count
        count += 1
        return uid(clock.now(), count.to_bytes(6, "big"))

    return new_uid
