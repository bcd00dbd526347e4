"""Makes `data/demo_learner.csv`: a made-up learner is taken through real drills under a clock moved by hand.

    python -m tests.export.make_demo_learner > data/demo_learner.csv

The story: a student meets every key in two weeks, is away for a week in the seventh, and has one weak spot that stays,
the shape of B flat minor and D flat major, where the two strings are mixed up. The learner works answers out where
recall fails (`tests.support.reasoning`), and remembers by none of the program's own equations. The same seed and the
same planner give the same file; it need not be made again when the planner changes.
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
from drill.memory import Attempt, Item
from drill.practice.demo import DAY_S, DAYS, MINUTES, SETTINGS, SHOWN, DemoAnswer
from drill.practice.session import Session
from drill.questions.card import Card
from drill.record import Record
from drill.system.environment import Environment, uid
from tests.support.reasoning import MINDS, Reasoner

SEED = 20
EVENING_S = 19 * 3600
PRACTISED = 0.75
"""Share of days with a drill after the first two weeks; the holiday has none."""
EAGER_DAYS = 14
HOLIDAY = range(43, 50)
WEAK_KEYS = ("Bbm", "Db")
WEAK = 0.45
"""Share of the answers about the weak keys that take the one string for the other, however long they are practised."""
READS_S, READS_A_MISS_S, READS_SOLVED_S = 1.0, 5.0, 8.0
PASSES = 0.2
"""Share of wrong answers that are no answer at all."""
HEAD = f"""\
# The answers of a made-up learner over {DAYS} days, for fretsure --demo. Invented: nobody's data. Licence: MIT.
# Made by tests/export/make_demo_learner.py, seed {SEED}. asked_ms counts from the first midnight; a pass is empty,
# a card that was shown with its answer has {SHOWN}.
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

    learner: Reasoner
    chance: random.Random
    clock: HandClock

    def drill(self, session: Session, deck: Deck) -> None:
        """One drill from the first question to the last."""
        while question := session.ask():
            item = deck.entries[question.card.id].item
            if question.solved:
                self.learner.watch(item, self.clock())
                self.clock.now_s += READS_SOLVED_S
                session.shown()
            else:
                self._answer(session, question.card, item)
        session.finish()

    def _answer(self, session: Session, card: Card, item: Item) -> None:
        attempt = self.learner.answer(item, self.clock())
        self.clock.now_s += attempt.thinking_s or 0.0
        session.first_response()
        self.clock.now_s += 0.5
        given = self._given(card, item, attempt)
        right = (session.give_up() if given is None else session.answer(given)).right
        self.clock.now_s += READS_S if right else READS_A_MISS_S

    def _given(self, card: Card, item: Item, attempt: Attempt) -> str | None:
        other_string = [mixup.answer for mixup in card.mixups if mixup.name == "other string"]
        if other_string and is_weak(item) and self.chance.random() < WEAK:
            return other_string[0]
        return card.accepts[0] if attempt.right else self._wrong(card, attempt.mixed_fact)

    def _wrong(self, card: Card, fact: str | None) -> str | None:
        """What one says who confuses this fact, or any other; None for one who passes."""
        blamed = [mixup.answer for mixup in card.mixups if fact is not None and mixup.fact == fact]
        likely = [answer for answer in blamed or [m.answer for m in card.mixups] if can_be_typed(card, answer)]
        return None if not likely or self.chance.random() < PASSES else self.chance.choice(likely)


def is_weak(item: Item) -> bool:
    """Whether the card asks for the shape in one of the weak keys."""
    return item.family == "shape-anchor" and any(f"key={key}:" in item.card for key in WEAK_KEYS)


def can_be_typed(card: Card, answer: str) -> bool:
    """Some mix-ups are spellings that nobody writes."""
    try:
        return card.kind.read(answer) == answer
    except UnknownName:
        return False


def practises(day: int, chance: random.Random, last: int) -> bool:
    """Whether there is a drill on this day: on most of the first two weeks' days, and on the last of all."""
    eager = chance.random() < (0.9 if day < EAGER_DAYS else PRACTISED)
    return day in (0, last) or (eager and day not in HOLIDAY)


def made_up_answers(world: Environment, days: int = DAYS) -> Iterator[DemoAnswer]:
    """So many days of drills, kept in the record of this environment, then read from it."""
    chance, clock = random.Random(SEED), HandClock()
    numbers = iter(range(1 << 32))
    world = world._replace(now=clock, monotonic=clock, new_uid=lambda: uid(clock(), next(numbers).to_bytes(6, "big")))
    made_up = MadeUp(Reasoner(MINDS["student"], chance), chance, clock)
    deck = load_deck(SETTINGS.deck, SETTINGS.neck)
    with Record.open(world.record_path, clock) as record:
        for day in range(days):
            if practises(day, chance, days - 1):
                clock.now_s = day * DAY_S + EVENING_S + chance.uniform(-3600, 3600)
                made_up.drill(Session.start(world, SETTINGS, record, deck, MINUTES), deck)
        order = {drill.id: number for number, drill in enumerate(record.drills(), start=1)}
        for row in record.attempts():
            took_ms, given = row.answered_at - row.asked_at, SHOWN if row.correct is None else row.given
            yield DemoAnswer(order[row.drill], row.asked_at, took_ms, row.thinking_ms or 0, row.card, given)


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
