"""Made-up students for the view of a class, with weaknesses that are known because they were planted.

    python -m tests.support.class_of FOLDER        writes the logs of the eight, to be looked at with `fretsure class`

A student answers cards of a deck over some weeks. Each card has a difficulty of its own to each student, drawn at
random; knowledge and speed grow with every time it is asked. A weakness bends the chance of a right answer, the time it
takes, or what a wrong one says, for the cards it touches. The model shares nothing with the rule that looks for it.
"""

from __future__ import annotations

import math
import random
import sys
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

from drill.decks import Deck, load_deck
from drill.export.model import Row, written
from drill.questions.card import Card
from drill.questions.facets import as_plain, string_of
from drill.record import AttemptRow, DrillRow, LearnerRow
from drill.settings import Settings
from drill.theory.keys import parse_key

START_MS = 1_767_603_600_000  # Monday 2026-01-05 09:00:00 UTC
DAY_MS = 86_400_000
WEEKS = 6
A_DRILL = 25
"""Answers a drill; a student drills on three to six days a week."""

Holds = Callable[[Card], bool]


class Student(NamedTuple):
    """A made-up student; the defaults are a healthy one."""

    name: str
    skill: float = 0.0
    """Log-odds above the usual."""
    pace: float = 0.0
    """Logarithm of the time taken, over the usual."""
    weak: Holds = lambda card: False
    """The cards a weakness touches."""
    misses: float = 0.0
    """How much is taken off the log-odds of those cards."""
    lingers: float = 0.0
    """What is added to the logarithm of the time at those cards."""
    mixup: str = ""
    mixes_up: float = 0.0
    """The share of the answers, where it can happen, that are this mix-up."""
    stops: int = 7 * WEEKS
    """The day after which no answer comes any more."""
    knows: float = 0.0
    """What every time a card is asked adds to the log-odds, over the usual."""


def _key(card: Card) -> str:
    return str(as_plain(card.facets).get("key", ""))


def in_flats(card: Card) -> bool:
    """Whether the card is of a key with flats."""
    return bool(_key(card)) and parse_key(_key(card)).signature < 0


def on_string(number: int) -> Holds:
    return lambda card: string_of(card.facets) == number


def of_family(*names: str) -> Holds:
    return lambda card: card.family in names


EIGHT = (
    Student("Ada", mixup="other string", mixes_up=0.3),
    Student("Ben", mixup="parallel for relative", mixes_up=0.45),
    Student("Cleo", stops=24),
    Student("Dan", weak=in_flats, lingers=0.6),
    Student("Eve", weak=on_string(5), misses=1.8),
    Student("Fay", mixup="wrong finger", mixes_up=0.35),
    Student("Gil", weak=in_flats, misses=1.6),
    Student("Hal", weak=of_family("relative-minor", "relative-major"), lingers=0.7),
)
"""Each with one weakness."""


def drawn(number: int, seed: int) -> Student:
    """A healthy student, drawn at random: better or worse, faster or slower than others, and weak nowhere."""
    chance = random.Random(f"{seed} {number}")
    return Student(f"Student {number:02}", chance.gauss(0.0, 0.5), chance.gauss(0.0, 0.2))


def with_a_weakness(number: int, seed: int) -> Student:
    """A student drawn at random with one of the eight weaknesses."""
    base, like = drawn(number, seed), EIGHT[number % len(EIGHT)]
    return like._replace(name=f"{like.name} {number:02}", skill=base.skill / 2, pace=base.pace)


@cache
def the_deck() -> Deck:
    return load_deck("two-shapes", Settings().neck)


@cache
def cards_of_the_deck() -> tuple[tuple[str, Card], ...]:
    """Each card beside its id, which a card puts together whenever it is asked for it."""
    return tuple((card.id, card) for card in the_deck().cards())


def log(student: Student, seed: int) -> Iterator[Row]:
    """The whole log of a student."""
    chance = random.Random(f"{student.name} {seed}")
    identity = f"{chance.getrandbits(64):016x}"
    yield LearnerRow(identity, student.name)
    rows = list(_attempts(student, chance, identity))
    for drill in dict.fromkeys(row.drill for row in rows):
        started = next(row.asked_at for row in rows if row.drill == drill)
        yield DrillRow(drill, started, None, "two-shapes", 5, "{}", "standard", None)
    yield from rows


def _attempts(student: Student, chance: random.Random, identity: str) -> Iterator[AttemptRow]:
    cards, asked = cards_of_the_deck(), dict[str, int]()
    ease = {name: chance.gauss(0.0, 0.6) for name, _ in cards}
    eager = chance.uniform(0.45, 0.85)
    for day in range(7 * WEEKS):
        if day >= student.stops or chance.random() > eager:
            continue
        at_ms = START_MS + day * DAY_MS + chance.randrange(3_600_000)
        reach = min(len(cards), 16 + 2 * len(asked) // 2 + 8)  # new cards come as the old ones are known
        for number in range(A_DRILL):
            name, card = cards[chance.randrange(reach)]
            row = _answer(student, name, card, asked.get(name, 0), ease[name], chance)
            given, right, mixup, thinking_ms = row
            yield AttemptRow(
                uid=f"{identity}-{day:03}-{number:03}", drill=f"{identity}-{day:03}", card=name, family=card.family,
                deck="two-shapes", kind="asked", asked_at=at_ms, answered_at=at_ms + thinking_ms + 500,
                utc_offset_min=60, given=given, correct=right, mixup=mixup, thinking_ms=thinking_ms,
                target_ms=round(1000 * the_deck().entries[name].item.target_s), learner=identity,
            )  # fmt: skip
            asked[name] = asked.get(name, 0) + 1
            at_ms += thinking_ms + 3000


def _answer(
    student: Student, name: str, card: Card, asked: int, ease: float, chance: random.Random
) -> tuple[str, bool, str | None, int]:
    weak = student.weak(card)
    odds = 0.3 + 0.5 * math.log1p(asked) * (1.0 + student.knows) + ease + student.skill
    odds -= student.misses if weak else 0.0
    log_s = 1.3 - 0.25 * math.log1p(asked) - 0.15 * ease + student.pace + chance.gauss(0.0, 0.35)
    log_s += student.lingers if weak else 0.0
    thinking_ms = round(1000 * min(25.0, max(0.4, math.exp(log_s))))
    mixups = _mixups(name)
    planted = [mixup for mixup in mixups if mixup[0] == student.mixup]
    if planted and chance.random() < student.mixes_up:
        return planted[0][1], False, student.mixup, thinking_ms
    if chance.random() < 1.0 / (1.0 + math.exp(-odds)):
        return card.accepts[0], True, None, thinking_ms
    if chance.random() < 0.2 or not mixups:
        return "", False, None, thinking_ms
    mixup, answer = chance.choice(mixups)
    return answer, False, mixup, thinking_ms


@cache
def _mixups(card_id: str) -> tuple[tuple[str, str], ...]:
    return tuple((mixup.name, mixup.answer) for mixup in the_deck().card(card_id).mixups)


def write_log(student: Student, seed: int, folder: Path) -> Path:
    """The log of a student as a file of an export would hold it."""
    path = folder / f"{student.name.replace(' ', '-')}.jsonl"
    path.write_text("".join(f"{written(row)}\n" for row in log(student, seed)))
    return path


if __name__ == "__main__":
    there = Path(sys.argv[1])
    there.mkdir(parents=True, exist_ok=True)
    for each in EIGHT:
        print(write_log(each, 1, there))
