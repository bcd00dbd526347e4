"""Which way of choosing cards gets a learner furthest on five minutes a day?

    python tests/benchmarks/scheduler.py [--quick] [--days N ...] [--seeds N] [--learner NAME ...]

Made-up learners of several kinds, none built on the program's own model, drill five minutes a day. Measured at the
hour of the next drill, on each of the last seven days, from the learner's true state: cards holding (chance of a right
answer at least .8), cards fluent (holding, and the middle thinking time within the target), keys ready (chance that all
that a key needs comes right, each within one bar, at least .5). The table gives the mean over seeds and the standard
deviation.
"""

from __future__ import annotations

import argparse
import random
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import checkout  # noqa: F401  puts the checkout on the path, so that no installation is needed
from made_up_deck import BAR_S, deck, keys
from schedulers import ALL, DAY_S

from tests.support.simulated import Correcting, Counts, FactMemory, HalfLife, PowerLaw, SimulatedLearner, Temper

START_S = 1_700_000_000.0
DRILL_S = 300.0
HOLDING = 0.8
READY = 0.5
WEEK = 7
FIELDS = ("holding", "fluent", "ready", "answers", "minutes")
READ_RIGHT_S, READ_WRONG_S = 2.0, 7.0


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of learner: the theory of memory, the temper, and the days on which there is a drill."""

    memory: Callable[[float], FactMemory]
    temper: Temper
    drills: Callable[[int, random.Random], bool] = lambda day, source: True


KINDS = {
    "power law": Kind(PowerLaw, Temper()),
    "correcting, slow": Kind(Correcting, Temper(tempo=1.95)),
    "half-life, weekends off": Kind(HalfLife, Temper(), lambda day, source: day % 7 < 5),
    "counts, careless": Kind(Counts, Temper(slips=0.06)),
    "power law, misses days": Kind(PowerLaw, Temper(tempo=1.5), lambda day, source: source.random() < 0.65),
    "half-life, whole cards": Kind(HalfLife, Temper(whole_cards=True)),
    "correcting, advanced": Kind(Correcting, Temper(tempo=1.5, known=0.7)),
}
QUICK_KINDS = ("power law", "correcting, slow", "half-life, weekends off", "counts, careless")


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a learner has after so many days."""

    holding: float
    fluent: float
    ready: float
    answers: float
    minutes: float


def drill(simulated: SimulatedLearner, scheduler: object, now_s: float) -> tuple[int, float]:
    """One drill of five minutes: how many answers, and how many seconds it took."""
    begin, end = now_s, now_s + DRILL_S
    scheduler.begin(now_s)
    answers = 0
    while (item := scheduler.next(now_s, end - now_s)) is not None:
        attempt = simulated.answer(item, now_s)
        scheduler.told(item, attempt)
        now_s = attempt.at_s + (READ_RIGHT_S if attempt.right else READ_WRONG_S)
        answers += 1
    return answers, now_s - begin


def measure(simulated: SimulatedLearner, now_s: float, answers: int, seconds: float) -> Outcome:
    """The true state at `now_s`."""
    items = deck()
    holding = [item for item in items if simulated.chance(item, now_s) >= HOLDING]
    fluent = sum(simulated.thinking(item, now_s) <= item.target_s for item in holding)
    ready = 0
    for needed in keys(items).values():
        chance = 1.0
        for item in needed:
            chance *= simulated.within(item, now_s, BAR_S)
        ready += chance >= READY
    return Outcome(len(holding), fluent, ready, answers, seconds / 60)


def run(kind: Kind, scheduler_name: str, days: Sequence[int], seed: int) -> dict[int, Outcome]:
    """One learner over the longest of `days` with one scheduler; the outcome after each of `days`."""
    simulated = SimulatedLearner(kind.memory, kind.temper, random.Random(f"learner {seed}"))
    calendar = random.Random(f"calendar {seed}")
    items = deck()
    for item in items:  # the learner is the same whoever chooses the cards
        simulated.chance(item, START_S)
    scheduler = ALL[scheduler_name](items, random.Random(f"scheduler {seed}"))
    week: dict[int, list[Outcome]] = {end: [] for end in days}
    answers, seconds = 0, 0.0
    for day in range(max(days)):
        now_s = START_S + day * DAY_S + calendar.uniform(-3600, 3600)
        if kind.drills(day, calendar):
            more, took = drill(simulated, scheduler, now_s)
            answers, seconds = answers + more, seconds + took
        for end in days:
            if end - WEEK <= day < end:
                week[end].append(measure(simulated, START_S + (day + 1) * DAY_S, answers, seconds))
    return {end: mean(measured) for end, measured in week.items()}


def mean(measured: Sequence[Outcome]) -> Outcome:
    """The mean of the states; of the efforts the last."""
    states = [statistics.fmean(getattr(m, field) for m in measured) for field in ("holding", "fluent", "ready")]
    return Outcome(*states, measured[-1].answers, measured[-1].minutes)


def line(name: str, outcomes: Sequence[Outcome]) -> str:
    """One line of the table: mean ± standard deviation over seeds."""

    def both(field: str) -> str:
        values = [getattr(outcome, field) for outcome in outcomes]
        spread = statistics.stdev(values) if len(values) > 1 else 0.0
        return f"{statistics.fmean(values):7.1f} ±{spread:4.1f}"

    return f"  {name:<14}" + "".join(f"{both(f):>16}" for f in FIELDS)


def verdict(days: int, kind: str, table: dict[str, list[Outcome]]) -> list[str]:
    """Where the program does not beat every rival by more than the spread over seeds."""
    said = []
    for field in ("fluent", "ready"):
        ours = [getattr(o, field) for o in table["fretsure"]]
        for rival, outcomes in table.items():
            if rival == "fretsure":
                continue
            gaps = [a - getattr(o, field) for a, o in zip(ours, outcomes, strict=True)]
            spread = statistics.stdev(gaps) if len(gaps) > 1 else 0.0
            if statistics.fmean(gaps) <= spread:
                gap = statistics.fmean(gaps)
                said.append(f"{days} days, {kind}: {field} against {rival}: {gap:+.1f}, spread {spread:.1f}")
    return said


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Compare ways of choosing cards on made-up learners.")
    parser.add_argument("--quick", action="store_true", help="four kinds, 30 and 90 days, two seeds")
    parser.add_argument("--days", type=int, nargs="+", default=None)
    parser.add_argument("--seeds", type=int, default=None)
    parser.add_argument("--learner", nargs="+", choices=list(KINDS), default=None)
    parser.add_argument("--only", nargs="+", choices=list(ALL), default=list(ALL), help="these schedulers")
    chosen = parser.parse_args(arguments)
    days = chosen.days or ([30, 90] if chosen.quick else [30, 90, 365])
    seeds = chosen.seeds or (2 if chosen.quick else 4)
    kinds = chosen.learner or (QUICK_KINDS if chosen.quick else list(KINDS))
    items = deck()
    print(f"{len(items)} cards, {len(keys(items))} keys, five minutes a day, {seeds} seeds")
    started, short = time.perf_counter(), []
    for kind in kinds:
        results = {name: [run(KINDS[kind], name, days, seed) for seed in range(seeds)] for name in chosen.only}
        for day in days:
            table = {name: [r[day] for r in runs] for name, runs in results.items()}
            print(f"{kind}, after {day} days: " + " · ".join(FIELDS))
            for name, outcomes in table.items():
                print(line(name, outcomes))
            if "fretsure" in table:
                short += verdict(day, kind, table)
        sys.stdout.flush()
    print(f"took {time.perf_counter() - started:.0f} s")
    print("Not ahead of every rival by more than the spread:" if short else "Ahead of every rival, everywhere.")
    for said in short:
        print("  " + said)
    return 0


if __name__ == "__main__":
    sys.exit(main())
