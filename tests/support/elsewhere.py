"""Another system, as far as Python alone can play it: what Windows lacks is taken away, what it refuses is refused.

Played in a process of its own (`as_on_windows`), since it cannot be taken back. What is missing there is said by the
"Availability" lines of Python's documentation: https://docs.python.org/3/library/os.html and .../signal.html
"""

from __future__ import annotations

import datetime
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tests.support.project import ROOT

MODULES = ("fcntl", "grp", "pwd", "pty", "resource", "termios", "tty", "syslog")
"""Modules of the standard library for Unix alone: https://docs.python.org/3/library/unix.html"""
OF_OS = (
    "O_CLOEXEC", "O_DIRECTORY", "O_NOCTTY", "O_NOFOLLOW", "O_NONBLOCK", "O_SYNC", "chown", "fchdir", "fchown", "fork",
    "getegid", "geteuid", "getgid", "getpgid", "getuid", "killpg", "mkfifo", "mknod", "nice", "openpty",
    "posix_fallocate", "pread", "setsid", "sync", "uname", "fchmod", "set_blocking", "get_blocking",
)  # fmt: skip
"""The last three are there from Python 3.12 or 3.13 on."""
SIGNALS = ("SIGALRM", "SIGCHLD", "SIGCONT", "SIGHUP", "SIGKILL", "SIGPIPE", "SIGQUIT", "SIGSTOP", "SIGTSTP", "SIGTTIN",
           "SIGTTOU", "SIGUSR1", "SIGUSR2", "SIGWINCH")  # fmt: skip
FIRST_S, LAST_S = 0, 32_536_850_399
"""What localtime and gmtime take there, in seconds since 1970: nothing before it, nothing after the year 3000."""


def as_on_windows(
    program: str, *arguments: str, folder: Path | None = None, given: str = ""
) -> subprocess.CompletedProcess[str]:
    """Runs the program in a Python that lacks and refuses what one on Windows would.

    `given` is its standard input; settings are looked for in `folder`.
    """
    code = f"from tests.support.elsewhere import be_windows\nbe_windows()\n{program}"
    world = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "cp1252", "XDG_CONFIG_HOME": str(folder)}
    return subprocess.run(
        [sys.executable, "-c", code, *arguments], env=world, input=given, capture_output=True, encoding="cp1252"
    )


def be_windows() -> None:
    """Makes this process one like on Windows, from here on."""
    import platformdirs
    import pydantic  # libraries look at the system as they are imported: theirs is the real one
    import sqlite_utils

    assert platformdirs and pydantic and sqlite_utils
    for name in MODULES:
        sys.modules[name] = None  # type: ignore[assignment]
    for module, names in ((os, OF_OS), (signal, SIGNALS), (time, ("tzset",))):
        for name in names:
            vars(module).pop(name, None)
    _narrow_the_times()
    _mind_the_files()
    shutil._use_fd_functions = False  # type: ignore[attr-defined]
    sys.platform = "win32"


def _narrow_the_times() -> None:
    known_localtime = time.localtime

    class Datetime(datetime.datetime):
        @classmethod
        def fromtimestamp(cls, timestamp: float, tz: Any = None) -> Any:
            _refuse_far(timestamp)
            return super().fromtimestamp(timestamp, tz)

    def localtime(seconds: float | None = None) -> time.struct_time:
        _refuse_far(FIRST_S if seconds is None else seconds)
        return known_localtime(seconds)

    datetime.datetime = Datetime  # type: ignore[misc]
    time.localtime = localtime


def _refuse_far(seconds: float) -> None:
    if not FIRST_S <= seconds <= LAST_S:
        raise OSError(22, "Invalid argument")


def _mind_the_files() -> None:
    """No file that is open is removed or replaced, none is renamed onto another, and no folder is opened."""
    known_open = os.open

    def opened(path: Any, flags: int, *more: Any, **named: Any) -> int:
        if Path(path).is_dir():
            raise PermissionError(13, "Permission denied", str(path))
        return known_open(path, flags, *more, **named)

    def on_free_files(known: Callable[..., None], *, onto: bool) -> Callable[..., None]:
        def done(*paths: Any, **named: Any) -> None:
            for path in paths:
                _refuse_if_open(Path(path))
            if len(paths) == 2 and not onto and Path(paths[1]).exists():
                raise FileExistsError(17, "Cannot create a file when that file already exists", str(paths[0]))
            known(*paths, **named)

        return done

    os.open = opened
    for name, onto in (("unlink", True), ("remove", True), ("replace", True), ("rename", False)):
        setattr(os, name, on_free_files(getattr(os, name), onto=onto))


def _refuse_if_open(path: Path) -> None:
    """A file that any program holds open without sharing its removal, as SQLite and Python do, stays where it is."""
    if any(_leads_to(held, path) for held in Path("/proc/self/fd").iterdir()):
        raise PermissionError(13, "The process cannot access the file: it is being used", str(path))


def _leads_to(held: Path, path: Path) -> bool:
    try:
        return held.samefile(path)
    except OSError:
        return False
