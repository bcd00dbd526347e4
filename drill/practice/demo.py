"""An invented record of three months, so that a newcomer sees full screens at once.

`data/demo_learner.csv` holds the answers of a made-up learner (see there); they are judged anew, dated up to yesterday,
and put into a record in a folder that is thrown away when the program ends.
"""

from __future__ import annotations

import csv
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from drill.decks import Deck, load_deck
from drill.record import AttemptRow, DrillRow, Record
from drill.settings import Settings, save
from drill.system.environment import Environment, uid
from drill.system.resources import data_file

DAYS = 91
DAY_S = 86_400
MINUTES = 3
"""How long the made-up learner drills."""
_NUMBERS = ("drill", "asked_ms", "took_ms", "thinking_ms")
SETTINGS = Settings(learner="An invented learner")
"""What the made-up learner set: everything as it comes, and a name for the report."""


class DemoAnswer(NamedTuple):
    """One row of the file. `asked_ms` counts from the midnight that began day one; of a pass, `given` is empty."""

    drill: int
    asked_ms: int
    took_ms: int
    thinking_ms: int
    card: str
    given: str


@contextmanager
def demonstration(environment: Environment) -> Iterator[Environment]:
    """The same world with an invented record and plain settings, in a folder that is gone afterwards."""
    folder = Path(tempfile.mkdtemp(prefix="fretsure-demo-"))
    try:
        shown = environment._replace(record_path=folder / "record.sqlite3", config_path=folder / "settings.toml")
        save(SETTINGS, shown.config_path)
        fill(shown)
        yield shown
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def fill(environment: Environment) -> None:
    """Put the invented answers into the record of this environment, the last of them yesterday."""
    deck = load_deck(SETTINGS.deck, SETTINGS.neck)
    answers = [answer for answer in demo_answers() if answer.card in deck.entries]
    start_ms = 1000 * (_midnight(environment) - DAYS * DAY_S)
    offset_min = environment.utc_offset_minutes(environment.now())
    with Record.open(environment.record_path, environment.now) as record:
        record.merge(_drills(answers, deck, start_ms), (_attempt(a, deck, start_ms, offset_min) for a in answers))


def demo_answers() -> Iterator[DemoAnswer]:
    """The answers of the made-up learner, in the order in which they were asked."""
    with data_file("demo_learner.csv").open(encoding="ascii", newline="") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            drill, asked_ms, took_ms, thinking_ms = (int(row[name]) for name in _NUMBERS)
            yield DemoAnswer(drill, asked_ms, took_ms, thinking_ms, row["card"], row["given"])


def _midnight(environment: Environment) -> int:
    """When today began on the learner's own clock, in seconds since the epoch."""
    now_s = int(environment.now())
    ahead_s = 60 * environment.utc_offset_minutes(now_s)
    return now_s - (now_s + ahead_s) % DAY_S


def _drills(answers: list[DemoAnswer], deck: Deck, start_ms: int) -> Iterator[DrillRow]:
    for number, in_drill in groupby(answers, key=lambda answer: answer.drill):
        first, *_, last = [*in_drill] * 2
        ended_at = start_ms + last.asked_ms + last.took_ms
        tuning = deck.neck.tuning.id
        yield DrillRow(_drill_id(number), start_ms + first.asked_ms, ended_at, deck.id, MINUTES, "{}", tuning, None)


def _drill_id(number: int) -> str:
    return f"demo-{number:04d}"


def _attempt(answer: DemoAnswer, deck: Deck, start_ms: int, offset_min: int) -> AttemptRow:
    """The answer as a drill would have kept it."""
    card, asked_at = deck.card(answer.card), start_ms + answer.asked_ms
    judgement = card.judge(answer.given) if answer.given else None
    return AttemptRow(
        uid=uid(asked_at / 1000, answer.asked_ms.to_bytes(6, "big")),
        drill=_drill_id(answer.drill),
        card=card.id,
        family=card.family,
        deck=deck.id,
        kind="asked",
        asked_at=asked_at,
        answered_at=asked_at + answer.took_ms,
        utc_offset_min=offset_min,
        given=judgement.given if judgement else "",
        correct=bool(judgement and judgement.right),
        mixup=judgement.mixup.name if judgement and judgement.mixup else None,
        thinking_ms=answer.thinking_ms,
        target_ms=round(1000 * deck.entries[card.id].item.target_s),
    )
