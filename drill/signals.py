"""Signals in line mode and everywhere before a screen is up: the program ends, or stands still, in order.

ending_in_order    a signal to stop ends a command as Ctrl+C does
standing_still     Ctrl+Z holds the clocks of a drill until the program goes on
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Protocol


class Holds(Protocol):
    """What can be held and let go again."""

    def pause(self) -> None: ...
    def resume(self) -> None: ...


@contextmanager
def ending_in_order() -> Iterator[None]:
    """SIGTERM and SIGHUP raise KeyboardInterrupt, so that the record is closed; one to be ignored stays ignored."""
    signals = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    heeded = [number for number in signals if signal.getsignal(number) is signal.SIG_DFL]
    for number in heeded:
        signal.signal(number, _end)
    try:
        yield
    finally:
        for number in heeded:
            signal.signal(number, signal.SIG_DFL)


def _end(number: int, frame: object) -> None:
    signal.signal(number, signal.SIG_IGN)  # once is enough
    raise KeyboardInterrupt


@contextmanager
def standing_still(drill: Holds) -> Iterator[None]:
    """The drill is paused while the program is stopped by Ctrl+Z: being put aside is not thinking."""
    number = getattr(signal, "SIGTSTP", None)
    if number is None or signal.getsignal(number) is not signal.SIG_DFL:
        yield
        return

    def stop(number: int, frame: object) -> None:
        drill.pause()
        os.kill(os.getpid(), signal.SIGSTOP)  # returns when the shell's fg wakes the program
        drill.resume()

    signal.signal(number, stop)
    try:
        yield
    finally:
        signal.signal(number, signal.SIG_DFL)
