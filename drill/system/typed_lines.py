"""Standard input that can be asked whether a line has come, so that a program can listen meanwhile.

A thread reads the bytes; it alone may wait for them. Nothing that is typed is lost: lines wait until they are read. It
reads from the descriptor and not through Python's buffer, for a thread that still waits there when the program ends
would hold the lock of that buffer: https://docs.python.org/3/library/sys.html#sys.stdin
"""

from __future__ import annotations

import codecs
import io
import os
from queue import Empty, SimpleQueue
from threading import Thread
from typing import TextIO

PIECE = 65_536


class TypedLines(io.TextIOBase):
    """Reads lines from another stream. A stream without a descriptor, as one in memory, has its lines at once."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._queue: SimpleQueue[bytes] = SimpleQueue()
        self._decoder = codecs.getincrementaldecoder(getattr(stream, "encoding", None) or "utf-8")("replace")
        self._text, self._at_end = "", False
        try:
            descriptor = stream.fileno()
        except (OSError, ValueError):
            self._text, self._at_end = stream.read(), True
            return
        Thread(target=self._read, args=(descriptor,), daemon=True).start()

    def _read(self, descriptor: int) -> None:
        while piece := self._piece(descriptor):
            self._queue.put(piece)
        self._queue.put(b"")

    @staticmethod
    def _piece(descriptor: int) -> bytes:
        try:
            return os.read(descriptor, PIECE)
        except OSError:  # a terminal that is gone
            return b""

    def ready(self, seconds: float) -> bool:
        """Whether a line, or the end of input, is there now or within so many seconds."""
        while not self._has_line:
            try:
                self._take(self._queue.get(timeout=seconds) if seconds > 0 else self._queue.get_nowait())
            except Empty:
                return False
        return True

    @property
    def _has_line(self) -> bool:
        return self._at_end or "\n" in self._text

    def _take(self, piece: bytes) -> None:
        self._at_end = not piece
        self._text += self._decoder.decode(piece, final=self._at_end)

    def readline(self, size: int | None = -1) -> str:  # type: ignore[override]
        """The next line with its end, at most `size` characters of it; empty at the end of input."""
        limit = size if size is not None and size >= 0 else None
        while not self._has_line and not (limit is not None and len(self._text) >= limit):
            self._take(self._queue.get())
        end = self._text.find("\n") + 1 or len(self._text)
        line = self._text[: end if limit is None else min(end, limit)]
        self._text = self._text[len(line) :]
        return line

    def readable(self) -> bool:
        return True

    def isatty(self) -> bool:
        return self._stream.isatty()
