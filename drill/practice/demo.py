"""Sample data for `--demo`: three months of answers, so that a newcomer sees full screens at once.

`data/demo_learner.csv` holds the answers of an invented learner (see there). The demo judges them, dates them up to
yesterday and puts them into a record in a temporary folder, which is deleted when the program ends.
"""

from __future__ import annotations

import csv
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import groupby
from operator import attrgetter
from pathlib import Path
from typing import NamedTuple

from drill.decks import Deck, load_deck
from drill.practice.attempts import PASSED, Times, attempt_row, milliseconds
from drill.record import AttemptRow, DrillRow, Record
from drill.settings import Settings, save
from drill.system.environment import Environment, uid
from drill.system.resources import data_file

DAYS = 91
DAY_S = 86_400
MINUTES = 3
"""How long the invented learner drills."""
_NUMBERS = ("drill", "asked_ms", "took_ms", "thinking_ms")
SETTINGS = Settings(learner="A sample learner", start="shapes")
"""The settings of the invented learner: the defaults, where they began, and a name for the report."""
SHOWN = "*"
"""Stands in the file for the answer of a card that was shown solved and not asked."""


class DemoAnswer(NamedTuple):
    """One row of the file. `asked_ms` counts from midnight at the start of day one.

    `given` is empty for a pass and SHOWN for a card that was not asked.
    """

    drill: int
    asked_ms: int
    took_ms: int
    thinking_ms: int
    card: str
    given: str


@contextmanager
def demonstration(environment: Environment) -> Iterator[Environment]:
    """The environment with the sample record and default settings, in a temporary folder that is deleted afterwards."""
    folder = Path(tempfile.mkdtemp(prefix="fretsure-demo-"))
    try:
        demo = environment._replace(record_path=folder / "record.sqlite3", config_path=folder / "settings.toml")
        save(SETTINGS, demo.config_path)
        fill(demo)
        yield demo
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def fill(environment: Environment) -> None:
    """Put the sample answers into the record of this environment, the last of them dated yesterday."""
    deck = load_deck(SETTINGS.deck, SETTINGS.neck)
    answers = [answer for answer in demo_answers() if answer.card in deck.entries]
    start_ms = 1000 * (_midnight(environment) - DAYS * DAY_S)
    offset_min = environment.utc_offset_minutes(environment.now())
    drills = {
        number: _drill(number, list(given), deck, start_ms) for number, given in groupby(answers, attrgetter("drill"))
    }
    with Record.open(environment.record_path, environment.now) as record:
        attempts = (_attempt(answer, drills[answer.drill], deck, start_ms, offset_min) for answer in answers)
        record.merge(drills.values(), attempts)


def demo_answers() -> Iterator[DemoAnswer]:
    """The answers of the invented learner, in the order in which they were asked."""
    with data_file("demo_learner.csv").open(encoding="ascii", newline="") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            drill, asked_ms, took_ms, thinking_ms = (int(row[name]) for name in _NUMBERS)
            yield DemoAnswer(drill, asked_ms, took_ms, thinking_ms, row["card"], row["given"])


def _midnight(environment: Environment) -> int:
    """When today began on the learner's own clock, in seconds since the epoch."""
    now_s = int(environment.now())
    ahead_s = 60 * environment.utc_offset_minutes(now_s)
    return now_s - (now_s + ahead_s) % DAY_S


def _drill(number: int, answers: Sequence[DemoAnswer], deck: Deck, start_ms: int) -> DrillRow:
    """The drill in which these answers were given, as it would have been saved."""
    started_at = start_ms + answers[0].asked_ms
    ended_at = start_ms + answers[-1].asked_ms + answers[-1].took_ms
    return DrillRow(f"demo-{number:04d}", started_at, ended_at, deck.id, MINUTES, "{}", deck.neck.tuning.id, None)


def _attempt(answer: DemoAnswer, drill: DrillRow, deck: Deck, start_ms: int, offset_min: int) -> AttemptRow:
    """The answer as a drill would have saved it."""
    card, asked_at = deck.card(answer.card), start_ms + answer.asked_ms
    target_ms, shown = milliseconds(deck.entries[card.id].item.target_s), answer.given == SHOWN
    thinking_ms = None if shown else answer.thinking_ms
    times = Times(asked_at, asked_at + answer.took_ms, offset_min, thinking_ms, target_ms)
    judgement = None if shown else card.judge_answer(answer.given) if answer.given else PASSED
    identity = uid(asked_at / 1000, answer.asked_ms.to_bytes(6, "big"))
    return attempt_row(identity, drill, card.id, card.family, times, judgement)
