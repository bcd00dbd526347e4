"""Somebody at a terminal with a guitar: plucks and types what a plan says, so many seconds after a question."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable

from drill.practice.session import Question, Session
from drill.questions.by_ear import playing
from tests.support.microphone import FakeDuplex
from tests.support.playing import knock
from tests.support.worlds import HandClock

Deed = int | str
"""A MIDI number to pluck, or a line to type."""
KNOCK = -1
"""A hand on damped strings, in the place of a note."""
Plan = Callable[[Question], Iterable[tuple[float, Deed]]]
PATIENCE_S = 30.0
"""Whoever is waited for longer than this presses Enter."""
LOOKED_AT_S = 1.5
"""A solved card is looked at for so long."""
FOREVER_S = 200.0
BETWEEN_S = 0.9
"""Between the two notes of an answer."""


class Guitarist(io.StringIO):
    """Standard input whose lines come in time; the clock goes on whenever it is asked whether one is there."""

    def __init__(self, clock: HandClock, duplex: FakeDuplex, plan: Plan) -> None:
        super().__init__()
        self.session: Session | None = None
        self.clock, self.duplex, self.plan = clock, duplex, plan
        self._question: Question | None = None
        self._deeds: list[tuple[float, Deed]] = []
        self._asked_s = clock.monotonic_s
        self.typed: list[str] = []
        self.plucked_ms: dict[str, int] = {}
        """When the last note for a card was plucked, in milliseconds after its question."""

    def isatty(self) -> bool:
        return True

    def ready(self, seconds: float) -> bool:
        """Let time go on, and do what is due."""
        if not self.typed:
            self.clock.tick(seconds)
            self._act()
        return bool(self.typed)

    def _since_question_ms(self) -> int:
        assert self.session is not None
        return round(1000 * (self.clock.now() - self.session.asked_at_s))

    def readline(self, size: int | None = -1, /) -> str:
        until_s = self.clock.monotonic_s + PATIENCE_S
        while not self.ready(0.05) and self.clock.monotonic_s < until_s:
            pass
        return self.typed.pop(0) if self.typed else "\n"

    def _act(self) -> None:
        assert self.session is not None
        question = self.session.question
        if question is not None and question is not self._question:
            self._question = question
            self._asked_s = self.clock.monotonic_s
            deeds = [(LOOKED_AT_S, "")] if question.solved else self.plan(question)
            self._deeds = [(self.clock.monotonic_s + after_s, deed) for after_s, deed in deeds]
        assert self.clock.monotonic_s - self._asked_s < FOREVER_S, "the drill waits for what the plan never does"
        while self._deeds and self._deeds[0][0] <= self.clock.monotonic_s:
            _, deed = self._deeds.pop(0)
            if deed == KNOCK:
                self.duplex.script[self.duplex._due()] = knock(self.duplex.rate)
            elif isinstance(deed, int):
                self.duplex.pluck_now(deed)
                self.plucked_ms[question.card.id if question else ""] = self._since_question_ms()
            else:
                self.typed.append(deed + "\n")


def right_notes(question: Question, low: int = 40, high: int = 79) -> list[int]:
    """The notes that answer a question, each the lowest that the guitar has."""
    found = playing(question.card)
    return [min(midi for midi in notes if low <= midi <= high) for notes in found.notes] if found else []


def well_played(after_s: float = 1.5) -> Plan:
    """Plays what can be played, and types the rest."""

    def plan(question: Question) -> Iterable[tuple[float, Deed]]:
        notes = right_notes(question)
        if not notes:
            return [(after_s, question.card.accepts[0])]
        return [(after_s + BETWEEN_S * turn, midi) for turn, midi in enumerate(notes)]

    return plan
