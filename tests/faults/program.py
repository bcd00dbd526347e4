"""The program in a process of its own: `main.main` in a fork that has it loaded already, so that it starts in no time.

begin     starts a command; talk to it through the `Running` it gives
run       runs a command to its end, with what it reads
alone     starts it as a learner does, with an interpreter of its own
"""

from __future__ import annotations

import json
import os
import select
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from drill.cli import main
from drill.decks import load_deck
from drill.theory.neck import STANDARD, Neck
from tests.support import offspring

PATIENCE_S = 30.0
Before = Callable[[], object]
ROOT = Path(__file__).parents[2]
DECK = "naturals"
CODES = {0, 2, 65, 73, 74, 130}
"""The contract: done, usage, bad file, cannot write, record damaged, interrupted. 70 is a mistake of ours."""


@dataclass(frozen=True, slots=True)
class Ended:
    """A command that has ended: its exit code, and what it said on standard output and on standard error."""

    code: int
    said: str
    complained: str

    @property
    def objects(self) -> list[dict[str, Any]]:
        """What it said as JSON Lines; a line cut off by a kill is left out."""
        return [json.loads(line) for line in self.said.splitlines(keepends=True) if line.endswith("\n")]


class Running:
    """A command that runs: tell it lines, hear its lines, wait for its end."""

    def __init__(self, pid: int, standard_input: int, output: int, errors: int) -> None:
        self.pid = pid
        self._input, self._output, self._errors = standard_input, output, errors
        self._heard = b""
        self._taken = 0

    def tell(self, text: str) -> None:
        """Let it read this; nothing happens if it has ended."""
        with suppress(BrokenPipeError):
            os.write(self._input, text.encode("utf-8", "surrogateescape"))

    def hear(self, patience_s: float = PATIENCE_S) -> str | None:
        """Its next whole line; None when it has ended, or said nothing within this time."""
        deadline = time.monotonic() + patience_s
        while (end := self._heard.find(b"\n", self._taken)) < 0:
            ready, _, _ = select.select([self._output], [], [], max(0.0, deadline - time.monotonic()))
            piece = os.read(self._output, 65536) if ready else b""
            if not piece:
                return None
            self._heard += piece
        line = self._heard[self._taken : end]
        self._taken = end + 1
        return line.decode()

    def signal(self, number: signal.Signals) -> None:
        with suppress(ProcessLookupError):
            os.kill(self.pid, number)

    def stop_hearing(self) -> None:
        """Close the end its output goes to."""
        os.close(self._output)
        self._output = os.open(os.devnull, os.O_RDONLY)

    def end(self) -> Ended:
        """End of input; then everything it still says, and its exit code (negative if a signal ended it)."""
        os.close(self._input)
        complaints = b""
        for source in (self._output, self._errors):
            while piece := os.read(source, 65536):
                if source == self._output:
                    self._heard += piece
                else:
                    complaints += piece
            os.close(source)
        _, status = os.waitpid(self.pid, 0)
        offspring.gone(self.pid)
        return Ended(os.waitstatus_to_exitcode(status), self._heard.decode(), complaints.decode())


def begin(*arguments: str, home: Path, before: Before = lambda: None) -> Running:
    """Starts a command whose settings lie in `home`; `before` is done in its process first."""
    (their_input, tell), (hear, their_output), (heed, their_errors) = (os.pipe() for _ in range(3))
    theirs = (their_input, their_output, their_errors)
    pid = os.fork()
    if pid == 0:
        _become(theirs, list(arguments), home, before)
    offspring.born(pid)
    for end in theirs:
        os.close(end)
    return Running(pid, tell, hear, heed)


def run(*arguments: str, home: Path, reads: str = "", before: Before = lambda: None) -> Ended:
    """Runs a command to its end. `reads` must fit into a pipe, some 60 kB."""
    running = begin(*arguments, home=home, before=before)
    if reads:
        running.tell(reads)
    return running.end()


def alone(
    *arguments: str,
    home: Path,
    reads: bytes = b"",
    variables: Mapping[str, str] | None = None,
    shell: str = "",
    python: Sequence[str] = (sys.executable,),
) -> Ended:
    """Runs a command to its end with an interpreter of its own; `shell` is put behind it, such as '> /dev/full'."""
    command = ["bash", "-c", f'"$0" "$@" {shell}', *python, "-m", "drill", *arguments]
    done = subprocess.run(command, input=reads, capture_output=True, env=variables_for(home) | dict(variables or {}))
    return Ended(done.returncode, done.stdout.decode("utf-8", "replace"), done.stderr.decode("utf-8", "replace"))


def variables_for(home: Path) -> dict[str, str]:
    """Environment variables under which the program finds nothing of the tester's own."""
    return {
        "HOME": str(home),
        "XDG_CONFIG_HOME": str(home),
        "XDG_DATA_HOME": str(home),
        "FRETSURE_RECORD": str(home / "record.sqlite3"),
        "PATH": os.environ["PATH"],
        "PYTHONPATH": str(ROOT),
    }


@cache
def answers() -> Mapping[str, tuple[str, ...]]:
    """The accepted answers of every card of the deck the victims drill."""
    return {card.id: card.accepts for card in load_deck(DECK, Neck(STANDARD)).cards()}


def _become(streams: tuple[int, int, int], arguments: list[str], home: Path, before: Before) -> None:
    """Never returns: the process becomes the program. It leaves without the clean-up that is its parent's business."""
    code = 1
    try:
        for number, end in enumerate(streams):
            os.dup2(end, number)
        os.closerange(3, 1024)  # an open end of another command's pipe would keep that one from ever ending
        os.environ |= variables_for(home)
        sys.stdin, sys.stdout, sys.stderr = open(0), open(1, "w"), open(2, "w", buffering=1)  # noqa: SIM115
        offspring.heed_signals()
        before()
        code = main.main(arguments)
    except SystemExit as leaving:
        code = leaving.code if isinstance(leaving.code, int) else 1
    finally:
        os._exit(code)
