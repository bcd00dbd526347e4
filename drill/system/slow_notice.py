"""A notice on the terminal while slow work keeps the learner waiting."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import TextIO

SLOW_S = 1.0
"""Work that takes longer than this is explained."""
READING = "fretsure: reading a long record takes a moment. Ctrl+C stops it; nothing is lost."


@contextmanager
def notify_if_slow(stream: TextIO, sentence: str = READING, after_s: float = SLOW_S) -> Iterator[None]:
    """Write the sentence once if the block takes longer than `after_s` seconds and the stream is a terminal."""
    if not stream.isatty():
        yield
        return
    from threading import Timer  # here: look-ups never wait

    timer = Timer(after_s, _say, (stream, sentence))
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()  # a sentence half written ends before the next one begins


def _say(stream: TextIO, sentence: str) -> None:
    with suppress(OSError):
        stream.write(f"{sentence}\n")
        stream.flush()
