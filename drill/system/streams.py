"""Standard input and output as they may really be: closed, or in an encoding that knows no ♭.

readable     a stream to read from; undecodable bytes become �
writable     a stream to write to; characters its encoding lacks become the nearest plain ones
can_show     whether a stream's encoding has some characters
take_line    a line that has been typed meanwhile
line_waits   whether a line has been typed that nobody has read yet
settle       flushes a stream, or lets go of one whose other end is gone
"""

from __future__ import annotations

import codecs
import io
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import TextIO

from drill.system.text import plainest

PLAINEST = "fretsure-plainest"
"""The name of the error handler that `codecs` calls for a character the encoding lacks."""


def readable(stream: TextIO | None) -> TextIO:
    """Return the stream so that undecodable bytes never make it fail; an empty one if there is no stream."""
    if stream is None:
        return io.StringIO()
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors="replace")
    return stream


def writable(stream: TextIO | None) -> TextIO:
    """Return the stream so that no character makes it fail; the null device if there is no stream."""
    if stream is None:
        return Path(os.devnull).open("w", encoding="utf-8")
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors=PLAINEST)
    return stream


def can_show(stream: TextIO, text: str) -> bool:
    """Whether the stream's encoding has every character of a text; one without an encoding takes any."""
    try:
        text.encode(getattr(stream, "encoding", None) or "utf-8")
    except UnicodeEncodeError:
        return False
    return True


def take_line(stream: TextIO) -> str | None:
    """The next line that was typed at a terminal; None if there is none yet, empty at the end of input."""
    return stream.readline() if line_waits(stream) else None


def line_waits(stream: TextIO) -> bool:
    """Whether somebody at a terminal has pressed Enter, or on Windows any key. False for anything but a terminal."""
    if not stream.isatty():
        return False
    if sys.platform == "win32":
        from msvcrt import kbhit

        return kbhit()
    from select import select

    return bool(select([stream], [], [], 0)[0])


def settle(stream: TextIO) -> None:
    """Flush the stream. Point one that takes no more at the null device, before Python complains of it at exit."""
    try:
        stream.flush()
    except (OSError, ValueError):
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _replace_unencodable(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return plainest(error.object[error.start : error.end]), error.end


codecs.register_error(PLAINEST, _replace_unencodable)
