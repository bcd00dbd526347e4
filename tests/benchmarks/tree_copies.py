"""Copies of the project in which tests run, so that no fault put in ever stands in the working tree.

Copy     one copy; `run` runs tests in it, and ends them and all they have started when their time is up
Ended    how a run of tests ended, and how long it took
end      ends a process with all it has started; end_all does so with every run
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
import uuid
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

import checkout  # noqa: F401

from tests.support.project import ROOT

MARK = "COPY_OF_THE_TREE"
"""A variable in the environment of everything that a run starts: it finds what has left the run's process group."""


_running: dict[str, subprocess.Popen[bytes]] = {}


class Ended(NamedTuple):
    """How tests ended: passed, failed, or out of time."""

    how: str
    seconds: float
    said: str


class Copy:
    """A copy of the project's files as they are now, in a folder that is not there yet."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._writes = 0
        shutil.copytree(ROOT, folder, ignore=shutil.ignore_patterns(".*", "__pycache__", "dist", "build", "*.egg-info"))

    def write(self, name: str, source: str) -> None:
        """Writes a module, so that no byte code of its earlier text is taken for that of this one."""
        path = self.folder / name
        path.write_text(source, encoding="utf-8")
        for compiled in (path.parent / "__pycache__").glob(f"{path.stem}.*"):
            compiled.unlink()
        self._writes += 1
        moment = path.stat().st_mtime + 10 * self._writes  # Python tells texts of one length apart by whole seconds
        os.utime(path, (moment, moment))

    def run(self, arguments: list[str], limit_s: float) -> Ended:
        """Runs pytest with these arguments up to the first failure; what runs longer is ended with its children.

        Tests marked `long` are among them.
        """
        mark = uuid.uuid4().hex
        outside = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST")}
        world = {**outside, MARK: mark, "PYTHONPATH": str(self.folder)}
        choice = ["-m", "", "-x", "-q", "-p", "no:cacheprovider", "--tb=line"]
        command = [sys.executable, "-m", "pytest", *choice, *arguments]
        began, output = time.monotonic(), self.folder / ".tests-said"
        with output.open("wb") as said:
            child = subprocess.Popen(
                command, cwd=self.folder, env=world, stdin=-3, stdout=said, stderr=-2, start_new_session=True
            )
            _running[mark] = child
            try:
                how = {0: "passed", 5: "passed"}.get(child.wait(limit_s), "failed")  # 5: no test was found
            except subprocess.TimeoutExpired:
                how = "out of time"
            finally:
                end(child, mark)
                del _running[mark]
        return Ended(how, time.monotonic() - began, output.read_text(encoding="utf-8", errors="replace"))


def end(child: subprocess.Popen[bytes], mark: str) -> None:
    """Ends a run's processes: its group, and whatever has left that group but carries the run's mark."""
    with suppress(ProcessLookupError, PermissionError):
        os.killpg(child.pid, signal.SIGKILL)
    child.wait()
    for process in Path("/proc").glob("[0-9]*"):
        with suppress(OSError):
            if f"{MARK}={mark}".encode() in (process / "environ").read_bytes():
                os.kill(int(process.name), signal.SIGKILL)


def end_all() -> None:
    """Ends whatever runs now."""
    for mark, child in [*_running.items()]:
        end(child, mark)
