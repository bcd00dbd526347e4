"""How work grows: what takes twice as long when the log, the deck or the answers double.

records    records of a made-up year, as drilling would have left them, by the number of their attempts
table      the times at half the work and at all of it, and their ratio: 1 is no growth, 2 grows as the work does
"""

from __future__ import annotations

import json
import random
import shutil
import time
from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from pathlib import Path
from statistics import median

import checkout  # noqa: F401

from drill.decks import Deck, load_deck
from drill.memory import Attempt, Learner, Planner, dump
from drill.memory.calibration import Calibration
from drill.practice.learner_store import LearnerStore
from drill.practice.replay import CALIBRATION
from drill.record import POSITION, AttemptRow, DrillRow, Record
from drill.theory.neck import STANDARD, Neck

NOW_S = 1_780_000_000.0
YEAR_S = 365 * 86_400.0
TIMES = 7
CHOICES = 40


def records(counts: Iterable[int], folder: Path) -> dict[int, Path]:
    """One record grown through these numbers of attempts, from none on, and a copy of it at each."""
    deck, learner, made = load_deck("two-shapes", Neck(STANDARD)), Learner(), {}
    grown = folder / "record.sqlite3"
    drill = DrillRow("a year", 1, 2, deck.id, 5, "{}", "standard", None)
    year = _made_up(max(counts), deck, drill, learner)
    before = 0
    for count in sorted(counts):
        with Record.open(grown, lambda: NOW_S) as record:
            record.merge([drill], islice(year, count - before))
            states = dump(learner) | {CALIBRATION: Calibration().dump(), POSITION: record.last_attempt_id()}
            record.replace_states({name: json.dumps(value) for name, value in states.items()})
        made[count], before = folder / str(count) / "record.sqlite3", count
        made[count].parent.mkdir()
        shutil.copy(grown, made[count])
    return made


def _made_up(count: int, deck: Deck, drill: DrillRow, learner: Learner) -> Iterator[AttemptRow]:
    """A year of answers, spread evenly, four in five of them right; the learner takes each in as it comes."""
    chance = random.Random(count)
    items = deck.items
    for number in range(count):
        at_s = NOW_S - YEAR_S * (1 - number / count)
        item, right = chance.choice(items), chance.random() < 0.8
        learner.observe(item, Attempt(item.card, at_s, right, 1.5))
        yield AttemptRow(
            uid=f"{number:08x}",
            drill=drill.id,
            card=item.card,
            family=item.family,
            deck=deck.id,
            kind="asked",
            asked_at=round(at_s * 1000) - 2000,
            answered_at=round(at_s * 1000),
            utc_offset_min=60,
            given="E",
            correct=right,
            mixup=None,
            thinking_ms=1500,
            target_ms=2000,
        )


def table(made: dict[int, Path]) -> None:
    """Print how long each piece of work takes at half and at all of it."""
    half, most = sorted(made)[-2:]
    whole = load_deck("two-shapes", Neck(STANDARD))
    part = whole._replace(entries=dict(islice(whole.entries.items(), len(whole.entries) // 2)))
    cards = f"{len(part.entries)} to {len(whole.entries)} cards"
    print(f"\n{'what doubles':<58}{'at half':>12}{'at all':>12}{'ratio':>8}")
    log = f"log of {half:,} to {most:,}: "
    _row(log + "load what is known", _loading(made[half]), _loading(made[most]))
    _row(log + "begin to plan", *(_planning(made[count], whole) for count in (half, most)))
    _row(log + "next card", *(_choosing(made[count], whole) for count in (half, most)))
    _row(f"deck of {cards}: begin to plan", *(_planning(made[most], deck) for deck in (part, whole)))
    _row(f"deck of {cards}: next card", *(_choosing(made[most], deck) for deck in (part, whole)))
    _row("answers to derive anew, 2,000 to 4,000", *(_deriving(made[most], count) for count in (2000, 4000)))


def unread(made: Path) -> Path:
    """A copy of a record of which nothing is derived: a start must read its log."""
    copy = made.with_name("unread.sqlite3")
    shutil.copy(made, copy)
    with Record.open(copy, lambda: NOW_S) as record:
        record.replace_states({})
    return copy


def longest_slice(unread: Path) -> float:
    """Seconds of the longest among some slices in which a log is read."""
    with Record.open(unread, lambda: NOW_S) as record:
        recall = LearnerStore.begin(record, time.perf_counter, wait_s=0.0)
        return max(_seconds(lambda: recall.catch_up(time.perf_counter)) for _ in range(CHOICES))


def next_card(record: Path) -> float:
    """Seconds to choose the next card, at the median of a drill's choices."""
    return _choosing(record, load_deck("two-shapes", Neck(STANDARD)))


def _row(what: str, at_half: float, at_all: float) -> None:
    print(f"{what:<58}{at_half * 1000:>9.2f} ms{at_all * 1000:>9.2f} ms{at_all / at_half:>8.2f}", flush=True)


def _seconds(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def _loading(path: Path) -> float:
    with Record.open(path, lambda: NOW_S) as record:
        return median(_seconds(lambda: LearnerStore.of(record)) for _ in range(TIMES))


def _planning(path: Path, deck: Deck) -> float:
    with Record.open(path, lambda: NOW_S) as record:
        learner = LearnerStore.of(record).learner
    return median(_seconds(lambda: Planner(learner, deck.items, NOW_S)) for _ in range(TIMES))


def _choosing(path: Path, deck: Deck) -> float:
    with Record.open(path, lambda: NOW_S) as record:
        learner = LearnerStore.of(record).learner
    planner, taken = Planner(learner, deck.items, NOW_S), []
    for step in range(CHOICES):
        now_s = NOW_S + 3.0 * step
        began = time.perf_counter()
        choice = planner.next(now_s, 300.0)
        taken.append(time.perf_counter() - began)
        assert choice is not None
        attempt = Attempt(choice.card, now_s + 1.0, True, 1.0)
        learner.observe(deck.entries[choice.card].item, attempt)
        planner.observe(attempt)
    return median(taken)


def _deriving(path: Path, count: int) -> float:
    deck, learner = load_deck("two-shapes", Neck(STANDARD)), Learner()
    with Record.open(path, lambda: NOW_S) as record:
        rows = list(islice(record.attempts(), count))

    def derive() -> None:
        for row in rows:
            learner.observe(deck.entries[row.card].item, Attempt(row.card, row.answered_at / 1000, row.correct, 1.5))

    return _seconds(derive)
