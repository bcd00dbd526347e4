"""What differs between operating systems. Only `audio` and `streams` ask besides.

sync_file          forces a file's content onto the disk itself
set_non_blocking   lets a pipe be written to without waiting
is_broken_pipe     whether output failed because its reader has gone
shell_quoted       a word quoted for the command line
"""

from __future__ import annotations

import errno
import os
import sys


def on_windows() -> bool:
    return sys.platform == "win32"


def on_macos() -> bool:
    return sys.platform == "darwin"


def sync_file(descriptor: int) -> None:
    """Return once the file's content is on the disk. Raises OSError.

    On macOS `fsync` leaves the content in the drive's cache; its manual page fsync(2) names F_FULLFSYNC for what must
    survive a power cut. Some network drives do not support F_FULLFSYNC.
    """
    try:
        import fcntl  # not there on Windows

        fcntl.fcntl(descriptor, vars(fcntl)["F_FULLFSYNC"])
    except (ImportError, KeyError, OSError):
        os.fsync(descriptor)


def set_non_blocking(descriptor: int) -> None:
    """Make writes to the pipe return at once when it is full, where the system can: on Windows since Python 3.12.

    https://docs.python.org/3/library/os.html#os.set_blocking
    """
    if hasattr(os, "set_blocking"):
        os.set_blocking(descriptor, False)


def is_broken_pipe(error: BaseException) -> bool:
    """Whether our output failed because its reader has gone.

    Windows reports that as an invalid argument: https://github.com/python/cpython/issues/79935
    """
    if isinstance(error, BrokenPipeError):
        return True
    return on_windows() and isinstance(error, OSError) and error.errno == errno.EINVAL and error.filename is None


def shell_quoted(word: str) -> str:
    """Quote the word for the shell if it needs quotes; Windows shells know only double quotes."""
    from shlex import quote  # here: few commands need it

    quoted = quote(word)
    return f'"{word}"' if on_windows() and quoted != word else quoted
