"""Exports read by a program that knows nothing of ours: frictionless checks what the package says of its tables."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from frictionless import validate

from tests.export.conftest import resources


def test_frictionless_finds_the_package_valid(each_export: Path) -> None:
    """It checks sizes, hashes, types, required values, choices, primary and foreign keys."""
    found = validate(str(each_export / "datapackage.json"))
    assert found.valid, found.flatten(["type", "message"])
    assert [task.name for task in found.tasks] == list(resources(each_export))


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
