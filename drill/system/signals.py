"""What signals do: the program ends, or stands still, in order.

sigterm_as_interrupt    a signal to stop ends a command as Ctrl+C does
exit_on_signal            a signal to stop asks a full screen to leave, and waits for it only so long
pause_while_suspended     Ctrl+Z holds the clocks of a drill until the program goes on
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from math import ceil
from typing import Protocol

from drill.system.platforms import never_waiting, on_windows

INTERRUPTED = 130
"""The exit code of a program that a signal has ended."""
GRACE_S = 15.0
"""How long a full screen may take to leave: clearly longer than it waits for a record that is in use. One whose
terminal takes no more output would never leave."""
NOBODY = -1
"""What `set_wakeup_fd` gives where nobody was told of signals before."""
STEP_S = 0.1
"""The grace is waited for in steps, so that the time a program lies stopped is none of it."""
CLOSING = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGBREAK") if hasattr(signal, name)]
"""What else than Ctrl+C tells a program to end. SIGBREAK is for Windows alone, SIGHUP for all others:
https://docs.python.org/3/library/signal.html#signal.SIGBREAK"""
STOPS = [signal.SIGINT, *CLOSING]
STANDS_STILL = getattr(signal, "SIGTSTP", None)
"""What Ctrl+Z sends; None on Windows, where a program cannot be put aside."""


class Pausable(Protocol):
    """What can be held and let go again."""

    def pause(self) -> None: ...
    def resume(self) -> None: ...


@contextmanager
def sigterm_as_interrupt() -> Iterator[None]:
    """What tells a program to end raises KeyboardInterrupt, so that the record is closed; what is ignored stays so."""
    heeded = [number for number in CLOSING if signal.getsignal(number) is signal.SIG_DFL]
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
def exit_on_signal(leave: Callable[[], object], grace_s: float = GRACE_S) -> Iterator[None]:
    """A signal to stop calls `leave`, from a thread; what then has not left within so many seconds is ended as it is.

    By then every answer with a verdict is on the disk. What runs inside may be stuck, writing to a terminal that takes
    nothing more, and would never come to heed a signal; so a thread is told of it:
    https://docs.python.org/3/library/signal.html#signal.set_wakeup_fd
    """
    from threading import Event, Thread  # here: a look-up has no screen to leave

    left = Event()
    told, telling = os.pipe()
    never_waiting(telling)

    def watch() -> None:
        while (number := os.read(told, 1)) and ord(number) not in STOPS:
            _pass_on(number, told_before)
        if number:
            leave()
            if not any(left.wait(STEP_S) for _ in range(ceil(grace_s / STEP_S))):
                os._exit(INTERRUPTED)

    before = {number: signal.getsignal(number) for number in STOPS}
    told_before = signal.set_wakeup_fd(telling, warn_on_full_buffer=False)
    watcher = Thread(target=watch, daemon=True)
    watcher.start()
    for number in STOPS:
        if before[number] is not signal.SIG_IGN:
            signal.signal(number, lambda number, frame: None)  # the thread is told; asked twice, it leaves but once
    try:
        yield
    finally:
        left.set()
        for number in STOPS:
            signal.signal(number, before[number])
        signal.set_wakeup_fd(told_before)
        os.close(telling)
        watcher.join()
        os.close(told)


def _pass_on(number: bytes, told_before: int) -> None:
    """The event loop hears of other signals as before: https://docs.python.org/3/library/asyncio-eventloop.html

    On Windows its socket is no file to write to, and there are no others; `leave` has to wake the loop there.
    """
    if told_before != NOBODY and not on_windows():
        with suppress(OSError):
            os.write(told_before, number)


@contextmanager
def pause_while_suspended(drill: Pausable) -> Iterator[None]:
    """The drill is paused while the program is stopped by Ctrl+Z: being put aside is not thinking."""
    number = STANDS_STILL
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
