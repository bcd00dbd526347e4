"""Makes `data/demo_learner.csv`: a made-up learner is taken through real drills under a clock moved by hand.

    python -m tests.export.make_demo_learner > data/demo_learner.csv

The learner remembers by a power law (`drill.memory.simulated.PowerLaw`), not by the program's own equations. The same
seed and the same planner give the same file; it need not be made again when the planner changes.
"""

from __future__ import annotations

import csv
import random
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from drill.decks import Deck, load_deck
from drill.errors import UnknownName
from drill.practice.demo import DAY_S, DAYS, MINUTES, SETTINGS, DemoAnswer
from drill.practice.session import Session
from drill.questions.card import Card
from drill.record import Record
from drill.system.environment import Environment, uid
from tests.support.simulated import PowerLaw, SimulatedLearner, Temper

SEED = 20
EVENING_S = 19 * 3600
PRACTISED = 0.65
"""Share of days with a drill; the holiday has none."""
HOLIDAY = range(43, 51)
READS_S, READS_A_MISS_S = 1.0, 5.0
PASSES = 0.2
"""Share of wrong answers that are no answer at all."""
HEAD = f"""\
# The answers of a made-up learner over {DAYS} days, for fretsure --demo. Invented: nobody's data. Licence: MIT.
# Made by tests/export/make_demo_learner.py, seed {SEED}. asked_ms counts from the first midnight; a pass is empty.
"""


@dataclass(slots=True)
class HandClock:
    """Seconds since the first midnight, moved by hand."""

    now_s: float = 0.0

    def __call__(self) -> float:
        return self.now_s


@dataclass(slots=True)
class MadeUp:
    """The made-up learner at their guitar."""

    learner: SimulatedLearner
    chance: random.Random
    clock: HandClock

    def drill(self, session: Session, deck: Deck) -> None:
        """One drill from the first question to the last."""
        while question := session.ask():
            attempt = self.learner.answer(deck.entries[question.card.id].item, self.clock())
            self.clock.now_s += attempt.thinking_s or 0.0
            session.first_response()
            self.clock.now_s += 0.5
            given = question.card.accepts[0] if attempt.right else self._wrong(question.card, attempt.mixed_fact)
            session.give_up() if given is None else session.answer(given)
            self.clock.now_s += READS_S if attempt.right else READS_A_MISS_S
        session.finish()

    def _wrong(self, card: Card, fact: str | None) -> str | None:
        """What one says who confuses this fact, or any other; None for one who passes."""
        blamed = [mixup.answer for mixup in card.mixups if fact is not None and mixup.fact == fact]
        likely = [answer for answer in blamed or [m.answer for m in card.mixups] if can_be_typed(card, answer)]
        return None if not likely or self.chance.random() < PASSES else self.chance.choice(likely)


def can_be_typed(card: Card, answer: str) -> bool:
    """Some mix-ups are spellings that nobody writes."""
    try:
        return card.kind.read(answer) == answer
    except UnknownName:
        return False


def made_up_answers(world: Environment, days: int = DAYS) -> Iterator[DemoAnswer]:
    """So many days of drills, kept in the record of this environment, then read from it."""
    chance, clock = random.Random(SEED), HandClock()
    numbers = iter(range(1 << 32))
    world = world._replace(now=clock, monotonic=clock, new_uid=lambda: uid(clock(), next(numbers).to_bytes(6, "big")))
    learner = SimulatedLearner(PowerLaw, Temper(tempo=1.05, slips=0.02, spread=0.8, known=0.1), chance)
    made_up, deck = MadeUp(learner, chance, clock), load_deck(SETTINGS.deck, SETTINGS.neck)
    with Record.open(world.record_path, clock) as record:
        for day in range(days):
            if day == days - 1 or (chance.random() < PRACTISED and day not in HOLIDAY):
                clock.now_s = day * DAY_S + EVENING_S + chance.uniform(-3600, 3600)
                made_up.drill(Session.start(world, SETTINGS, record, deck, MINUTES), deck)
        order = {drill.id: number for number, drill in enumerate(record.drills(), start=1)}
        for row in record.attempts():
            took_ms, thinking_ms = row.answered_at - row.asked_at, row.thinking_ms or 0
            yield DemoAnswer(order[row.drill], row.asked_at, took_ms, thinking_ms, row.card, row.given)


def main() -> None:
    """Write the file to standard output."""
    sys.stdout.write(HEAD)
    rows = csv.writer(sys.stdout, lineterminator="\n")
    rows.writerow(["drill", "asked_ms", "took_ms", "thinking_ms", "card", "given"])
    with tempfile.TemporaryDirectory() as folder:
        world = Environment.real()._replace(record_path=Path(folder) / "record.sqlite3")
        for answer in made_up_answers(world):
            rows.writerow(
                [answer.drill, answer.asked_ms, answer.took_ms, answer.thinking_ms, answer.card, answer.given]
            )


if __name__ == "__main__":
    main()
