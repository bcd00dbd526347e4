"""What every test may ask for: a world on a clock moved by hand, and an empty record in it."""

from __future__ import annotations

import gc
import importlib
import os
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from drill.record import Record
from drill.system import resources
from drill.system.environment import Environment
from tests.support import disk, offspring
from tests.support.worlds import HandClock, make_environment

OF_THE_TESTER = re.compile(
    r"PYTHON(DONTWRITEBYTECODE|IOENCODING|UTF8|WARNINGS|OPTIMIZE|_COLORS)|FRETSURE_.*|XDG_.*|TEXTUAL.*"
    r"|COLUMNS|LINES|TERM|COLORTERM|NO_COLOR|(CLICOLOR_)?FORCE_COLOR|TTY_.*"
)
"""Variables by which a tester's terminal and habits would decide what programs in tests show, and where they write."""
for name in filter(OF_THE_TESTER.fullmatch, [*os.environ]):
    del os.environ[name]

sys.dont_write_bytecode = False  # else every worker compiles every test anew, whose asserts pytest rewrites


def pytest_collection(session: pytest.Session) -> None:
    """Of the whole suite, import another part first in each worker, which then finds the others' parts compiled."""
    own = getattr(session.config, "workerinput", None)
    if own and session.config.args_source is session.config.ArgsSource.TESTPATHS:
        files = sorted(Path(__file__).parent.rglob("test_*.py"))
        for path in files[int(own["workerid"].removeprefix("gw")) :: own["workercount"]]:
            if str(path.parent) not in sys.path:
                sys.path.insert(0, str(path.parent))
            importlib.import_module(path.stem)


def pytest_collection_finish() -> None:
    """Let the garbage collector pass over what lasts: looking it through again and again takes a fifth of the time."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 100)


def pytest_xdist_auto_num_workers() -> int:
    """Half as many workers again as there are processors, for many tests wait for programs that they have started."""
    return max(2, (os.cpu_count() or 1) * 3 // 2)


@pytest.fixture(autouse=True, scope="session")
def nothing_is_forced_onto_the_disk() -> Iterator[None]:
    """No test waits for the disk but those of the rooms where this is what they look at: `record` and `faults`."""
    with pytest.MonkeyPatch.context() as patch:
        disk.unforced(patch)
        yield


@pytest.fixture(autouse=True)
def no_child_outlives_its_test() -> Iterator[None]:
    yield
    offspring.end_all()


@pytest.fixture(autouse=True)
def added_decks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of added decks, empty; the tester's own decks stay out of the tests."""
    folder = tmp_path / "added decks"
    monkeypatch.setattr(resources, "added_folder", lambda: folder)
    return folder


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def fake_environment(tmp_path: Path, clock: HandClock) -> Environment:
    """A world whose clock is the `clock` fixture and whose files lie in `tmp_path`."""
    return make_environment(tmp_path, clock)


@pytest.fixture
def record(fake_environment: Environment) -> Iterator[Record]:
    """The world's record, open and empty."""
    with Record.open(fake_environment.record_path, fake_environment.now) as opened:
        yield opened
