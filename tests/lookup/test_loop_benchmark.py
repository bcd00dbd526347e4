"""The benchmark of loops runs from the command line and counts as a hand does; its fit finds what the loops say."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

SCRIPT = Path(__file__).parents[1] / "benchmarks" / "loops.py"
LOOPS = """chords\tkey\tsong
C F G\tC major\ta
Am G F E\tA minor\ta
Am Dm Em\tC major\tb
D C G\tG major\tc
F G\tC major\td
"""
SUFFIXES = "suffix\tcount\n\t90\nm7\t6\n7b9#11\t3\nfoo\t1\n"


def run(folder: Path, *options: str) -> subprocess.CompletedProcess[str]:
    (folder / "loops.tsv").write_text(LOOPS, encoding="utf-8")
    (folder / "suffixes.tsv").write_text(SUFFIXES, encoding="utf-8")
    return subprocess.run(
        [sys.executable, SCRIPT, folder / "loops.tsv", *options],
        capture_output=True,
        text=True,
        cwd=folder,
        check=False,
    )


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    done = run(tmp_path_factory.mktemp("loops"), "--suffixes", "suffixes.tsv")
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def figures(printed: list[str], name: str) -> list[float]:
    row = next(line for line in printed if line.startswith(name))
    return [float(word) for word in row[16:].split()]


def test_the_program_and_its_rivals_are_counted_alike(printed: list[str]) -> None:
    """Flat statements: C major and A minor right, A minor (for i iv v) wrong; D C G and F G are open."""
    first, listed, per_loop, flat, right = figures(printed, "fretsure")
    assert (first, listed, per_loop, flat) == (0.6, 0.8, 1.4, 3)
    assert right == pytest.approx(2 / 3, abs=0.001)
    assert figures(printed, "first chord") == [0.4, 0.4, 1.0, 5, 0.4]
    assert figures(printed, "most diatonic")[0] >= 0.4
    assert figures(printed, "by note counts")[3] == 5


def test_the_chord_of_rest_is_told_where_the_loop_holds_it(printed: list[str]) -> None:
    assert "told the chord of rest: 1.000 of 3 loops" in printed


def test_symbols_are_weighed_by_how_often_they_occur(printed: list[str]) -> None:
    assert "100 chord symbols: 1 unread, 3 read in part" in printed


def test_a_file_that_is_no_table_is_said(tmp_path: Path) -> None:
    done = run(tmp_path, "--suffixes", "absent.tsv")
    assert done.returncode == 65
    assert "absent.tsv" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.long
def test_a_fit_finds_what_the_loops_say(tmp_path: Path) -> None:
    pytest.importorskip("numpy")
    done = run(tmp_path, "--fit")
    assert done.returncode == 0, done.stderr
    rows = {line[:20].strip(): line[20:].split() for line in done.stdout.splitlines() if line.count(".") == 2}
    assert float(rows["own chords"][1]) > 0 > float(rows["far"][1])
