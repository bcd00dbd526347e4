"""A terminal after a full-screen program: is everything again as it was?"""

from __future__ import annotations

import random
import re
import signal
import sqlite3
import time
from collections.abc import Sequence
from contextlib import closing
from pathlib import Path
from typing import Self

from tests.faults.drills import GOES_ON, GUARD_S, LESSON_GUARD_S, SOLVED, Driller, assert_remembered, screen_command
from tests.faults.program import variables_for
from tests.support.reading import says
from tests.support.terminal import Terminal

ON_AT_FIRST = {"7", "25"}
"""Private modes a terminal starts with: wrapping, the cursor shown. All others (alternate screen, mouse) are off."""

_MODE = re.compile(rb"\x1b\[\?([0-9;]+)([hl])")
_ASK = re.compile(r"Which (note|fret)\?")
"""What the deck of these drills asks."""
_BEATS = re.compile(r"[●○o.]  [●○o.]")
"""The beats of the bar, which run while a question waits for its answer; in ASCII as far as that goes."""
_KEYBOARD = re.compile(rb"\x1b\[([<>])[0-9]*u")
SIGNALS = (signal.SIGTERM, signal.SIGHUP, signal.SIGINT)


class DrillingTerminal(Terminal):
    """A drill on the full screen, whose terminal is looked at before and after."""

    def __init__(self, path: Path, command: Sequence[str] = (), **variables: str) -> None:
        super().__init__(command or screen_command(path), variables_for(path.parent) | variables)
        self.before = self.settings()

    def started(self, sign: str = "▌ a") -> Self:
        """Waits for the first question that is asked; leaves no process behind if it does not come."""
        try:
            self.wait(sign)
            if SOLVED in self.text():
                self.asked()
        except BaseException:
            self.__exit__(None, None, None)
            raise
        return self

    def answer(self) -> None:
        """Answers the open question, sees the verdict, goes on."""
        assert not self.refused(), self.text()

    def refused(self) -> bool:
        """Answers the open question; goes on if there is a verdict. Gives whether the record refused the answer."""
        self.type("E\r" if "Which note?" in self.asked() else "3\r")
        if says(self.wait(_judged_or_refused), "Every answer saved so far is safe"):
            return True
        time.sleep(GUARD_S)
        self.type("\r")
        self.wait(lambda screen: GOES_ON not in screen)
        return False

    def interrupt(self) -> None:
        """Presses Ctrl+C, which pauses the drill, ends the drill, and presses Ctrl+C again, which ends the program."""
        self.type("\x03")
        self.wait("You pressed Ctrl+C")
        self.type("e")
        self.wait("After the drill")
        self.type("\x03")

    def asked(self) -> str:
        """Waits for a question that wants an answer, past cards that are shown solved; gives the screen."""
        if SOLVED in self.wait(lambda screen: asks(screen) or SOLVED in screen):
            time.sleep(LESSON_GUARD_S)
            self.type("\r")
        return self.wait(asks)

    def storm(self, count: int, chance: random.Random) -> None:
        """So many changes of size in a burst, the last of them to the size before the burst.

        No size is larger than the emulator draws while the program paints the next.
        """
        for _ in range(count):
            self.resize(chance.randint(1, 120), chance.randint(1, 40))
            self.read(0)
        self.resize(80, 24)

    def assert_given_back(self) -> None:
        """Raises AssertionError unless settings, modes, screen and cursor are what they were."""
        assert self.settings() == self.before, "the terminal's settings are not what they were"
        assert modes_left(bytes(self.raw)) == set()
        assert "Traceback" not in self.text()


def asks(screen: str) -> bool:
    """Whether a question waits for its answer, and is painted whole: after a change of size that takes a while."""
    whole = _BEATS.search(screen) and _ASK.search(screen)
    return whole is not None and not (SOLVED in screen or GOES_ON in screen)


def _judged_or_refused(screen: str) -> bool:
    return GOES_ON in screen or says(screen, "Every answer saved so far is safe")


def modes_left(written: bytes) -> set[str]:
    """Modes that what was written leaves other than a terminal starts with."""
    state = dict.fromkeys(ON_AT_FIRST, True)
    for numbers, letter in _MODE.findall(written):
        state |= dict.fromkeys(numbers.decode().split(";"), letter == b"h")
    keyboard = sum(1 if kind == b">" else -1 for kind in _KEYBOARD.findall(written))
    changed = {mode for mode, on in state.items() if on != (mode in ON_AT_FIRST)}
    return changed | ({"keyboard"} if keyboard > 0 else set())


def strike(path: Path, count: int, chance: random.Random) -> str:
    """Sends `count` signals to stop, by turns, at random moments of the start and the first second of a drill."""
    codes: dict[int, int] = {}
    for number in range(count):
        with DrillingTerminal(path) as terminal:
            while not terminal.raw:
                terminal.read(1.0)
            deadline = time.monotonic() + chance.uniform(0, 1.5)
            while (left := deadline - time.monotonic()) > 0:
                terminal.read(left)
            terminal.signal(SIGNALS[number % len(SIGNALS)])
            code = terminal.wait_end()
            assert code == 130, f"signal {number}: the exit code is {code}\n{terminal.text()}"
            terminal.assert_given_back()
            codes[code] = codes.get(code, 0) + 1
    return (
        f"{count} signals ({', '.join(each.name for each in SIGNALS)}), every terminal given back, exit codes {codes}"
    )


def storm(path: Path, count: int, chance: random.Random) -> str:
    """Puts a drill through `count` bursts of 100 changes of size, and answers after each."""
    with DrillingTerminal(path).started() as terminal:
        for _ in range(count):
            terminal.storm(100, chance)
            terminal.answer()
        terminal.interrupt()
        assert terminal.wait_end() == 130
        terminal.assert_given_back()
    assert assert_remembered(path) == count
    return f"{count} bursts of 100 changes of size, {count} answers kept"


def freeze(path: Path, count: int) -> str:
    """Fills terminals that take nothing more, as over a connection that has stalled, and then closes them.

    The program is then stuck in what it writes; it has to end all the same.
    """
    for number in range(count):
        with DrillingTerminal(path).started() as terminal:
            terminal.answer()
            for turn in range(100):
                terminal.resize(150 + turn % 2, 50)
                time.sleep(0.02)  # for it to paint; what it paints is not read, so there is nothing to wait for
            terminal.close()
            code = terminal.wait_end()
            assert code == 130, f"terminal {number}: the exit code is {code}"
    assert assert_remembered(path) == count
    return f"{count} terminals that took nothing more, closed: every program ended, {count} answers kept"


def lock(path: Path) -> str:
    """Keeps the record from a drill on the screen, then lets go: the same answer is taken; then from one by lines."""
    with DrillingTerminal(path).started() as terminal:
        terminal.answer()
        terminal.asked()  # a card that is shown solved is written down, too
        with closing(sqlite3.connect(path, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            assert terminal.refused(), terminal.text()
            other.execute("ROLLBACK")
        terminal.type("\r")
        terminal.wait(GOES_ON)
        time.sleep(GUARD_S)
        terminal.type("\r")
        terminal.asked()
        with closing(sqlite3.connect(path, isolation_level=None)) as other:
            other.execute("BEGIN IMMEDIATE")
            terminal.type("E\r")
            terminal.read(0.05)
            terminal.signal(signal.SIGTERM)  # while it waits for the record
            assert terminal.wait_end() == 130
            terminal.assert_given_back()
    driller = Driller(path)
    driller.drill(1)
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        driller.drill(2)
        ended = driller.running.end()
        assert (ended.code, "in use by another program" in ended.complained) == (73, True), ended
    assert assert_remembered(path) == 3
    return "told on the screen and by lines, all 3 answers kept"
