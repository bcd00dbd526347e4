"""Exports read by pandas and SQLite: `python -m pytest tests/export/read_by_pandas.py`, where pandas is installed.

It is not installed beside the other tests, for `sqlite_utils` imports pandas wherever it finds it: each program that a
test starts would take twice as long.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pandas
import pytest

from drill.classroom.columns import TABLES
from drill.cli.main import main
from drill.system.environment import Environment
from tests.export.conftest import exported, resources
from tests.export.test_identity import drilled


def test_pandas_and_sqlite_read_the_same_rows(each_export: Path) -> None:
    for name, described in resources(each_export).items():
        text = pandas.read_csv(each_export / described["path"], dtype=str, keep_default_na=False)
        fields = [field["name"] for field in described["schema"]["fields"]]
        assert list(text.columns) == fields
        with closing(sqlite3.connect(":memory:")) as db:
            text.to_sql(name, db, index=False)
            counted = db.execute(f"SELECT count(*), count(DISTINCT {described['schema']['primaryKey']}) FROM {name}")
            assert counted.fetchone() == (len(text), len(text)), name


def test_pandas_reads_types_without_being_told(package: Path) -> None:
    answers = pandas.read_csv(package / "attempts.csv", parse_dates=["asked_at", "answered_at"])
    assert str(answers["asked_at"].dt.tz) == "UTC"
    assert ((answers["answered_at"] - answers["asked_at"]).dt.total_seconds() >= 0).all()
    cards = pandas.read_csv(package / "cards.csv")
    joined = answers.merge(cards, on="card", validate="many_to_one")
    assert len(joined) == len(answers)
    asked = joined[joined["kind"] == "asked"].groupby("card").size()
    assert asked.to_dict() == cards[cards["asked"] > 0].set_index("card")["asked"].to_dict()


def test_the_tables_of_a_class_are_read_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("=Ana", 'Ben, "B"'):
        exported(drilled(tmp_path / name[1:4], 1, 2, drill=name, name=name), tmp_path / "class" / name[1:4])
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    assert main(["class", str(tmp_path / "class"), "--csv", str(tmp_path / "csv")]) == 0
    capsys.readouterr()
    for table in TABLES:
        read = pandas.read_csv(tmp_path / "csv" / table.file)
        assert len(read.columns) == len(table.columns)
    students = pandas.read_csv(tmp_path / "csv" / "students.csv")
    assert sorted(students["student"]) == ["'=Ana", 'Ben, "B"']


def test_the_record_itself_is_read_with_pandas(invented: Environment) -> None:
    with closing(sqlite3.connect(f"file:{invented.record_path}?mode=ro", uri=True)) as db:
        answers = pandas.read_sql("SELECT * FROM answers", db, parse_dates=["asked_at", "day"])
    assert str(answers["asked_at"].dt.tz) == "UTC"
    assert answers["asked_at"].is_monotonic_increasing
