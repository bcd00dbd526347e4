"""How fast the program is, as ratios to the best that is possible, measured side by side in one run.

    python tests/benchmarks/speed.py [--quick]

Each row times the program and a yardstick in turn (A B A B ...), so that a machine that slows down slows both, and
prints both medians and the median of the pairwise ratios; the wanted ratio stands beside the one that was measured.
The yardsticks: an empty Textual app, bare Python, a raw SQLite commit, music21.

A thing is on the screen when the program has written it to its terminal: how fast a terminal draws is not measured.
Every program is started once before it is measured, so that its byte code is compiled and its record is there. (The
very first start makes the record, and for that imports sqlite-utils, which imports numpy where the test libraries have
brought it along.) The second table shows how work grows: what doubles when the log, the deck or the answers double.
--quick uses 50,000 attempts for 500,000.
"""

from __future__ import annotations

import argparse
import json
import os
import random
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from statistics import median
from types import SimpleNamespace

import checkout  # noqa: F401

from drill import resources
from drill.decks import Deck, load_deck
from drill.environment import Environment
from drill.memory import Attempt, Learner, Planner, dump
from drill.recall import POSITION, Recall
from drill.record import AttemptRow, DrillRow, Record
from drill.session import Session
from drill.settings import Settings
from drill.theory.neck import STANDARD, Neck
from tests.terminal import Terminal

EMPTY_APP = """
from textual.app import App
from textual.binding import Binding
from textual.widgets import Static
class Empty(App):
    BINDINGS = [Binding("e", "say", "Say")]
    heard = 0
    def compose(self):
        yield Static("here I am", id="said")
    def action_say(self):
        self.heard += 1
        self.query_one("#said", Static).update(f"heard it {self.heard} times")
Empty().run()
"""
PYTHON = sys.executable
FRETSURE = [PYTHON, "-m", "drill"]
NOW_S = 1_780_000_000.0


def main() -> None:
    """Measure everything and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--quick", action="store_true", help="a tenth of the attempts")
    most = 50_000 if parser.parse_args().quick else 500_000
    print(f"{'what':<58}{'fretsure':>12}{'yardstick':>12}{'ratio':>8}   wanted")
    with tempfile.TemporaryDirectory() as folder:
        records = {count: _record_of(count, Path(folder)) for count in (0, most // 50, most)}
        _terminal_rows(records)
        _row("fretsure key Am / bare Python's start", "<= 5", *_in_turn(_start_key, _start_python, 15))
        _row("one card of all decks / one answer of music21", "<= .01", *_in_turn(_derive, _ask_music21, 5))
        _row("append an answer / raw SQLite commit", "<= 2", *_appends(Path(folder)))
        _choices(records)


def _row(what: str, wanted: str, ours: list[float], theirs: list[float]) -> None:
    ratio = median(a / b for a, b in zip(ours, theirs, strict=True))
    print(f"{what:<58}{_shown(median(ours)):>12}{_shown(median(theirs)):>12}{ratio:>8.2f}   {wanted}", flush=True)


def _shown(value: float) -> str:
    if value > 1000:
        return f"{value / 2**20:.0f} MiB"
    return f"{value * 1000:.1f} ms" if value >= 0.001 else f"{value * 1e6:.0f} µs"


def _in_turn(ours: Callable[[], float], theirs: Callable[[], float], times: int) -> tuple[list[float], list[float]]:
    """Both in turn, after one warm-up of each."""
    ours(), theirs()
    pairs = [(ours(), theirs()) for _ in range(times)]
    return [a for a, _ in pairs], [b for _, b in pairs]


@contextmanager
def _timed(into: list[float]) -> Iterator[None]:
    began = time.perf_counter()
    yield
    into.append(time.perf_counter() - began)


# -- in a terminal -----------------------------------------------------------------------------------------------------

STARTS, KEYS = 11, 15
"""How often each program is started, and how many keys are pressed in each run."""
CALM_S = 0.1
"""A program that has written nothing for so long waits for a key."""


class Wire(Terminal):
    """A terminal that keeps what is written to it and draws nothing."""

    def __init__(self, command: list[str], environment: dict[str, str]) -> None:
        super().__init__(command, environment)
        self._stream = SimpleNamespace(feed=len)  # type: ignore[assignment]


@dataclass(slots=True)
class Run:
    """One run of a program in a terminal."""

    start_s: float
    key_s: list[float]
    peak_bytes: float


def _terminal_rows(records: dict[int, Path]) -> None:
    none, some, most = records
    programs: dict[int | None, Callable[[], Run]] = {None: _empty_run}
    programs |= {count: partial(_drill_run, path) for count, path in records.items()}
    runs: dict[int | None, list[Run]] = {name: [] for name in programs}
    for number in range(STARTS + 1):
        for name, run in programs.items():
            made = run()
            if number:  # the first run of each only warms up
                runs[name].append(made)
    starts = {name: [run.start_s for run in made] for name, made in runs.items()}
    keys = {name: [median(run.key_s) for run in made] for name, made in runs.items()}
    peaks = {name: [run.peak_bytes for run in made] for name, made in runs.items()}
    _row("start to first question / empty app's start", "<= 1.4", starts[none], starts[None])
    _row("key to painted verdict / empty app's key to paint", "<= 2", keys[none], keys[None])
    _row("memory / empty app's", "<= 1.4", peaks[none], peaks[None])
    for count in (some, most):
        _row(f"start with {count:,} attempts / with none", "<= 1.3", starts[count], starts[none])
        _row(f"key to verdict with {count:,} attempts / with none", "", keys[count], keys[none])


def _drill_run(record: Path) -> Run:
    """Start a drill, pass on its questions with one key each, and read their verdicts."""
    with tempfile.TemporaryDirectory() as folder:
        used = Path(folder) / record.name
        if record.stat().st_size < 1_000_000:
            used.write_bytes(record.read_bytes())  # an empty record stays one
        else:
            used.symlink_to(record)  # among so many answers a few more make no difference
        environment = {**os.environ, "FRETSURE_RECORD": str(used), "XDG_CONFIG_HOME": folder}
        return _run([*FRETSURE, "today", "--deck", "naturals"], environment, "1 · ", "?", lambda _: "Why:", "\r")


def _empty_run() -> Run:
    return _run([PYTHON, "-c", EMPTY_APP], dict(os.environ), "here I am", "e", "heard it {} times".format, "")


def _run(
    command: list[str], environment: dict[str, str], first: str, key: str, then: Callable[[int], str], key_on: str
) -> Run:
    """Wait for what a program shows first, then for what it shows after each key; `key_on` goes on to the next."""
    began = time.perf_counter()
    with Wire(command, environment) as terminal:
        _written(terminal, first, 0)
        start_s, key_s = time.perf_counter() - began, []
        for number in range(1, KEYS + 1):
            _settle(terminal)
            seen, began = len(terminal.raw), time.perf_counter()
            terminal.type(key)
            _written(terminal, then(number), seen)
            key_s.append(time.perf_counter() - began)
            _settle(terminal)
            terminal.type(key_on)
        return Run(start_s, key_s, _peak_bytes(terminal.pid))


def _written(terminal: Wire, words: str, after: int) -> None:
    """Wait until these words have been written, after so many bytes."""
    wanted = words.encode()
    while terminal.raw.find(wanted, after) < 0:
        if not terminal.read(20.0):
            raise SystemExit(f"never saw {words!r} in {bytes(terminal.raw[-2000:])!r}")


def _settle(terminal: Wire) -> None:
    while terminal.read(CALM_S):
        pass


def _peak_bytes(pid: int) -> float:
    status = Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    return float(next(line for line in status.splitlines() if line.startswith("VmHWM")).split()[1]) * 1024


# -- without a terminal ------------------------------------------------------------------------------------------------


def _start_key() -> float:
    return _spawned([*FRETSURE, "key", "Am"])


def _start_python() -> float:
    return _spawned([PYTHON, "-c", "pass"])


def _spawned(command: list[str]) -> float:
    quiet = os.open(os.devnull, os.O_WRONLY)
    began = time.perf_counter()
    pid = os.posix_spawn(command[0], command, os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, quiet, 1)])
    os.waitpid(pid, 0)
    took = time.perf_counter() - began
    os.close(quiet)
    return took


def _derive() -> float:
    """Seconds for one card: lay out every shipped deck and derive each of its cards."""
    began, count = time.perf_counter(), 0
    for name in resources.deck_files():
        count += len(list(load_deck(name, Neck(STANDARD)).cards()))
    return (time.perf_counter() - began) / count


def _ask_music21() -> float:
    """Seconds for one answer of music21: the 30 relatives, and the note at every string and fret up to the twelfth."""
    from music21 import key, tablature

    began = time.perf_counter()
    relatives = [key.KeySignature(f).asKey(mode).relative.name for f in range(-7, 8) for mode in ("major", "minor")]
    board = tablature.GuitarFretBoard()
    notes = [board.tuning[6 - string].transpose(fret).name for string in range(1, 7) for fret in range(13)]
    return (time.perf_counter() - began) / (len(relatives) + len(notes))


def _appends(folder: Path) -> tuple[list[float], list[float]]:
    """Seconds to keep an answer with its derived state, and to commit one row as durably with sqlite3 alone."""
    raw = sqlite3.connect(folder / "raw.sqlite3", isolation_level=None)
    raw.executescript("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE t (id INTEGER, v TEXT);")
    ours: list[float] = []
    theirs: list[float] = []
    environment = Environment.real(folder / "append.sqlite3", seed=1)
    with Record.open(environment.record_path, environment.now) as record:
        session = Session.start(environment, Settings(), record, load_deck("naturals", Neck(STANDARD)), 60)
        for _ in range(300):
            question = session.ask()
            assert question is not None
            with _timed(ours):
                session.answer(question.card.accepts[0])
            with _timed(theirs):
                raw.execute("BEGIN IMMEDIATE")
                raw.execute("INSERT INTO t (v) VALUES (?)", ("x" * 200,))
                raw.execute("COMMIT")
    return ours, theirs


def _choices(records: dict[int, Path]) -> None:
    """Milliseconds to load the learner and to choose the next card, by the length of the log."""
    print(f"\n{'attempts on record':<58}{'load':>12}{'next card':>12}   wanted: next card < 5 ms")
    deck = load_deck("two-shapes", Neck(STANDARD))
    for count, path in records.items():
        loads: list[float] = []
        nexts: list[float] = []
        with Record.open(path, lambda: NOW_S) as record:
            for _ in range(5):
                with _timed(loads):
                    learner = Recall.of(record).learner
            planner = Planner(learner, deck.items, NOW_S)
            for step in range(40):
                now_s = NOW_S + 3.0 * step
                with _timed(nexts):
                    choice = planner.next(now_s, 300.0)
                assert choice is not None
                attempt = Attempt(choice.card, now_s + 1.0, True, 1.0)
                learner.observe(deck.entries[choice.card].item, attempt)
                planner.told(attempt)
        print(f"{count:<58,}{_shown(median(loads)):>12}{_shown(median(nexts)):>12}   (slowest {_shown(max(nexts))})")


def _record_of(count: int, folder: Path) -> Path:
    """A record with so many attempts over a year and the state derived from them, as drilling would have left it."""
    path = folder / str(count) / "record.sqlite3"
    deck = load_deck("two-shapes", Neck(STANDARD))
    drill = DrillRow("a year", 1, 2, deck.id, 5, "{}", "standard", None)
    learner = Learner()
    with Record.open(path, lambda: NOW_S) as record:
        record.start_drill(drill)
        record.merge([], _made_up(count, deck, drill, learner))
        states = {name: json.dumps(value) for name, value in dump(learner).items()}
        record.replace_states(states | {POSITION: str(record.last_attempt_id())})
    return path


def _made_up(count: int, deck: Deck, drill: DrillRow, learner: Learner) -> Iterator[AttemptRow]:
    chance = random.Random(count)
    items = deck.items
    for number in range(count):
        at_s = NOW_S - 365 * 86_400.0 * (1 - number / count)
        item, right = chance.choice(items), chance.random() < 0.85
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
            right=right,
            mixup=None,
            thinking_ms=1500,
            target_ms=2000,
        )


if __name__ == "__main__":
    main()
