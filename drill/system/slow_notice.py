"""A sentence for who waits: said once, when work takes long, and only where somebody can read it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TextIO

LONG_S = 1.0
"""Work that takes longer than this is explained."""
READING = "fretsure: reading a long record takes a moment. Ctrl+C stops it; nothing is lost."


@contextmanager
def notify_if_slow(stream: TextIO, sentence: str = READING, after_s: float = LONG_S) -> Iterator[None]:
    """While the work inside goes on, say the sentence on the stream after so many seconds, if it is a terminal."""
    if not stream.isatty():
        yield
        return
    from threading import Timer  # here: a look-up has nobody wait

    timer = Timer(after_s, _say, (stream, sentence))
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()  # what is said next does not run into a sentence half said


def _say(stream: TextIO, sentence: str) -> None:
    with suppress(OSError):
        stream.write(f"{sentence}\n")
        stream.flush()
