"""The benchmark scripts run from the command line, say what is wrong with a log, and predict from the past alone."""

import csv
import re
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from drill.memory import Item
from tests.support.simulated import HalfLife, SimulatedLearner, Temper

BENCHMARKS = Path(__file__).parents[1] / "benchmarks"
COLUMNS = ["learner", "card", "t", "kind", "right", "thinking_s"]


def run(script, *arguments):
    return subprocess.run(
        [sys.executable, BENCHMARKS / script, *map(str, arguments)], capture_output=True, text=True, check=False
    )


def write(path, rows):
    with path.open("w", newline="", encoding="utf-8") as stream:
        csv.writer(stream).writerows([COLUMNS, *rows])
    return path


def read(path):
    with path.open(newline="", encoding="utf-8") as stream:
        return list(csv.DictReader(stream))


def made_up_log(learners=6, answers=80):
    source, rows = Random(7), []
    for name in range(learners):
        learner = SimulatedLearner(HalfLife, Temper(), source)
        items, now = [Item(f"card {k}") for k in range(8)], 1e9
        rows.append([name, "card 0", now - 60, "shown", "", ""])
        for k in range(answers):
            attempt = learner.answer(items[source.randrange(1 + min(7, k // 5))], now)
            rows.append([name, attempt.card, now, "asked", int(bool(attempt.right)), round(attempt.thinking_s or 0, 3)])
            now = attempt.at_s + (40_000 if k % 20 == 19 else 5)
    return rows


@pytest.fixture(scope="module")
def scored(tmp_path_factory):
    folder = tmp_path_factory.mktemp("scored")
    log = write(folder / "log.csv", made_up_log())
    return run("score_log.py", log, "--out", folder / "out.csv"), read(log), read(folder / "out.csv")


def figures(line, name):
    """Log loss, Brier score, area under the curve and calibration error; what is wanted stands behind them."""
    return [float(figure) for figure in line.removeprefix(name).split()[:4]]


@pytest.mark.long
def test_a_log_is_scored_against_the_rivals(scored):
    result, _, _ = scored
    assert result.returncode == 0, result.stderr
    lines = result.stdout.splitlines()
    names = ["fretsure", "constant", "success counts", "counts + ln time since", "plain ACT-R", "exponential half-life"]
    names += [f"{name}, {limit} s" for name in ("fretsure", "constant", "counts + ln time since") for limit in (2, 3)]
    table = {name: figures(line, name) for name in names for line in lines if line.startswith(f"{name}  ")}
    assert set(table) == set(names)
    assert all(len(figures) == 4 for figures in table.values())
    assert table["fretsure"][0] < table["constant"][0]
    assert table["constant"][2] == pytest.approx(0.5, abs=0.1)
    [cepeda] = [line for line in lines if line.startswith("62 group means of Cepeda")]
    assert 0 < float(re.search(r"off by ([\d.]+) points", cepeda)[1]) <= 5.5
    assert any(line.startswith("right answers that lowered the strength of their card: 0 of ") for line in lines)
    assert lines[-1].startswith("speed of ")


@pytest.mark.long
def test_predictions_are_written_beside_the_rows_they_are_for(scored):
    _, log, out = scored
    assert [{c: row[c] for c in COLUMNS} for row in out] == log
    met = set()
    for row in out:
        key = row["learner"], row["card"]
        expected = row["kind"] == "asked" and key in met
        assert bool(row["strength"]) == bool(row["speed_s"]) == expected
        if expected:
            assert 0 < float(row["strength"]) < 1
            assert 0 < float(row["speed_s"]) < 60
            assert 0 < float(row["within_2s"]) < float(row["within_3s"]) < float(row["strength"])
        met.add(key)


@pytest.mark.long
def test_nothing_is_predicted_from_what_comes_later(scored, tmp_path):
    _, log, out = scored
    half = len(log) // 2
    changed = [[row[c] for c in COLUMNS] for row in log]
    for row in changed[half:]:
        if row[3] == "asked":
            row[4], row[5] = str(1 - int(row[4])), "9.9"
    write(tmp_path / "log.csv", changed)
    assert run("score_log.py", tmp_path / "log.csv", "--out", tmp_path / "out.csv").returncode == 0
    again = read(tmp_path / "out.csv")
    told = [[row["strength"] for row in rows] for rows in (out, again)]
    assert told[0][: half + 1] == told[1][: half + 1]
    assert told[0] != told[1]


@pytest.mark.long(but=1)
@pytest.mark.parametrize(
    ("row", "said"),
    [
        (["a", "x", "soon", "asked", "1", "2"], "line 2, t: “soon”"),
        (["a", "x", "nan", "asked", "1", "2"], "line 2, t: “nan”"),
        (["a", "x", "1", "guessed", "1", "2"], "line 2, kind: “guessed”"),
        (["a", "x", "1", "asked", "", "2"], "line 2, right: “”"),
        (["a", "x", "1", "asked", "1", "long"], "line 2, thinking_s: “long”"),
        (["a", "x", "1"], "line 2, kind"),
    ],
)
def test_a_mistake_in_a_log_is_named(row, said, tmp_path):
    result = run("score_log.py", write(tmp_path / "log.csv", [row]))
    assert result.returncode == 65
    assert said in result.stderr
    assert "Traceback" not in result.stderr


@pytest.mark.long
def test_a_log_that_is_missing_or_lacks_a_column_is_named(tmp_path):
    missing = run("score_log.py", tmp_path / "none.csv")
    assert (missing.returncode, "none.csv" in missing.stderr) == (65, True)
    (tmp_path / "short.csv").write_text("learner,card\n", encoding="utf-8")
    short = run("score_log.py", tmp_path / "short.csv")
    assert (short.returncode, "short.csv, t: the column is missing" in short.stderr) == (65, True)


def test_a_log_with_nothing_to_predict_says_so(tmp_path):
    result = run("score_log.py", write(tmp_path / "log.csv", [["a", "x", 1, "asked", 1, ""]]))
    assert (result.returncode, "nothing to predict" in result.stdout) == (0, True)


@pytest.mark.long
def test_the_schedulers_are_compared():
    result = run("scheduler.py", "--days", 1, 2, "--seeds", 2, "--learner", "understands", "correcting, slow")
    assert result.returncode == 0, result.stderr
    for name in ("fretsure", "old order", "random", "doubling", "five boxes", "worst first"):
        assert result.stdout.count(f"  {name} ") == 2
    assert "understands\n" in result.stdout
    assert "day 2" in result.stdout
    assert "Behind" in result.stdout
