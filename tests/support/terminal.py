"""A program in a pseudo-terminal, its screen read through a terminal emulator (pyte): as a person meets it."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from types import TracebackType
from typing import Self

import pyte

from tests.support import offspring
from tests.support.reading import says

PATIENCE_S = 20.0
"""How long a screen may take on a busy machine; a wait ends at once when what it waits for is there."""


class Terminal:
    """Runs `command` in a terminal of so many columns and rows; a context manager that leaves no process behind."""

    def __init__(
        self, command: Sequence[str], environment: Mapping[str, str], columns: int = 80, rows: int = 24
    ) -> None:
        self._screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self._screen)
        self.raw = bytearray()
        self.status: int | None = None
        self.pid, self._fd = pty.fork()
        if self.pid == 0:
            offspring.heed_signals()
            os.execvpe(command[0], list(command), {"TERM": "xterm-256color", "COLORTERM": "truecolor", **environment})
        offspring.born(self.pid)
        self.resize(columns, rows)

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.status is None:
            self.signal(signal.SIGKILL)
            self.wait_end()
        self.close()

    def close(self) -> None:
        """Close the window: a program still in it is hung up on."""
        if self._fd >= 0:
            os.close(self._fd)
            self._fd = -1

    def text(self) -> str:
        """The screen as lines of text."""
        return "\n".join(line.rstrip() for line in self._screen.display)

    def says(self, words: str) -> bool:
        """Whether the screen says these words, wherever its lines break."""
        return says(self.text(), words)

    def type(self, keys: str) -> None:
        """Send keys as a keyboard would."""
        os.write(self._fd, keys.encode())

    def resize(self, columns: int, rows: int) -> None:
        """Change the size of the window, as dragging its corner does."""
        self._screen.resize(rows, columns)
        fcntl.ioctl(self._fd, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def signal(self, number: signal.Signals) -> None:
        """Send the program a signal; nothing happens if it has ended."""
        with suppress(ProcessLookupError):
            os.kill(self.pid, number)

    def wait(self, condition: Callable[[str], bool] | str, patience_s: float = PATIENCE_S) -> str:
        """The screen as soon as it shows the text, or meets the condition; fails with the screen otherwise."""
        seen = (lambda screen: condition in screen) if isinstance(condition, str) else condition
        deadline = time.monotonic() + patience_s
        while not seen(screen := self.text()):
            if not self.read(deadline - time.monotonic()):
                raise AssertionError(f"never saw {condition!r}; the screen is\n{self.text()}")
        return screen

    def wait_end(self, patience_s: float = PATIENCE_S) -> int:
        """The exit code once the program has ended (128 + the signal's number if one ended it)."""
        deadline = time.monotonic() + patience_s
        while self.status is None:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            if pid:
                code = os.waitstatus_to_exitcode(status)
                self.status = code if code >= 0 else 128 - code
                offspring.gone(self.pid)
            elif not self.read(0.02) and time.monotonic() > deadline:
                raise AssertionError(f"the program goes on; the screen is\n{self.text()}")
        while self.read(0):
            pass
        return self.status

    def settings(self) -> list[object]:
        """The terminal's own settings (echo, line mode ...), to be compared before and after."""
        return list(termios.tcgetattr(self._fd))

    def read(self, seconds: float) -> bool:
        """Take in what the program has written within this time; False when there was nothing."""
        watched = [self._fd] if self._fd >= 0 else []
        ready, _, _ = select.select(watched, [], [], max(0.0, seconds))
        if not ready:
            return False
        try:
            piece = os.read(self._fd, 65536)
        except OSError:  # the other end of the terminal is closed
            return False
        self.raw += piece
        self._stream.feed(piece)
        return bool(piece)
