"""The whole program with a microphone: private, closed whenever nobody listens, and no traceback when it is unplugged.

Over a sound card of PulseAudio that only records; skipped where that is not installed.
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

import pytest

from drill.practice.hearing import CLOSED, LOST, OPENED
from tests.support import offspring
from tests.support.null_sink import MISSING, Card, can_run, null_sink
from tests.support.playing import RATE, noise, played, together
from tests.support.project import ROOT

PATIENCE_S = 30.0
LISTENING = ("today", "--listen", "--deck", "two-shapes")
PLAYING = together(noise(60, db=-50), played([(1.0 * number, 45 + number % 12) for number in range(60)], 60))
"""A minute on a guitar in a quiet room; without any noise a microphone would seem forbidden."""
pytestmark = pytest.mark.skipif(not can_run(), reason=MISSING)


@pytest.fixture
def card() -> Iterator[Card]:
    with null_sink() as running:
        yield running


@contextmanager
def program(card: Card, folder: Path, before: Sequence[str] = ()) -> Iterator[subprocess.Popen[str]]:
    """A drill that listens, with an empty record; `before` is a program that starts it."""
    own = {"XDG_CONFIG_HOME": f"{folder}/config", "PYTHONDONTWRITEBYTECODE": "1"}
    child = subprocess.Popen(
        [*before, sys.executable, "-m", "drill", *LISTENING, "--record", str(folder / "record.sqlite3")],
        cwd=ROOT,
        env={**os.environ, **card.variables, **own},
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        preexec_fn=offspring.heed_signals,
    )
    try:
        yield child
    finally:
        child.kill()
        child.communicate()


def opened(card: Card) -> bool:
    """Whether the program listens, as the sound server sees it; the server's own microphone does not count."""
    return any("protocol-native" in line for line in card.listeners)


def comes_true(condition: Callable[[], bool]) -> bool:
    until_s = time.monotonic() + PATIENCE_S
    while not condition() and time.monotonic() < until_s:
        time.sleep(0.05)
    return condition()


@pytest.mark.long
def test_the_microphone_closes_while_the_program_stands_still_and_when_it_is_ended(card: Card, tmp_path: Path) -> None:
    with program(card, tmp_path) as child:
        assert comes_true(lambda: opened(card))
        child.send_signal(signal.SIGTSTP)
        assert os.WIFSTOPPED(os.waitpid(child.pid, os.WUNTRACED)[1])  # a signal to go on would be lost before
        assert comes_true(lambda: not opened(card))
        child.send_signal(signal.SIGCONT)
        assert comes_true(lambda: opened(card))
        child.send_signal(signal.SIGTERM)
        said, _ = child.communicate(timeout=PATIENCE_S)
        assert child.returncode == 130
        assert not opened(card)
    assert OPENED in said
    assert CLOSED in said
    assert "Traceback" not in said


def test_a_crash_leaves_no_microphone_open(card: Card, tmp_path: Path) -> None:
    with program(card, tmp_path) as child:
        assert comes_true(lambda: opened(card))
        child.kill()
        assert comes_true(lambda: not opened(card))


@pytest.mark.long
def test_a_microphone_that_is_unplugged_is_one_sentence_and_the_drill_goes_on_typed(card: Card, tmp_path: Path) -> None:
    settings = tmp_path / "config" / "fretsure" / "settings.toml"
    settings.parent.mkdir(parents=True)
    settings.write_text('microphone = "mic"\n')  # the system's choice would be moved to another microphone
    with card.guitar(PLAYING, RATE), program(card, tmp_path) as child:
        assert child.stdout is not None
        assert comes_true(lambda: opened(card))
        line = ""
        while not line.startswith("1. "):
            line = child.stdout.readline()
        card.ask("unload-module", "module-remap-source")
        while line and not line.startswith(LOST):
            line = child.stdout.readline()
        assert line.startswith(LOST)
        said, _ = child.communicate("5\n", timeout=PATIENCE_S)
    assert child.returncode == 0
    assert LOST not in said
    assert "Traceback" not in said


WRITES = re.compile(r'(?:openat|open|creat)\([^"]*"([^"]+)"[^)]*O_(?:WRONLY|RDWR|CREAT|APPEND)')
MAKES = re.compile(r'\b(?:rename|renameat2?|link|linkat|symlink\w*|mknod\w*)\([^"]*"([^"]+)"')
REACHES = re.compile(r"connect\(\d+, \{(.*?)\}")


def may_be_traced() -> bool:
    """Whether strace is installed and permitted."""
    return bool(shutil.which("strace")) and not subprocess.run(["strace", "-o", os.devnull, "true"]).returncode


@pytest.mark.long
def test_nothing_is_written_but_the_record_and_nothing_is_sent_but_to_the_sound_server(
    card: Card, tmp_path: Path
) -> None:
    if not may_be_traced():
        pytest.skip("strace is not installed here, or not permitted")
    trace = tmp_path / "trace"
    watch = ("strace", "-f", "-qq", "-e", "trace=%file,%network", "-o", str(trace))
    with card.guitar(PLAYING, RATE), program(card, tmp_path, watch) as child:
        assert comes_true(lambda: opened(card))
        time.sleep(5)
        assert opened(card)
        said, _ = child.communicate("5\n", timeout=PATIENCE_S)
    assert CLOSED in said
    assert "not heard for sure" in said or "Play" in said
    calls = trace.read_text(errors="replace")
    records, others = set(), set()
    for path in WRITES.findall(calls) + MAKES.findall(calls):
        own = Path(path).name.lstrip(".").startswith(("record.sqlite3", "daily-"))
        (records if own else others).add(path)
    assert records
    allowed = re.compile(r"/dev/null|/dev/shm/pulse-.*|.*/pulse/cookie")  # the sound server's, and nothing at all
    assert {path for path in others if not allowed.fullmatch(path)} == set()
    reached = REACHES.findall(calls)
    assert reached
    server = card.variables["PULSE_SERVER"].removeprefix("unix:")
    assert all(f'sun_path="{server}"' in where for where in reached)
    assert "AF_INET" not in calls
