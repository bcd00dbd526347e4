"""How fast the program is, as ratios to the best that is possible, measured side by side in one run.

    python tests/benchmarks/speed.py [--quick]

Each row times the program and a yardstick in turn (A B A B ...), so that a machine that slows down slows both, and
prints both medians and the median of the pairwise ratios; the wanted ratio stands beside the one that was measured.
What is derived is derived from nothing: the caches of the program are emptied before each round, those of music21 not.
The yardsticks: an empty Textual app, bare Python, a raw SQLite commit, music21.

A thing is on the screen when the program has written it to its terminal: how fast a terminal draws is not measured.
Every program is started once before it is measured, so that its byte code is compiled and its record is there. (The
very first start makes the record, and for that imports sqlite-utils, which imports numpy where the test libraries have
brought it along.) The second table shows how work grows: what doubles when the log, the deck or the answers double.
A start that must read its log anew, as after a change of the model, waits two seconds and reads on in slices.
--quick takes the same rows from shorter logs and a few runs, in less than two minutes on a quiet machine: it shows what
has broken, not by how little a ratio has grown.
"""

from __future__ import annotations

import argparse
import gc
import os
import sqlite3
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from statistics import median
from typing import NamedTuple

import checkout  # noqa: F401
import growth
from wire import FRETSURE, PYTHON, Run, drill_run, empty_run

from drill.decks import Deck, load_deck
from drill.practice.session import Session
from drill.record import AttemptRow, Record
from drill.settings import Settings
from drill.system import resources
from drill.system.environment import Environment
from drill.theory.keys import KEYS
from drill.theory.neck import STANDARD, Neck, Spot, names_of
from tests.support.asking import ask


class Scale(NamedTuple):
    """How much is measured: starts of each program, rounds of each yardstick, attempts in the logs."""

    starts: int
    rounds: int
    answers: int
    most: int
    anew: tuple[int, ...]
    """Attempts of logs that a start has to read."""


WHOLE = Scale(starts=11, rounds=5, answers=300, most=500_000, anew=(22_000, 500_000))
QUICK = Scale(starts=3, rounds=2, answers=100, most=20_000, anew=(20_000,))
IN_MEMORY = "/dev/shm"
"""A disk that is none, where Linux has it."""


def main() -> None:
    """Measure everything and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--quick", action="store_true", help="shorter logs and fewer runs")
    scale = QUICK if parser.parse_args().quick else WHOLE
    most, anew, rounds = scale.most, scale.anew, scale.rounds
    with tempfile.TemporaryDirectory() as folder:
        records = growth.records(sorted({0, most // 50, *anew, most // 2}), Path(folder))
        unread = {count: growth.unread(records[count]) for count in anew}
        print(f"{'what':<58}{'fretsure':>12}{'yardstick':>12}{'ratio':>8}   wanted")
        _terminal_rows(records[0], {count: records[count] for count in (most // 50, most)}, unread, scale.starts)
        _row("fretsure key Am / bare Python's start", "<= 5", *_in_turn(_start_key, _start_python, 3 * rounds))
        _row(
            "an answer of music21 / the same answer of theory",
            ">= 100",
            *_in_turn(_ask_music21, _ask_theory, 2 * rounds - 1),
        )
        _row("an answer of music21 / a card laid out in its deck", "", *_in_turn(_ask_music21, _lay_out, rounds))
        _row("an answer of music21 / its question and answers then", "", *_in_turn(_ask_music21, _ask_cards, rounds))
        _row("an answer of music21 / a whole card, layout and all", "", *_in_turn(_ask_music21, _derive, rounds))
        appends, answers, commits = _appends(Path(folder), scale.answers)
        _row("append an answer / raw SQLite commit", "<= 2", appends, commits)
        _row("judge, learn from, append and plan / raw SQLite commit", "", answers, commits)
        for count in (0, most // 50, most):
            taken = _shown(growth.next_card(records[count]))
            print(f"{f'next card with {count:,} attempts':<58}{taken:>12}{'':>23}< 5 ms", flush=True)
        growth.table(records)
        for count in anew:
            taken = _shown(growth.longest_slice(unread[count]))
            print(
                f"{f'the longest of some slices in which {count:,} are read':<58}{taken:>12}{'':>23}20 ms", flush=True
            )


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


def _terminal_rows(none: Path, others: dict[int, Path], unread: dict[int, Path], starts_of_each: int) -> None:
    programs: dict[str | int, Callable[[], Run]] = {"empty": empty_run, 0: partial(drill_run, none)}
    programs |= {count: partial(drill_run, path) for count, path in others.items()}
    programs |= {f"unread {count}": partial(drill_run, path, as_it_is=True) for count, path in unread.items()}
    programs["default"] = partial(drill_run, none, Settings().deck)
    if Path(IN_MEMORY).is_dir():
        programs["memory"] = partial(drill_run, none, disk=IN_MEMORY)
    runs: dict[str | int, list[Run]] = {name: [] for name in programs}
    for number in range(starts_of_each + 1):
        for name, run in programs.items():
            made = run()
            if number:  # the first run of each only warms up
                runs[name].append(made)
    starts = {name: [run.start_s for run in made] for name, made in runs.items()}
    keys = {name: [median(run.key_s) for run in made] for name, made in runs.items()}
    peaks = {name: [run.peak_bytes for run in made] for name, made in runs.items()}
    _row("start to first question / empty app's start", "<= 1.4", starts[0], starts["empty"])
    _row("the same with the default deck", "", starts["default"], starts["empty"])
    _row("key to painted verdict / empty app's key to paint", "<= 2", keys[0], keys["empty"])
    if "memory" in keys:
        _row("the same without waiting for a disk", "", keys["memory"], keys["empty"])
    _row("memory / empty app's", "<= 1.4", peaks[0], peaks["empty"])
    for count in others:
        _row(f"start with {count:,} attempts / with none", "<= 1.3", starts[count], starts[0])
    for count in unread:
        _row(f"start that reads {count:,} anew / with none", "2 s more", starts[f"unread {count}"], starts[0])


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


def _lay_out() -> float:
    """Seconds for one card's place in a deck (id, facts, groups): read and lay out every shipped deck."""
    _forget()
    began = time.perf_counter()
    decks = _decks()
    return (time.perf_counter() - began) / sum(len(deck.entries) for deck in decks)


def _ask_cards() -> float:
    """Seconds for one card's question and accepted answers, over every shipped deck as it was just laid out."""
    _forget()
    decks = _decks()
    began = time.perf_counter()
    asked = sum(bool(card.prompt and card.accepts) for deck in decks for card in deck.cards())
    return (time.perf_counter() - began) / asked


def _derive() -> float:
    """Seconds for all of one card: its place in a deck, question, answers, reason, mix-ups and both pictures."""
    _forget()
    began, count = time.perf_counter(), 0
    for card in (card for deck in _decks() for card in deck.cards()):
        count += all(
            part is not None for part in (card.because, card.mixups, card.question_picture, card.answer_picture)
        )
    return (time.perf_counter() - began) / count


def _decks() -> list[Deck]:
    return [load_deck(name, Neck(STANDARD)) for name in resources.deck_files()]


def _forget() -> None:
    """Empty every cache of the program: what is measured is derived, not remembered from an earlier round."""
    for kept in gc.get_objects():
        if isinstance(kept, type(names_of)) and kept.__module__.startswith("drill."):
            kept.cache_clear()


def _ask_music21() -> float:
    """Seconds for one answer of music21: the 30 relatives, and the note at every string and fret up to the twelfth."""
    from music21 import key, tablature

    began = time.perf_counter()
    relatives = [key.KeySignature(f).asKey(mode).relative.name for mode in ("major", "minor") for f in range(-7, 8)]
    board = tablature.GuitarFretBoard()
    notes = [board.tuning[6 - string].transpose(fret).name for string in range(1, 7) for fret in range(13)]
    took = time.perf_counter() - began
    assert [name.replace("-", "b").casefold() for name in relatives] == [k.relative.name.casefold() for k in KEYS]
    return took / (len(relatives) + len(notes))


def _ask_theory() -> float:
    """Seconds for one of the same answers."""
    neck = Neck(STANDARD)
    _forget()
    began = time.perf_counter()
    relatives = [key.relative.name for key in KEYS]
    notes = [names_of(neck.sounding(Spot(string, fret)) % 12)[0].name for string in range(1, 7) for fret in range(13)]
    return (time.perf_counter() - began) / (len(relatives) + len(notes))


def _appends(folder: Path, count: int) -> tuple[list[float], list[float], list[float]]:
    """Seconds to append an answer with its derived state, to do all that an answer asks for, and for one raw commit.

    The raw commit is of one row, as durable, with sqlite3 alone.
    """
    raw = sqlite3.connect(folder / "raw.sqlite3", isolation_level=None)
    raw.executescript("PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE t (id INTEGER, v TEXT);")
    appends: list[float] = []
    answers: list[float] = []
    commits: list[float] = []
    environment = Environment.real(folder / "append.sqlite3")
    with TimedRecord.open(environment.record_path, environment.now) as record:
        record.taken = appends
        session = Session.start(environment, Settings(), record, load_deck("naturals", Neck(STANDARD)), 60)
        for _ in range(count):
            question = ask(session)
            assert question is not None
            with _timed(answers):
                session.answer(question.card.accepts[0])
            with _timed(commits):
                raw.execute("BEGIN IMMEDIATE")
                raw.execute("INSERT INTO t (v) VALUES (?)", ("x" * 200,))
                raw.execute("COMMIT")
    return appends, answers, commits


class TimedRecord(Record):
    """A record that notes how long each append takes, in seconds."""

    taken: list[float]

    def append(self, attempt: AttemptRow, states: Mapping[str, str] | None = None, after: int | None = None) -> int:
        with _timed(self.taken):
            return super().append(attempt, states, after)


if __name__ == "__main__":
    main()
