"""Records for tests, in the folder of the fake world."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from drill.record import Record, backups
from drill.system.environment import Environment
from tests.support import disk
from tests.support.records import attempt, drill


@pytest.fixture(autouse=True)
def forced_onto_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    disk.forced(monkeypatch)


@pytest.fixture
def record(fake_environment: Environment) -> Iterator[Record]:
    """An open record with one drill begun and no attempt; it hardly waits for other programs."""
    with Record.open(fake_environment.record_path, fake_environment.now, wait_s=0.1) as opened:
        opened.start_drill(drill())
        yield opened


@pytest.fixture
def kept(fake_environment: Environment) -> Path:
    """The path of a closed record with twenty attempts, a state and no backup."""
    path = fake_environment.record_path
    with Record.open(path, fake_environment.now) as opened:
        opened.start_drill(drill())
        for number in range(20):
            opened.append(attempt(number), {"learner": f'{{"seen": {number + 1}}}'})
    shutil.rmtree(backups.folder(path))
    return path


@pytest.fixture
def reopen(fake_environment: Environment) -> Callable[[], Record]:
    """Opens the world's record; it hardly waits for other programs."""
    return lambda: Record.open(fake_environment.record_path, fake_environment.now, wait_s=0.1)
