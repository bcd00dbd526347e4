"""What every test may ask for: a world on a clock moved by hand, and an empty record in it."""

from __future__ import annotations

import gc
import importlib
import os
import re
import shutil
import sys
from asyncio import AbstractEventLoop
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import suppress
from importlib.util import find_spec
from pathlib import Path

import pytest

from drill.record import Record
from drill.system import resources
from drill.system.environment import Environment
from tests.support import disk, offspring
from tests.support.worlds import MONDAY_MORNING, HandClock, make_environment

OF_THE_TESTER = re.compile(
    r"PYTHON(DONTWRITEBYTECODE|IOENCODING|UTF8|WARNINGS|OPTIMIZE|_COLORS)|FRETSURE_.*|XDG_.*|TEXTUAL.*"
    r"|COLUMNS|LINES|TERM|COLORTERM|NO_COLOR|(CLICOLOR_)?FORCE_COLOR|TTY_.*"
)
"""Variables by which a tester's terminal and habits would decide what programs in tests show, and where they write."""
for name in filter(OF_THE_TESTER.fullmatch, [*os.environ]):
    del os.environ[name]

gc.disable()  # until all is imported, of which nearly nothing is garbage
sys.dont_write_bytecode = False  # else every worker compiles every test anew, whose asserts pytest rewrites

IN_MEMORY = Path("/dev/shm")
"""Where files are neither written to a disk nor, which takes longer, deleted from one."""
if "TMPDIR" not in os.environ and os.access(IN_MEMORY, os.W_OK | os.X_OK) and shutil.disk_usage(IN_MEMORY).free > 2e9:
    os.environ.setdefault("PYTEST_DEBUG_TEMPROOT", str(IN_MEMORY))


def pytest_configure(config: pytest.Config) -> None:
    """Run every test that is named, itself or by its file, a long one too; of a folder only the quick ones."""
    named = any("::" in argument or Path(argument).is_file() for argument in config.args)
    if named and config.option.markexpr == "not long":
        config.option.markexpr = ""


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of a function marked `long(but=2)`, two cases are not long: the first, and one from the middle."""
    functions: dict[tuple[Path, str], list[pytest.Item]] = defaultdict(list)
    for item in items:
        if any("but" in mark.kwargs for mark in item.own_markers):
            functions[item.path, getattr(item, "originalname", item.name)].append(item)
    for cases in functions.values():
        (but,) = (mark.kwargs["but"] for mark in cases[0].own_markers if "but" in mark.kwargs)
        for number in range(min(but, len(cases))):
            case = cases[number * len(cases) // but]
            case.own_markers = [mark for mark in case.own_markers if "but" not in mark.kwargs]


def pytest_collection(session: pytest.Session) -> None:
    """Whoever runs tests waits for no timer, and lays out no deck again that another test has laid out.

    Of the whole suite, each worker imports another part first, and then finds the others' parts compiled.
    """
    own = getattr(session.config, "workerinput", None)
    if own or not getattr(session.config.option, "numprocesses", None):
        from tests.support import hurrying, once  # they take a while to import, which whoever starts workers need not

        hurrying.let_timers_follow()
        if find_spec("drill._marks") is None:  # else `benchmarks/reaching.py` looks for every test that lays a deck out
            once.keep_decks()
    if own and session.config.args_source is session.config.ArgsSource.TESTPATHS:
        files = sorted(Path(__file__).parent.rglob("test_*.py"))
        for path in files[int(own["workerid"].removeprefix("gw")) :: own["workercount"]]:
            if str(path.parent) not in sys.path:
                sys.path.insert(0, str(path.parent))
            with suppress(Exception):  # the collection will tell of it
                importlib.import_module(path.stem)


def pytest_asyncio_loop_factories() -> dict[str, Callable[[], AbstractEventLoop]]:
    """No test waits for a loop that is idle."""
    from tests.support.hurrying import HurryingLoop

    return {"hurrying": HurryingLoop}


def pytest_collection_finish() -> None:
    """Let the garbage collector pass over what lasts: looking it through again and again takes a fifth of the time."""
    gc.freeze()
    gc.enable()
    gc.set_threshold(20_000, 20, 100)


def pytest_sessionfinish() -> None:
    """What is left ends with the program, and need not be looked through either."""
    gc.freeze()


def pytest_xdist_auto_num_workers() -> int:
    """Half as many workers again as there are processors, for many tests wait for programs that they have started."""
    return max(2, (os.cpu_count() or 1) * 3 // 2)


def pytest_cmdline_main(config: pytest.Config) -> None:
    """Leave neighbours on one worker, for they share what they prepare; a worker that has nothing left takes some."""
    if getattr(config.option, "numprocesses", None):
        config.option.dist = "worksteal"


@pytest.fixture(autouse=True, scope="session")
def nothing_is_made_twice() -> Iterator[None]:
    """No test waits for the disk but those of the rooms where this is what they look at: `record` and `faults`."""
    from tests.support import once

    with pytest.MonkeyPatch.context() as patch:
        disk.unforced(patch)
        once.kept_styles(patch)
        yield


@pytest.hookimpl(trylast=True)
def pytest_runtest_teardown() -> None:
    """No child outlives its test."""
    offspring.end_all()


class OwnDecks:
    """The folder of added decks of the test that runs: each has its own, which is not there yet."""

    def __init__(self, inside: Path) -> None:
        self._inside, self._tests = inside, dict[str, int]()

    def __call__(self) -> Path:
        test = os.environ.get("PYTEST_CURRENT_TEST", "").rpartition(" ")[0]
        number = self._tests.setdefault(test, len(self._tests))
        return self._inside / f"added decks {number}"


@pytest.fixture(autouse=True, scope="session")
def own_decks(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OwnDecks]:
    """The tester's own decks stay out of the tests."""
    with pytest.MonkeyPatch.context() as patch:
        decks = OwnDecks(tmp_path_factory.mktemp("decks"))
        patch.setattr(resources, "added_folder", decks)
        yield decks


@pytest.fixture
def added_decks(own_decks: OwnDecks) -> Path:
    """The folder of added decks, empty."""
    return own_decks()


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def fake_environment(tmp_path: Path, clock: HandClock) -> Environment:
    """A world whose clock is the `clock` fixture and whose files lie in `tmp_path`."""
    return make_environment(tmp_path, clock)


@pytest.fixture(scope="session")
def new_record(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A record into which nothing was written yet, to be copied: how one is begun is for other tests."""
    path = tmp_path_factory.mktemp("new") / "record.sqlite3"
    Record.open(path, lambda: MONDAY_MORNING).close()
    return path


@pytest.fixture
def record(fake_environment: Environment, new_record: Path) -> Iterator[Record]:
    """The world's record, open and empty."""
    path = fake_environment.record_path
    path.parent.mkdir(mode=0o700)
    shutil.copy(new_record, path)
    with Record.open(path, fake_environment.now) as opened:
        yield opened
