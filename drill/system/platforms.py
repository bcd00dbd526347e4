"""What systems do each in their own way. No other module asks which one this is.

to_the_disk    what was written to a file, on the disk itself
never_waiting  a pipe that is written to without waiting
reader_left    whether output failed because whoever read it has left
as_typed       a word as it is typed on a command line
"""

from __future__ import annotations

import errno
import os
import sys


def on_windows() -> bool:
    return sys.platform == "win32"


def to_the_disk(descriptor: int) -> None:
    """What was written to the file is on the disk when this returns. Raises OSError.

    On macOS `fsync` leaves it in the drive's own memory, says its manual page fsync(2), and names F_FULLFSYNC for what
    must survive a power cut. A network drive may not know that one.
    """
    try:
        import fcntl  # not there on Windows

        fcntl.fcntl(descriptor, vars(fcntl)["F_FULLFSYNC"])
    except (ImportError, KeyError, OSError):
        os.fsync(descriptor)


def never_waiting(descriptor: int) -> None:
    """The pipe is written to without waiting for room, where that can be had: on Windows from Python 3.12 on.

    https://docs.python.org/3/library/os.html#os.set_blocking
    """
    if hasattr(os, "set_blocking"):
        os.set_blocking(descriptor, False)


def reader_left(error: BaseException) -> bool:
    """Whether our output failed because whoever read it has left.

    Windows calls that an invalid argument: https://github.com/python/cpython/issues/79935
    """
    if isinstance(error, BrokenPipeError):
        return True
    return on_windows() and isinstance(error, OSError) and error.errno == errno.EINVAL and error.filename is None


def as_typed(word: str) -> str:
    """The word as the shell there reads it back: in quotes if it needs any; Windows knows only double ones."""
    from shlex import quote  # here: few commands need it

    quoted = quote(word)
    return f'"{word}"' if on_windows() and quoted != word else quoted
