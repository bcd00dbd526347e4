"""How soon is a learner ready for every key, on five minutes a day?

    python tests/benchmarks/scheduler.py [--quick] [--days N ...] [--seeds N] [--learner NAME ...] [--only NAME ...]
                                         [--vary FIELD ...]

Made-up learners, none built on the program's own model, drill five minutes a day with the default deck that ships.
Measured at the hour of the next drill, from the learner's true state: **keys ready** of 24, those whose relative,
finger and both index frets all come right, each within one bar at 80 beats a minute, with a chance of at least .5. In
brackets what the program itself says. Then the days until 12 and 24 keys are ready for the first time; the day of the
first core card (the index fret of a shape) and the day by which every core card was asked; the share of questions that
were new, the share of right answers, the drills that brought nothing new though cards were unmet, the minutes spent.

The rivals ask the same deck in the same order; "old order" is the same planner over the deck as it was before.
`--vary` shows how the figures move when a constant of the learners is 30 % smaller or larger.
"""

from __future__ import annotations

import argparse
import random
import statistics
import sys
import time
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field, fields, replace

import checkout  # noqa: F401  puts the checkout on the path, so that no installation is needed
from schedulers import ALL, DAY_S, OLD_ORDER, OURS, Scheduler
from shipped import BAR_S, anchors, core, items, keys
from shipped import OLD_ORDER as OLD_DECK

from drill.memory import Item
from tests.support.reasoning import MINDS, Mind, Reasoner
from tests.support.simulated import Correcting, Counts, FactMemory, HalfLife, PowerLaw, SimulatedLearner, Temper

START_S = 1_700_000_000.0
DRILL_S = 300.0
READY = 0.5
READ_RIGHT_S, READ_WRONG_S, READ_SOLVED_S = 1.5, 6.0, 8.0
"""Seconds from an answer to the next question, and at a card that is shown solved."""
DAYS = (7, 14, 30, 90)
PROCESSES = 2

Made = Reasoner | SimulatedLearner


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of learner: how to make one, and the days on which there is a drill."""

    make: Callable[[random.Random], Made]
    drills: Callable[[int, random.Random], bool] = lambda day, source: True


def reasoner(mind: Mind) -> Kind:
    """A learner who can work answers out."""
    return Kind(lambda source: Reasoner(mind, source))


def older(memory: Callable[[float], FactMemory], temper: Temper, drills: Callable[..., bool] | None = None) -> Kind:
    """A learner who knows a fact or does not, by one of four theories."""
    make = Kind(lambda source: SimulatedLearner(memory, temper, source))
    return replace(make, drills=drills) if drills else make


KINDS = {
    **{name: reasoner(mind) for name, mind in MINDS.items()},
    "understands, weekends off": replace(reasoner(MINDS["understands"]), drills=lambda day, source: day % 7 < 5),
    "power law": older(PowerLaw, Temper()),
    "correcting, slow": older(Correcting, Temper(tempo=1.95)),
    "half-life, weekends off": older(HalfLife, Temper(), lambda day, source: day % 7 < 5),
    "counts, careless": older(Counts, Temper(slips=0.06)),
    "power law, misses days": older(PowerLaw, Temper(tempo=1.5), lambda day, source: source.random() < 0.65),
    "half-life, whole cards": older(HalfLife, Temper(whole_cards=True)),
    "correcting, advanced": older(Correcting, Temper(tempo=1.5, known=0.7)),
}
QUICK = ("understands", "student", "slow student")


@dataclass(slots=True)
class Diary:
    """What happened on the way, drill by drill."""

    met: dict[str, int] = field(default_factory=dict)
    """The day on which each card was first asked."""
    questions: int = 0
    new: int = 0
    right: int = 0
    seconds: float = 0.0
    nothing_new: int = 0
    """Drills that brought nothing new although some cards were never asked."""


@dataclass(slots=True)
class Outcome:
    """What one learner came to. Days count from 1; None is never."""

    ready: dict[int, int] = field(default_factory=dict)
    claimed: dict[int, int | None] = field(default_factory=dict)
    twelve: int | None = None
    all_keys: int | None = None
    first_core: int | None = None
    all_core: int | None = None
    new: float = 0.0
    right: float = 0.0
    nothing_new: int = 0
    minutes: float = 0.0


def drill(learner: Made, scheduler: Scheduler, diary: Diary, day: int, begin_s: float, unmet: set[str]) -> None:
    """One drill of five minutes."""
    now_s, end_s = begin_s, begin_s + DRILL_S
    scheduler.begin(now_s)
    new, any_unmet = 0, bool(unmet)
    while (item := scheduler.next(now_s, end_s - now_s)) is not None:
        if scheduler.shows:
            scheduler.told(item, learner.watch(item, now_s))
            now_s += READ_SOLVED_S
            continue
        attempt = learner.answer(item, now_s)
        scheduler.told(item, attempt)
        now_s = attempt.at_s + (READ_RIGHT_S if attempt.right else READ_WRONG_S)
        new += item.card not in diary.met
        diary.met.setdefault(item.card, day)
        unmet.discard(item.card)
        diary.questions += 1
        diary.right += bool(attempt.right)
    diary.new += new
    diary.seconds += now_s - begin_s
    diary.nothing_new += any_unmet and not new


def ready_keys(learner: Made, now_s: float) -> int:
    """The keys that are ready in truth at `now_s`."""
    return sum(_chance(learner, needed, now_s) >= READY for needed in keys().values())


def _chance(learner: Made, needed: Iterable[Item], now_s: float) -> float:
    chance = 1.0
    for item in needed:
        chance *= learner.within(item, now_s, BAR_S)
    return chance


def run(kind: Kind, name: str, days: Sequence[int], seed: int) -> Outcome:
    """One learner over the longest of `days` with one scheduler."""
    learner, calendar = kind.make(random.Random(f"learner {seed}")), random.Random(f"calendar {seed}")
    deck = items(str(OLD_DECK)) if name == OLD_ORDER else items()
    for item in (*items(), *items(str(OLD_DECK))):  # the learner is the same whoever chooses the cards
        learner.chance(item, START_S)
    scheduler, diary, outcome = ALL[name](deck, random.Random(f"scheduler {seed}")), Diary(), Outcome()
    unmet = {item.card for item in deck}
    for day in range(1, max(days) + 1):
        now_s = START_S + (day - 1) * DAY_S + calendar.uniform(-3600, 3600)
        if kind.drills(day - 1, calendar):
            drill(learner, scheduler, diary, day, now_s, unmet)
        measure(learner, scheduler, outcome, day, day in days)
    return sum_up(diary, outcome)


def measure(learner: Made, scheduler: Scheduler, outcome: Outcome, day: int, to_be_shown: bool) -> None:
    """The state at the hour of the next drill; no longer looked at once all keys have been ready, but for the table."""
    if outcome.all_keys and not to_be_shown:
        return
    at_s = START_S + day * DAY_S
    ready = ready_keys(learner, at_s)
    if to_be_shown:
        outcome.ready[day] = ready
        outcome.claimed[day] = scheduler.ready(keys().values(), at_s, BAR_S, READY)
    outcome.twelve = outcome.twelve or (day if ready >= 12 else None)
    outcome.all_keys = outcome.all_keys or (day if ready == 24 else None)


def sum_up(diary: Diary, outcome: Outcome) -> Outcome:
    met = {card: day for card, day in diary.met.items() if card in core()}
    outcome.first_core = min(met.values(), default=None)
    outcome.all_core = max(met[card] for key in keys() for card in anchors(key)) if len(met) == len(core()) else None
    questions = max(diary.questions, 1)
    outcome.new, outcome.right = diary.new / questions, diary.right / questions
    outcome.nothing_new, outcome.minutes = diary.nothing_new, diary.seconds / 60
    return outcome


# -- the table ---------------------------------------------------------------------------------------------------------


def _shown(values: Sequence[float | None]) -> str:
    """Mean ± spread over seeds; a dash if any learner never got there."""
    known = [value for value in values if value is not None]
    if len(known) < len(values) or not known:
        return "-"
    spread = f" ±{statistics.stdev(known):.0f}" if len(known) > 1 and statistics.stdev(known) >= 0.5 else ""
    return f"{statistics.fmean(known):.0f}{spread}"


def line(name: str, outcomes: Sequence[Outcome], days: Sequence[int]) -> str:
    """One line of the table."""
    ready = ""
    for day in days:
        claimed = [o.claimed[day] for o in outcomes]
        claim = f" [{_shown(claimed)}]" if None not in claimed else ""
        ready += f"{_shown([o.ready[day] for o in outcomes]) + claim:>16}"
    when = [[o.twelve for o in outcomes], [o.all_keys for o in outcomes], [o.first_core for o in outcomes]]
    when.append([o.all_core for o in outcomes])
    shares = f"{statistics.fmean(o.new for o in outcomes):7.2f}{statistics.fmean(o.right for o in outcomes):7.2f}"
    dry, minutes = sum(o.nothing_new for o in outcomes), statistics.fmean(o.minutes for o in outcomes)
    return f"  {name:<12}{ready}{''.join(f'{_shown(w):>9}' for w in when)}{shares}{dry:6}{minutes:7.0f}"


def head(days: Sequence[int]) -> str:
    """The heading of the table."""
    ready = "".join(f"{f'day {day}':>16}" for day in days)
    return (
        f"  {'keys ready':<12}{ready}"
        + "".join(f"{word:>9}" for word in ("to 12", "to 24", "core", "all core"))
        + (f"{'new':>7}{'right':>7}{'dry':>6}{'min':>7}")
    )


def behind(kind: str, table: dict[str, list[Outcome]], days: Sequence[int]) -> list[str]:
    """Where a rival has more keys ready than the program, or is sooner at 12 or 24, by more than two keys' spread."""
    said, last = [], max(days) + 1
    for rival, outcomes in table.items():
        if rival == OURS:
            continue
        for field_name, slack in (("twelve", 1), ("all_keys", 2)):
            gaps = [
                (getattr(a, field_name) or last) - (getattr(b, field_name) or last)
                for a, b in zip(table[OURS], outcomes, strict=True)
            ]
            if statistics.fmean(gaps) > slack:
                said.append(f"{kind}: {field_name} {statistics.fmean(gaps):+.1f} days against {rival}")
        for day in days:
            gap = statistics.fmean(b.ready[day] - a.ready[day] for a, b in zip(table[OURS], outcomes, strict=True))
            if gap > 2:
                said.append(f"{kind}: day {day} has {gap:.1f} keys fewer than {rival}")
    return said


def _job(job: tuple[str, str, tuple[int, ...], int, Mind | None]) -> Outcome:
    kind, name, days, seed, mind = job
    return run(reasoner(mind) if mind else KINDS[kind], name, days, seed)


def vary(
    kinds: Sequence[str], wanted: Sequence[str], days: tuple[int, ...], seeds: int, pool: ProcessPoolExecutor
) -> None:
    """Print the keys ready for minds that have one constant 30 % smaller or larger."""
    for kind in (kind for kind in kinds if kind in MINDS):
        for each in fields(Mind):
            value = getattr(MINDS[kind], each.name)
            if not value or (wanted != ["all"] and each.name not in wanted):
                continue
            for factor in (0.7, 1.3):
                most = 1.0 if each.name in ("careful", "rules", "insight", "recalled") else 1e9
                mind = replace(MINDS[kind], **{each.name: min(value * factor, most)})
                jobs = [(kind, OURS, days, seed, mind) for seed in range(seeds)]
                print(line(f"{each.name} x {factor}", list(pool.map(_job, jobs)), days), kind)
                sys.stdout.flush()


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Compare ways of choosing cards on made-up learners.")
    parser.add_argument("--quick", action="store_true", help="three kinds, 30 days, two seeds")
    parser.add_argument("--days", type=int, nargs="+", default=None)
    parser.add_argument("--seeds", type=int, default=None)
    parser.add_argument("--learner", nargs="+", choices=list(KINDS), default=None)
    parser.add_argument("--only", nargs="+", choices=list(ALL), default=list(ALL), help="these schedulers")
    parser.add_argument("--vary", nargs="+", metavar="FIELD", help="constants of the learners to vary, or all")
    chosen = parser.parse_args(arguments)
    days = tuple(chosen.days or ((7, 14, 30) if chosen.quick else DAYS))
    seeds = chosen.seeds or (2 if chosen.quick else 4)
    kinds = chosen.learner or (QUICK if chosen.quick else list(KINDS))
    print(f"{len(items())} cards, {len(keys())} keys, five minutes a day, {seeds} seeds")
    started, said = time.perf_counter(), []
    with ProcessPoolExecutor(PROCESSES) as pool:
        if chosen.vary:
            print(head(days))
            vary(kinds, chosen.vary, days, seeds, pool)
            return 0
        for kind in kinds:
            jobs = [(kind, name, days, seed, None) for name in chosen.only for seed in range(seeds)]
            outcomes = list(pool.map(_job, jobs))
            table = {name: outcomes[n * seeds : (n + 1) * seeds] for n, name in enumerate(chosen.only)}
            print(f"{kind}\n{head(days)}")
            for name in chosen.only:
                print(line(name, table[name], days))
            sys.stdout.flush()
            said += behind(kind, table, days) if OURS in table else []
    print(f"took {time.perf_counter() - started:.0f} s")
    print("Behind a rival:" if said else "Behind no rival.")
    for each in said:
        print("  " + each)
    return 0


if __name__ == "__main__":
    sys.exit(main())
