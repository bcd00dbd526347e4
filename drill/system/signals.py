"""Signals end or pause the program in an orderly way.

sigterm_as_interrupt     a signal to stop ends a command as Ctrl+C does
exit_on_signal           a signal to stop makes a full screen exit, with a time limit
pause_while_suspended    Ctrl+Z pauses a drill until the program continues
pause_too                Ctrl+Z pauses something else besides, whoever heeds it already
suspend_later            Ctrl+Z waits until what must not be left half done is done
"""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from math import ceil
from types import FrameType
from typing import Protocol

from drill.system.platforms import on_windows, set_non_blocking

INTERRUPTED = 130
"""The exit code of a program that a signal has ended."""
GRACE_S = 15.0
"""How long a full screen may take to exit: clearly longer than it waits for a record that is in use. A screen whose
terminal takes no more output would never exit."""
NO_WAKEUP = -1
"""What `set_wakeup_fd` returns if no descriptor was set before."""
STEP_S = 0.1
"""The grace period is waited for in steps, so that time in which the program is stopped does not count."""
CLOSING = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGBREAK") if hasattr(signal, name)]
"""The signals besides Ctrl+C that tell a program to end. Only Windows has SIGBREAK, and all others have SIGHUP:
https://docs.python.org/3/library/signal.html#signal.SIGBREAK"""
STOPS = [signal.SIGINT, *CLOSING]
STANDS_STILL = getattr(signal, "SIGTSTP", None)
"""The signal of Ctrl+Z; None on Windows, where a program cannot be suspended."""


class Pausable(Protocol):
    """Anything whose clocks can be stopped and started again."""

    def pause(self) -> None: ...
    def resume(self) -> None: ...


@contextmanager
def sigterm_as_interrupt() -> Iterator[None]:
    """Turn the signals in `CLOSING` into KeyboardInterrupt, so that the record is closed; ignored ones stay ignored."""
    handled = [number for number in CLOSING if signal.getsignal(number) is signal.SIG_DFL]
    for number in handled:
        signal.signal(number, _interrupt)
    try:
        yield
    finally:
        for number in handled:
            signal.signal(number, signal.SIG_DFL)


def _interrupt(number: int, frame: object) -> None:
    signal.signal(number, signal.SIG_IGN)  # a second signal must not interrupt the closing
    raise KeyboardInterrupt


@contextmanager
def exit_on_signal(leave: Callable[[], object], grace_s: float = GRACE_S) -> Iterator[None]:
    """Call `leave` from a thread on a signal to stop, and end the process if the block has not ended in `grace_s`.

    Ending the process is safe: every answer with a verdict is on the disk by then. The main thread may be stuck writing
    to a terminal that takes no more output, and would never run a signal handler. So Python writes the signal's number
    to a pipe, and a thread reads it: https://docs.python.org/3/library/signal.html#signal.set_wakeup_fd
    """
    from threading import Event, Thread  # here: look-ups have no screen to leave

    left = Event()
    reading, writing = os.pipe()
    set_non_blocking(writing)

    def watch() -> None:
        while (number := os.read(reading, 1)) and ord(number) not in STOPS:
            _pass_on(number, former_wakeup)
        if number:
            leave()
            if not any(left.wait(STEP_S) for _ in range(ceil(grace_s / STEP_S))):
                os._exit(INTERRUPTED)

    former = {number: signal.getsignal(number) for number in STOPS}
    former_wakeup = signal.set_wakeup_fd(writing, warn_on_full_buffer=False)
    watcher = Thread(target=watch, daemon=True)
    watcher.start()
    for number in STOPS:
        if former[number] is not signal.SIG_IGN:
            signal.signal(number, lambda number, frame: None)  # the thread acts, and only on the first signal
    try:
        yield
    finally:
        left.set()
        for number in STOPS:
            signal.signal(number, former[number])
        signal.set_wakeup_fd(former_wakeup)
        os.close(writing)
        watcher.join()
        os.close(reading)


def _pass_on(number: bytes, former_wakeup: int) -> None:
    """Let the event loop see other signals as before: https://docs.python.org/3/library/asyncio-eventloop.html

    On Windows its socket is not a file to write to, and there are no other signals; `leave` has to wake the loop there.
    """
    if former_wakeup != NO_WAKEUP and not on_windows():
        with suppress(OSError):
            os.write(former_wakeup, number)


@contextmanager
def pause_while_suspended(drill: Pausable) -> Iterator[None]:
    """Pause the drill while Ctrl+Z suspends the program, because that time is not thinking time."""
    end = pause_too(drill)
    try:
        yield
    finally:
        end()


def pause_too(other: Pausable) -> Callable[[], None]:
    """Pause it as well while Ctrl+Z suspends the program; what heeded that signal before still does.

    Returns what ends that. Does nothing outside the main thread, where Python takes no signals.
    """
    number = STANDS_STILL
    former = None if number is None else signal.getsignal(number)
    if number is None or former in (None, signal.SIG_IGN):
        return lambda: None

    def stop(number: int, frame: FrameType | None) -> None:
        other.pause()
        if callable(former):
            former(number, frame)
        else:
            os.kill(os.getpid(), signal.SIGSTOP)
        other.resume()

    def end() -> None:
        with suppress(ValueError):
            if signal.getsignal(number) is stop:
                signal.signal(number, former)

    with suppress(ValueError):  # not the main thread
        signal.signal(number, stop)
    return end


@contextmanager
def suspend_later() -> Iterator[None]:
    """Let a Ctrl+Z that comes during the block wait until its end, so that nothing is left half open or half closed.

    Does nothing outside the main thread, where Python takes no signals.
    """
    number = STANDS_STILL
    former = None if number is None else signal.getsignal(number)
    asked: list[int] = []
    try:
        if number is not None and former is not None:
            signal.signal(number, lambda number, frame: asked.append(number))
    except ValueError:  # not the main thread
        former = None
    try:
        yield
    finally:
        if number is not None and former is not None:
            signal.signal(number, former)
            if asked:
                signal.raise_signal(number)
