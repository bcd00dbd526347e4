"""Victims that drill: the program itself, answering its own questions, by lines of JSON or on the screen of a terminal.

Each tells of one byte for each answer whose verdict has been seen, as `kills.strike` wants it.
"""

from __future__ import annotations

import json
import signal
import sys
import time
from contextlib import suppress
from pathlib import Path
from typing import Any

from drill.memory import dump
from drill.practice.learner_store import LearnerStore
from drill.record import BASE, LATEST, Record
from drill.record.check import examine_fully
from tests.faults.program import DECK, Running, answers, begin, variables_for
from tests.support.asking import answers as answered
from tests.support.terminal import Terminal

GOES_ON = ": next question"
"""What the answer field says once the verdict is there."""
SOLVED = "any key goes on"
"""What it says under a card that is shown solved."""
SETTLED_S = 0.1
"""A program that has painted nothing for so long has painted all."""
GUARD_S = 0.6
"""So long after a question or a verdict came, an Enter still counts for what was there before."""
LESSON_GUARD_S = 1.6
"""So long after a card came that is shown solved."""


class Driller:
    """Drills by lines of JSON: right, wrong and passing by turns."""

    def __init__(self, path: Path, running: Running | None = None) -> None:
        arguments = ("today", "--plain", "--json", "--deck", DECK, "--record", str(path))
        self.running = running or begin(*arguments, home=path.parent)
        self.pid = self.running.pid
        self.verdicts: int = 0

    def heard(self, seconds: float) -> bytes:
        """Drills on until the first verdict, for at most this time; one byte if there was one."""
        deadline = time.monotonic() + seconds
        while (left := deadline - time.monotonic()) > 0 and (line := self.running.hear(left)) is not None:
            if self.answer(json.loads(line)):
                return b"."
        return b""

    def answer(self, said: dict[str, Any]) -> bool:
        """Answers a question; counts a verdict, and says whether it was one."""
        if said["type"] == "question":
            accepted = answers()[said["card"]][0]
            wrong = "F" if accepted.isalpha() else "11"
            self.running.tell((accepted, wrong, "")[self.verdicts % 3] + "\n")
        self.verdicts += said["type"] == "verdict"
        return bool(said["type"] == "verdict")

    def drill(self, count: int) -> None:
        """Drills on until so many verdicts are there, or the program ends."""
        while self.verdicts < count and (line := self.running.hear()) is not None:
            self.answer(json.loads(line))

    def kill(self) -> None:
        self.running.signal(signal.SIGKILL)

    def rest(self) -> bytes:
        """The verdicts it had written before it fell."""
        verdicts: int = sum(each["type"] == "verdict" for each in self.running.end().objects)
        return b"." * (verdicts - self.verdicts)


class ScreenDriller:
    """Drills on a full screen, in a terminal: types an answer, sees the verdict, goes on."""

    def __init__(self, path: Path) -> None:
        self.terminal = Terminal(screen_command(path), variables_for(path.parent))
        self.pid = self.terminal.pid
        self._answered = False

    def heard(self, seconds: float) -> bytes:
        """Drills on until the first verdict, for at most this time; one byte if there was one."""
        deadline = time.monotonic() + seconds
        while time.monotonic() < deadline:
            screen = self.terminal.text()
            if self._answered and GOES_ON in screen:
                self._go_on(GOES_ON)
                self._answered = False
                return b"."
            if SOLVED in screen:
                self._go_on(SOLVED)
            elif not self._answered and GOES_ON not in screen and "Which " in screen:
                self._type("E\r" if "Which note?" in screen else "3\r")
                self._answered = True
            self.terminal.read(max(0.0, deadline - time.monotonic()))
        return b""

    def _go_on(self, sign: str) -> None:
        """Presses Enter, if the sign is still there: two presses too many would count as an answer."""
        time.sleep(LESSON_GUARD_S if sign == SOLVED else GUARD_S)
        self._settle()
        if sign in self.terminal.text():
            self._type("\r")
            self._settle()

    def _settle(self) -> None:
        while self.terminal.read(SETTLED_S):
            pass

    def _type(self, keys: str) -> None:
        with suppress(OSError):
            self.terminal.type(keys)

    def kill(self) -> None:
        self.terminal.signal(signal.SIGKILL)

    def rest(self) -> bytes:
        """The verdict it may have painted before it fell."""
        self.terminal.wait_end()
        seen = self._answered and GOES_ON in self.terminal.text()
        self.terminal.close()
        return b"." if seen else b""


def screen_command(path: Path) -> list[str]:
    """The command that drills on the full screen."""
    return [sys.executable, "-m", "drill", "today", "--deck", DECK, "--record", str(path)]


def assert_remembered(path: Path) -> int:
    """The program's next start knows just what a replay of the whole log gives. Gives the number of answers.

    Cards that were shown solved are in the log too, and are none.
    """
    with Record.open(path, time.time) as record:
        known = dump(LearnerStore.of(record).learner)
        for snapshot in (LATEST, BASE):
            record.replace_states({}, snapshot)
        assert dump(LearnerStore.of(record).learner) == known
        examine_fully(record.path)
        return len(answered(record))
