"""A program in a terminal, timed at the wire: when it has written a thing, not when a screen has drawn it."""

from __future__ import annotations

import os
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace

import checkout  # noqa: F401

from tests.support.terminal import Terminal

EMPTY_APP = """
from textual.app import App
from textual.binding import Binding
from textual.widgets import Static
class Empty(App):
    BINDINGS = [Binding("e", "say", "Say")]
    heard = 0
    def compose(self):
        yield Static("here I am", id="said")
    def action_say(self):
        self.heard += 1
        self.query_one("#said", Static).update(f"heard it {self.heard} times")
Empty().run()
"""
PYTHON = sys.executable
FRETSURE = [PYTHON, "-c", "from drill.cli.main import main; raise SystemExit(main())"]
"""As the installed command starts it."""
KEYS = 5
"""How many keys are pressed in each run."""
SOLVED = "key goes on"
"""What the field says under a card that is shown solved; its first word is broken up by the cursor."""
LONGEST_GUARD_S = 1.6
"""So long after a card came, a key still counts for what was there before."""
CALM_S = 0.1
"""A program that has written nothing for so long waits for a key."""


class Wire(Terminal):
    """A terminal that keeps what is written to it and draws nothing."""

    def __init__(self, command: list[str], environment: dict[str, str]) -> None:
        super().__init__(command, environment)
        self._stream = SimpleNamespace(feed=len)  # type: ignore[assignment]


@dataclass(slots=True)
class Run:
    """One run of a program in a terminal."""

    start_s: float
    key_s: list[float]
    peak_bytes: float


def drill_run(record: Path, deck: str = "naturals", disk: str | None = None, *, as_it_is: bool = False) -> Run:
    """Start a drill, pass on its questions with one key each, and read their verdicts; `disk` holds the record.

    With `as_it_is` a long record stays as it is, too.
    """
    with tempfile.TemporaryDirectory(dir=disk) as folder:
        used = Path(folder) / record.name
        if as_it_is or record.stat().st_size < 1_000_000:
            used.write_bytes(record.read_bytes())  # an empty record stays one
        else:
            used.symlink_to(record)  # among so many answers a few more make no difference
        environment = {**os.environ, "FRETSURE_RECORD": str(used), "XDG_CONFIG_HOME": folder}
        return _run([*FRETSURE, "today", "--deck", deck], environment, SOLVED, "?", lambda _: "Why:", "\r")


def empty_run() -> Run:
    """Start an empty app and have it change its one line at each key."""
    return _run([PYTHON, "-c", EMPTY_APP], dict(os.environ), "here I am", "e", "heard it {} times".format, "")


def _run(
    command: list[str], environment: dict[str, str], first: str, key: str, then: Callable[[int], str], key_on: str
) -> Run:
    """Wait for what a program shows first, then for what it shows after each key; `key_on` goes on to the next."""
    began = time.perf_counter()
    with Wire(command, environment) as terminal:
        _written(terminal, first, 0)
        start_s, key_s = time.perf_counter() - began, []
        _leave_solved(terminal, 0)
        for number in range(1, KEYS + 1):
            _settle(terminal)
            seen, began = len(terminal.raw), time.perf_counter()
            terminal.type(key)
            _written(terminal, then(number), seen)
            key_s.append(time.perf_counter() - began)
            if key_on:
                time.sleep(LONGEST_GUARD_S)
                _settle(terminal)
                seen = len(terminal.raw)
                terminal.type(key_on)
                _leave_solved(terminal, seen)
        return Run(start_s, key_s, _peak_bytes(terminal.pid))


def _written(terminal: Wire, words: str, after: int) -> None:
    """Wait until these words have been written, after so many bytes."""
    wanted = words.encode()
    while terminal.raw.find(wanted, after) < 0:
        if not terminal.read(20.0):
            raise SystemExit(f"never saw {words!r} in {bytes(terminal.raw[-2000:])!r}")


def _leave_solved(terminal: Wire, after: int) -> None:
    """Go on from cards that are shown solved to the next question."""
    _settle(terminal)
    while terminal.raw.find(SOLVED.encode(), after) >= 0:
        time.sleep(LONGEST_GUARD_S)
        _settle(terminal)  # the cursor has blinked in the meantime
        after = len(terminal.raw)
        terminal.type("\r")
        _settle(terminal)


def _settle(terminal: Wire) -> None:
    while terminal.read(CALM_S):
        pass


def _peak_bytes(pid: int) -> float:
    status = Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    return float(next(line for line in status.splitlines() if line.startswith("VmHWM")).split()[1]) * 1024
