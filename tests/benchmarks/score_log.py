"""Score a log of real learners: does the program know what they know?

    python tests/benchmarks/score_log.py LOG.csv [--out PREDICTIONS.csv]

LOG.csv has the columns learner,card,t,kind,right,thinking_s: t in seconds from any origin per learner; kind "asked" or
"shown"; right 0 or 1, empty for shown; thinking_s in seconds to the first key, or empty. Every learner starts as a new
learner of the program does, and each asked row whose card was met before is predicted from that learner's earlier rows
alone, by the very code the program runs. Simple rivals are fitted on the other half of the learners.

The first table scores the chance of a right answer, on all rows and on parts of them in which a learner is less known;
the second the chance of one within a limit of seconds to the first key, as far as times were measured. Then come how
far off the 62 group means of Cepeda et al. the model is, with its threshold and slope free for each material, and how
many right answers lowered the strength of their card. Behind a figure stands the most that it should be on the open
set of timed practice that the constants were looked at with.

With --out the rows are written back with `strength` (chance of a right answer), `speed_s` (expected thinking_s) and the
chances of a right answer within each limit, empty where nothing is predicted.
"""

from __future__ import annotations

import argparse
import csv
import math
import sys
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import checkout  # noqa: F401  puts the checkout on the path, so that no installation is needed
from rivals import LOGISTIC, History, chance, fit_half_life, fit_logistic, half_life_chance, log_loss

from drill.errors import BadFile, FretsureError
from drill.memory import Attempt, Item, Learner, calibration_error
from tests.memory.experiments import points_off_cepeda
from tests.support.equal_count import equal_count_bins

COLUMNS = ("learner", "card", "t", "kind", "right", "thinking_s")
LIMITS_S = (2.0, 3.0)
FIRST = 40
"""So many answers of a learner are the first."""
SESSION_S = 1800.0
"""A pause that ends the first session."""
WAITS_S = (1.0, 3600.0, 86_400.0, 30 * 86_400.0)
"""After these the strengths before and after a right answer are compared."""
Pairs = list[tuple[float, int]]
"""(chance, outcome) of every row that is scored."""


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the log; `line` counts from 0, in the order of the file."""

    line: int
    learner: str
    card: str
    t: float
    right: bool | None
    thinking_s: float | None


@dataclass(frozen=True, slots=True)
class Prediction:
    """What was predicted for a row, and the history it was predicted from (for the rivals)."""

    row: Row
    strength: float
    speed_s: float
    within: tuple[float, ...]
    """The chances that it comes right within each of LIMITS_S."""
    history: History
    answers: int
    """How many answers the learner had given before."""
    in_first_session: bool
    lowered: bool
    """Whether a right answer lowered the strength of its card at any of WAITS_S."""

    @property
    def came(self) -> int:
        """Whether it came right."""
        return int(bool(self.row.right))

    def came_within(self, limit_s: float) -> int | None:
        """Whether it came right within so many seconds, None if that was not measured."""
        if not self.row.right:
            return 0
        return None if self.row.thinking_s is None else int(self.row.thinking_s <= limit_s)


def read_log(path: Path) -> list[Row]:
    """The rows of the log; BadFile names the line and the field of the first mistake."""
    try:
        with path.open(newline="", encoding="utf-8-sig") as stream:
            table = csv.DictReader(stream)
            missing = [c for c in COLUMNS if c not in (table.fieldnames or ())]
            if missing:
                raise BadFile(str(path), missing[0], "the column is missing", f"The columns are {', '.join(COLUMNS)}.")
            return [parse(path, line, record) for line, record in enumerate(table)]
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise BadFile(str(path), "", f"cannot be read ({error})", "Give a CSV file in UTF-8.") from error


def parse(path: Path, line: int, record: dict[str, str | None]) -> Row:
    """One record of the CSV as a Row."""

    def bad(field: str, want: str) -> BadFile:
        return BadFile(str(path), f"line {line + 2}, {field}", f"“{record.get(field)}” is not {want}")

    def number(field: str) -> float:
        try:
            value = float(record[field] or "")
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            raise bad(field, "a number of seconds")
        return value

    if record["kind"] not in ("asked", "shown"):
        raise bad("kind", "“asked” or “shown”")
    if record["kind"] == "asked" and record["right"] not in ("0", "1"):
        raise bad("right", "0 or 1")
    right = record["right"] == "1" if record["kind"] == "asked" else None
    thinking = number("thinking_s") if record["thinking_s"] else None
    return Row(line, record["learner"] or "", record["card"] or "", number("t"), right, thinking)


def predict(rows: Sequence[Row]) -> list[Prediction]:
    """Predictions for one learner's rows, each from the rows before it."""
    learner, seen, out = Learner(), dict[str, History](), list[Prediction]()
    answers, last_s, in_first_session = 0, math.inf, True
    for row in sorted(rows, key=lambda row: (row.t, row.line)):
        item, attempt = Item(row.card), Attempt(row.card, row.t, row.right, row.thinking_s)
        past = seen.get(row.card, History((), 0, 0, 0, row.t))
        in_first_session = in_first_session and row.t - last_s <= SESSION_S
        told = told_of(learner, item, row.t) if past.times and row.right is not None else None
        lowered = observe(learner, item, attempt)
        if told:
            now = past._replace(now=row.t)
            out.append(Prediction(row, *told, now, answers, in_first_session, lowered))
        answers, last_s = answers + (row.right is not None), row.t
        seen[row.card] = past.after(row.t, row.right)
    return out


def told_of(learner: Learner, item: Item, now_s: float) -> tuple[float, float, tuple[float, ...]]:
    """Chance of a right answer, expected time to the first key, and chances of a right answer within LIMITS_S."""
    strength = learner.strength(item, now_s)
    limits = map(learner.net_thinking, LIMITS_S)
    coldness = learner.coldness(item, now_s)
    within = tuple(strength * learner.in_time(item, strength, limit_s, coldness) for limit_s in limits)
    return strength, learner.speed(item, now_s) + learner.key_press_s, within


def observe(learner: Learner, item: Item, attempt: Attempt) -> bool:
    """Learn from an attempt; returns whether it was a right answer that lowered the strength of its card."""
    moments = [attempt.at_s + wait for wait in WAITS_S] if attempt.right else []
    before = [learner.strength(item, moment) for moment in moments]
    learner.observe(item, attempt)
    return any(learner.strength(item, moment) < was - 1e-12 for moment, was in zip(moments, before, strict=True))


def by_learner(rows: Sequence[Row]) -> dict[str, list[Row]]:
    """The rows of each learner, learners in the order in which they appear."""
    grouped: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        grouped[row.learner].append(row)
    return grouped


def rival_pairs(
    halves: Sequence[Sequence[Prediction]], outcome: Callable[[Prediction], int], names: Iterable[str] = LOGISTIC
) -> dict[str, Pairs]:
    """The pairs of the rivals `names`, each half of the learners predicted with weights of the other half."""
    pairs: dict[str, Pairs] = defaultdict(list)
    for train, test in ((halves[0], halves[1]), (halves[1], halves[0])):
        learn = train or test
        outcomes = [outcome(p) for p in learn]
        for name in names:
            features = LOGISTIC[name]
            weights = fit_logistic([features(p.history) for p in learn], outcomes)
            pairs[name] += [(chance(weights, features(p.history)), outcome(p)) for p in test]
    return pairs


def half_life_pairs(halves: Sequence[Sequence[Prediction]]) -> Pairs:
    """The same for exponential forgetting."""
    pairs: Pairs = []
    for train, test in ((halves[0], halves[1]), (halves[1], halves[0])):
        learn = train or test
        weights = fit_half_life([p.history for p in learn], [p.came for p in learn])
        pairs += [(half_life_chance(weights, p.history), p.came) for p in test]
    return pairs


def area_under_curve(pairs: Sequence[tuple[float, int]]) -> float:
    """Chance that a right answer was given a higher chance than a wrong one (ties count half); nan without both."""
    ordered = sorted(pairs)
    right = sum(y for _, y in ordered)
    wrong = len(ordered) - right
    rank_sum, i = 0.0, 0
    while i < len(ordered):
        j = i
        while j < len(ordered) and ordered[j][0] == ordered[i][0]:
            j += 1
        rank_sum += (i + j + 1) / 2 * sum(y for _, y in ordered[i:j])
        i = j
    return (rank_sum - right * (right + 1) / 2) / (right * wrong) if right and wrong else math.nan


def scores(name: str, pairs: Sequence[tuple[float, int]], wanted: str = "") -> str:
    """One line of the table."""
    brier = sum((p - y) ** 2 for p, y in pairs) / len(pairs)
    error = calibration_error(equal_count_bins((p, bool(y)) for p, y in pairs))
    line = f"{name:<28}{log_loss(pairs):>10.4f}{brier:>9.4f}{area_under_curve(pairs):>8.4f}{error:>13.4f}"
    return f"{line}   {wanted}".rstrip()


def speed_line(predictions: Sequence[Prediction]) -> str:
    """How well the thinking times of right answers were foretold, on the scale of natural logs."""
    both = [
        (math.log(p.speed_s), math.log(p.row.thinking_s))
        for p in predictions
        if p.row.right and p.row.thinking_s and 0.2 <= p.row.thinking_s <= 30
    ]
    if len(both) < 3:
        return "speed: too few thinking times to say"
    n = len(both)
    mx, my = sum(x for x, _ in both) / n, sum(y for _, y in both) / n
    sxx, syy = sum((x - mx) ** 2 for x, _ in both), sum((y - my) ** 2 for _, y in both)
    r = sum((x - mx) * (y - my) for x, y in both) / math.sqrt(sxx * syy) if sxx and syy else math.nan
    off = math.sqrt(sum((x - y) ** 2 for x, y in both) / n)
    return f"speed of {n} right answers: correlation {r:.3f}, typical error {off:.3f} (ln seconds), bias {mx - my:+.3f}"


def strength_lines(halves: Sequence[Sequence[Prediction]]) -> list[str]:
    """The table of the chance of a right answer."""
    predictions = [p for half in halves for p in half]
    parts = {
        "  one half of the people": halves[0],
        "  the other half": halves[1],
        f"  first {FIRST} answers": [p for p in predictions if p.answers < FIRST],
        "  first session": [p for p in predictions if p.in_first_session],
        "  met for the 2nd time": [p for p in predictions if len(p.history.times) == 1],
        "  missed before": [p for p in predictions if p.history.wrong],
    }
    rivals = rival_pairs(halves, lambda p: p.came) | {"exponential half-life": half_life_pairs(halves)}
    return [
        f"{'right':<28}{'log loss':>10}{'Brier':>9}{'AUC':>8}{'calibration':>13}",
        scores("fretsure", [(p.strength, p.came) for p in predictions], "at most .488, .02"),
        *(scores(name, [(p.strength, p.came) for p in part]) for name, part in parts.items() if part),
        *(scores(name, pairs) for name, pairs in rivals.items()),
    ]


def in_time_lines(halves: Sequence[Sequence[Prediction]], number: int) -> list[str]:
    """The table of the chance of a right answer within LIMITS_S[number]."""
    limit_s = LIMITS_S[number]
    timed = [[p for p in half if p.came_within(limit_s) is not None] for half in halves]
    rivals = rival_pairs(timed, lambda p: p.came_within(limit_s) or 0, ("constant", "counts + ln time since"))
    ours = [(p.within[number], p.came_within(limit_s) or 0) for half in timed for p in half]
    return [
        f"right within {limit_s:.0f} s",
        scores(f"fretsure, {limit_s:.0f} s", ours, "less than the constant, .04"),
        *(scores(f"{name}, {limit_s:.0f} s", pairs) for name, pairs in rivals.items()),
    ]


def law_lines(predictions: Sequence[Prediction]) -> list[str]:
    """What holds whatever the log: published group means, and that a right answer never lowers strength."""
    count, off = points_off_cepeda()
    lowered, right = sum(p.lowered for p in predictions), sum(p.came for p in predictions)
    return [
        f"{count} group means of Cepeda et al. 2008 and 2009: off by {off:.1f} points (RMSE)   at most 5.5",
        f"right answers that lowered the strength of their card: {lowered} of {right}   none",
    ]


def write_out(path: Path, source: Path, predictions: Sequence[Prediction]) -> None:
    """The rows of `source` with the columns strength, speed_s, and one for each limit."""
    limits = [f"within_{limit_s:.0f}s" for limit_s in LIMITS_S]
    told = {p.row.line: p for p in predictions}
    with source.open(newline="", encoding="utf-8-sig") as lines, path.open("w", newline="", encoding="utf-8") as out:
        table = csv.DictReader(lines)
        writer = csv.DictWriter(out, [*(table.fieldnames or ()), "strength", "speed_s", *limits], extrasaction="ignore")
        writer.writeheader()
        for line, record in enumerate(table):
            p = told.get(line)
            record["strength"], record["speed_s"] = (f"{p.strength:.6f}", f"{p.speed_s:.4f}") if p else ("", "")
            record |= {name: f"{p.within[k]:.6f}" if p else "" for k, name in enumerate(limits)}
            writer.writerow(record)


def report(rows: Sequence[Row], groups: Sequence[Sequence[Prediction]]) -> str:
    """The whole table as text."""
    predictions = [p for group in groups for p in group]
    if not predictions:
        return "No asked row has a card that its learner had met before: nothing to predict."
    halves = [[p for group in groups[k::2] for p in group] for k in (0, 1)]
    lines = [
        f"{len(rows)} rows, {len(groups)} learners, {len(predictions)} predictions",
        *strength_lines(halves),
        *(line for number in range(len(LIMITS_S)) for line in in_time_lines(halves, number)),
        *law_lines(predictions),
        speed_line(predictions),
    ]
    return "\n".join(lines)


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Score a log of real learners.")
    parser.add_argument("log", type=Path, metavar="LOG.csv")
    parser.add_argument("--out", type=Path, metavar="PREDICTIONS.csv", help="write the rows with what was predicted")
    chosen = parser.parse_args(arguments)
    try:
        rows = read_log(chosen.log)
        groups = [predict(group) for group in by_learner(rows).values()]
        if chosen.out:
            write_out(chosen.out, chosen.log, [p for group in groups for p in group])
    except FretsureError as error:
        print(error, file=sys.stderr)
        return error.exit_code
    except OSError as error:
        print(f"{chosen.out} cannot be written ({error.strerror}). Choose another place.", file=sys.stderr)
        return 73
    print(report(rows, groups))
    return 0


if __name__ == "__main__":
    sys.exit(main())
