"""Keeps a list of what the process it is installed in does to files, processes and the network.

An audit hook (https://docs.python.org/3/library/audit_events.html) sees it whoever does it, libraries included.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any
from urllib.parse import unquote

FORBIDDEN = (
    *("socket.connect", "socket.bind", "socket.sendto", "socket.sendmsg", "socket.getaddrinfo", "socket.gethostbyname"),
    *("subprocess.Popen", "os.system", "os.exec", "os.spawn", "os.posix_spawn", "os.fork", "os.forkpty", "pty.spawn"),
    *("pickle.find_class", "ctypes.dlopen", "webbrowser.open", "urllib.Request", "ftplib.connect", "smtplib.connect"),
)
CHANGES = ("os.remove", "os.rename", "os.mkdir", "os.rmdir", "os.link", "os.symlink", "os.truncate", "shutil.rmtree")
IN_MEMORY = ":memory:"
"""A database that is no file: https://www.sqlite.org/inmemorydb.html"""
WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND


def install(log: Path) -> None:
    """From here on everything of note becomes a line of `log`: what, a tab, and which file or what else."""
    sys.dont_write_bytecode = True
    descriptor = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)

    def hear(event: str, details: tuple[Any, ...]) -> None:
        for sort, about in _noted(event, details):
            os.write(descriptor, f"{sort}\t{about}\n".encode("utf-8", "backslashreplace"))

    sys.addaudithook(hear)


def noted(log: Path, sort: str) -> list[str]:
    """What was noted of one sort: `write`, `read` or `forbidden`."""
    lines = (line.partition("\t") for line in log.read_text(encoding="utf-8").splitlines())
    return [about for name, _, about in lines if name == sort]


def written_outside(log: Path, folder: Path) -> set[str]:
    """The files outside of a folder that were written to. Raises AssertionError if nothing was written at all."""
    written = noted(log, "write")
    assert written, "the watch saw nothing"
    return {path for path in written if not inside(path, folder)} - {os.devnull}


def inside(path: str, folder: Path) -> bool:
    """Whether a path, or SQLite's address of one, lies in the folder."""
    if path.startswith("file://"):
        path = unquote(path.removeprefix("file://").partition("?")[0])
    return Path(path).resolve().is_relative_to(folder.resolve())


def _noted(event: str, details: tuple[Any, ...]) -> Iterable[tuple[str, str]]:
    if event in FORBIDDEN and details != (None,):  # ctypes looks at Python itself when it is imported
        yield "forbidden", f"{event} {details}"
    elif event in CHANGES:
        yield from (("write", os.path.realpath(each)) for each in details if isinstance(each, str | os.PathLike))
    elif event == "open" and isinstance(details[0], str | os.PathLike | bytes):
        path = os.path.realpath(os.fsdecode(details[0]))
        yield ("write" if (details[2] or 0) & WRITING else "read"), path
    elif event == "sqlite3.connect" and details[0] != IN_MEMORY:
        yield "write", str(details[0])
