"""Score a log of real learners: does the program know what they know?

    python tests/benchmarks/score_log.py LOG.csv [--out PREDICTIONS.csv]

LOG.csv has the columns learner,card,t,kind,right,thinking_s: t in seconds from any origin per learner; kind "asked" or
"shown"; right 0 or 1, empty for shown; thinking_s in seconds to the first key, or empty. Every learner starts as a new
learner of the program does, and each asked row whose card was met before is predicted from that learner's earlier rows
alone, by the very code the program runs. Simple rivals are fitted on the other half of the learners. With --out the
rows are written back with `strength` (chance of a right answer) and `speed_s` (expected thinking_s), empty where
nothing is predicted.
"""

from __future__ import annotations

import argparse
import csv
import math
import sys
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import checkout  # noqa: F401  puts the checkout on the path, so that no installation is needed
from rivals import LOGISTIC, History, chance, fit_half_life, fit_logistic, half_life_chance, log_loss

from drill.errors import BadFile, FretsureError
from drill.memory import Attempt, Item, Learner, calibration_error
from tests.support.equal_count import equal_count_bins

COLUMNS = ("learner", "card", "t", "kind", "right", "thinking_s")


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
    history: History


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
    learner = Learner()
    seen: dict[str, History] = {}
    out = []
    for row in sorted(rows, key=lambda row: (row.t, row.line)):
        item = Item(row.card)
        past = seen.get(row.card, History((), 0, 0, 0, row.t))
        if past.times and row.right is not None:
            speed = learner.speed(item, row.t) + learner.key_press_s
            now = History(past.times, past.right, past.wrong, past.shown, row.t)
            out.append(Prediction(row, learner.strength(item, row.t), speed, now))
        learner.observe(item, Attempt(row.card, row.t, row.right, row.thinking_s))
        seen[row.card] = History(
            (*past.times, row.t),
            past.right + (row.right is True),
            past.wrong + (row.right is False),
            past.shown + (row.right is None),
            row.t,
        )
    return out


def by_learner(rows: Sequence[Row]) -> dict[str, list[Row]]:
    """The rows of each learner, learners in the order in which they appear."""
    grouped: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        grouped[row.learner].append(row)
    return grouped


def rival_pairs(halves: Sequence[Sequence[Prediction]]) -> dict[str, list[tuple[float, int]]]:
    """(chance, outcome) pairs of every rival, each half of the learners predicted with weights of the other half."""
    pairs: dict[str, list[tuple[float, int]]] = defaultdict(list)
    for train, test in ((halves[0], halves[1]), (halves[1], halves[0])):
        learn, score = train or test, test
        outcomes = [int(bool(p.row.right)) for p in learn]
        for name, features in LOGISTIC.items():
            weights = fit_logistic([features(p.history) for p in learn], outcomes)
            pairs[name] += [(chance(weights, features(p.history)), int(bool(p.row.right))) for p in score]
        weights = fit_half_life([p.history for p in learn], outcomes)
        pairs["exponential half-life"] += [
            (half_life_chance(weights, p.history), int(bool(p.row.right))) for p in score
        ]
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


def scores(name: str, pairs: Sequence[tuple[float, int]]) -> str:
    """One line of the table."""
    brier = sum((p - y) ** 2 for p, y in pairs) / len(pairs)
    error = calibration_error(equal_count_bins((p, bool(y)) for p, y in pairs))
    return f"{name:<24}{log_loss(pairs):>10.4f}{brier:>9.4f}{area_under_curve(pairs):>8.4f}{error:>13.4f}"


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


def write_out(path: Path, source: Path, predictions: Sequence[Prediction]) -> None:
    """The rows of `source` with the columns strength and speed_s."""
    told = {p.row.line: p for p in predictions}
    with source.open(newline="", encoding="utf-8-sig") as lines, path.open("w", newline="", encoding="utf-8") as out:
        table = csv.DictReader(lines)
        writer = csv.DictWriter(out, [*(table.fieldnames or ()), "strength", "speed_s"], extrasaction="ignore")
        writer.writeheader()
        for line, record in enumerate(table):
            p = told.get(line)
            record["strength"], record["speed_s"] = (f"{p.strength:.6f}", f"{p.speed_s:.4f}") if p else ("", "")
            writer.writerow(record)


def report(rows: Sequence[Row], groups: Sequence[Sequence[Prediction]]) -> str:
    """The whole table as text."""
    predictions = [p for group in groups for p in group]
    if not predictions:
        return "No asked row has a card that its learner had met before: nothing to predict."
    halves = [[p for group in groups[k::2] for p in group] for k in (0, 1)]
    lines = [
        f"{len(rows)} rows, {len(groups)} learners, {len(predictions)} predictions",
        f"{'':<24}{'log loss':>10}{'Brier':>9}{'AUC':>8}{'calibration':>13}",
        scores("fretsure", [(p.strength, int(bool(p.row.right))) for p in predictions]),
        *(scores(name, pairs) for name, pairs in rival_pairs(halves).items()),
        speed_line(predictions),
    ]
    return "\n".join(lines)


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description="Score a log of real learners.")
    parser.add_argument("log", type=Path, metavar="LOG.csv")
    parser.add_argument("--out", type=Path, metavar="PREDICTIONS.csv", help="write the rows with strength and speed_s")
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
