"""Exports read by programs that know nothing of ours: frictionless checks, pandas and SQLite take the tables in."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pandas
import pytest
from frictionless import validate

from drill.classroom.columns import TABLES
from drill.cli.main import main
from drill.record import Record
from drill.system.environment import Environment
from tests.export.conftest import DRILL, attempt, exported, world
from tests.export.test_identity import drilled

HOSTILE = (
    "=1+1",
    'a,b\r\n"c"',
    "'quoted'",
    "\x1b[2J",
    "<b>&",
    "; DROP TABLE attempts",
    "é ♭ 🎸",
    "\u202eabc",
    "NA",
    "1e5",
)


@pytest.fixture(scope="module")
def nasty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The export of a learner whose answers and mix-ups hold whatever a file could trip over."""
    folder = tmp_path_factory.mktemp("nasty")
    here = world(folder)
    with Record.open(here.record_path, here.now) as record:
        record.start_drill(DRILL)
        for number, text in enumerate(HOSTILE):
            record.append(attempt(number, given=text, mixup=text, correct=False, deck=text))
        record.append(attempt(50, card="no-such-family:x=1", family="no-such-family"))
        record.append(attempt(51, kind="shown", given="", correct=None, thinking_ms=None))
        record.call('=Ana, "the" 1st')
    return exported(here, folder / "export")


@pytest.fixture(params=["of three months", "hostile", "empty"])
def export(request: pytest.FixtureRequest, package: Path, nasty: Path, tmp_path: Path) -> Path:
    if request.param == "empty":
        return exported(world(tmp_path / "home"), tmp_path / "export")
    return package if request.param == "of three months" else nasty


def resources(export: Path) -> dict[str, dict[str, Any]]:
    return {each["name"]: each for each in json.loads((export / "datapackage.json").read_text())["resources"]}


def test_frictionless_finds_the_package_valid(export: Path) -> None:
    """It checks sizes, hashes, types, required values, choices, primary and foreign keys."""
    found = validate(str(export / "datapackage.json"))
    assert found.valid, found.flatten(["type", "message"])
    assert [task.name for task in found.tasks] == list(resources(export))


@pytest.mark.parametrize(
    ("old", "new", "error"),
    [
        ("shape-anchor:key=Am:", "shape-anchor:key=Hm:", "foreign-key"),
        (",asked,", ",guessed,", "constraint-error"),
        (",true,", ",perhaps,", "type-error"),
        ("2026-", "2O26-", "type-error"),
    ],
)
def test_frictionless_finds_what_the_schema_does_not_allow(
    old: str, new: str, error: str, package: Path, tmp_path: Path
) -> None:
    """So the schema says enough: links to cards, choices, types."""
    described = json.loads((package / "datapackage.json").read_text())
    for each in described["resources"]:
        text = (package / each["path"]).read_bytes().decode()
        changed = text.replace(old, new, 1) if each["name"] == "attempts" else text
        assert changed != text or each["name"] != "attempts"
        (tmp_path / each["path"]).write_bytes(changed.encode())
        del each["bytes"], each["hash"]
    (tmp_path / "datapackage.json").write_text(json.dumps(described))
    found = validate(str(tmp_path / "datapackage.json"), limit_errors=5)
    assert error in {kind for (kind,) in found.flatten(["type"])}


def test_frictionless_finds_what_was_changed_afterwards(package: Path, tmp_path: Path) -> None:
    for path in package.iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    with (tmp_path / "days.csv").open("ab") as file:
        file.write(b"2031-01-01,1,1,1,1,1,1\r\n")
    found = validate(str(tmp_path / "datapackage.json"))
    assert {"hash-count", "byte-count"} <= {kind for (kind,) in found.flatten(["type"])}


def test_pandas_and_sqlite_read_the_same_rows(export: Path) -> None:
    for name, described in resources(export).items():
        text = pandas.read_csv(export / described["path"], dtype=str, keep_default_na=False)
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
