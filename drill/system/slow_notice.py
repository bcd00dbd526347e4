"""A notice on the terminal while slow work keeps the learner waiting."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TextIO

SLOW_S = 1.0
"""Work that takes longer than this is explained."""
READING = "fretsure: reading a long record takes a moment. Ctrl+C stops it; nothing is lost."


@contextmanager
def notify_if_slow(stream: TextIO, after_s: float = SLOW_S) -> Iterator[None]:
    """Say once that a long record is read, if the block takes longer than `after_s` seconds at a terminal."""
    if not stream.isatty():
        yield
        return
    from threading import Timer  # here: look-ups never wait

    timer = Timer(after_s, _say, (stream,))
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()  # a sentence half written ends before the next one begins


def _say(stream: TextIO) -> None:
    with suppress(OSError):
        stream.write(f"{READING}\n")
        stream.flush()
