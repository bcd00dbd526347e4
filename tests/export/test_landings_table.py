"""Landings are a table of the export of their own, and come back from its log to the last byte."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from drill.cli.commands.record import restore_lines
from drill.export import FILES
from drill.record import LandingRow, Record
from tests.export.conftest import DRILL, attempt, exported, world

AT_MS = DRILL.started_at + 90_000
HEARD = LandingRow("landing-1", DRILL.id, "F# minor", AT_MS, "heard", True, -420, "F#3", 12, "ana")
OTHER = HEARD._replace(uid="landing-2", key="Bb major", asked_at=AT_MS + 5000, landed=False, late_ms=35, heard="C4")
NOTHING = HEARD._replace(uid="landing-3", asked_at=AT_MS + 9000, landed=None, late_ms=None, heard=None)
SAID = LandingRow("landing-4", DRILL.id, "C major", AT_MS + 12_000, "self-checked", True, None, None, None, "ana")


def with_landings(folder: Path, *landings: LandingRow) -> Path:
    """The export of a record that holds an answer and these landings."""
    there = world(folder)
    with Record.open(there.record_path, there.now) as record:
        record.start_drill(DRILL)
        record.append(attempt(1))
        for landing in landings:
            record.append_landing(landing)
    return exported(there, folder / "package")


def described(package: Path) -> dict[str, Any]:
    resources = json.loads((package / "datapackage.json").read_text())["resources"]
    return next(each for each in resources if each["name"] == "landings")


def test_every_landing_is_a_row_of_its_own_typed_as_the_package_says(tmp_path: Path) -> None:
    package = with_landings(tmp_path, HEARD, OTHER, NOTHING, SAID)
    with (package / "landings.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert [(row["key"], row["how"], row["landed"], row["late_ms"], row["heard"]) for row in rows] == [
        ("F# minor", "heard", "true", "-420", "F#3"),
        ("Bb major", "heard", "false", "35", "C4"),
        ("F# minor", "heard", "", "", ""),
        ("C major", "self-checked", "true", "", ""),
    ]
    assert rows[0]["asked_at"] == "2026-01-05T08:01:30.000Z"
    fields = {field["name"]: field for field in described(package)["schema"]["fields"]}
    assert list(fields) == list(rows[0])
    assert fields["how"]["constraints"]["enum"] == ["heard", "self-checked"]
    assert [fields[name]["type"] for name in ("landed", "late_ms", "path_ms")] == ["boolean", "integer", "integer"]
    assert "required" not in fields["landed"].get("constraints", {})
    assert "landings.csv" in {path.name for path in package.iterdir()}


@pytest.mark.parametrize(("key", "linked"), [("F# minor", True), ("Cb major", False)])
def test_its_keys_are_linked_to_their_table_where_each_is_in_it(key: str, linked: bool, tmp_path: Path) -> None:
    found = described(with_landings(tmp_path, HEARD._replace(key=key)))["schema"]
    assert found["primaryKey"] == "uid"
    assert found.get("foreignKeys") == (
        [{"fields": ["key"], "reference": {"resource": "keys", "fields": ["key"]}}] if linked else None
    )


def test_they_come_back_and_merge_to_the_last_byte(tmp_path: Path) -> None:
    package, there = with_landings(tmp_path / "here", HEARD, OTHER, NOTHING, SAID), world(tmp_path / "there")
    list(restore_lines(there, package / "attempts.jsonl"))
    list(restore_lines(there, package / "attempts.jsonl"))
    again = exported(there, tmp_path / "again")
    assert [(again / name).read_bytes() for name in FILES] == [(package / name).read_bytes() for name in FILES]
