"""Exports read by a program that knows nothing of ours: frictionless checks what the package says of its tables."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from frictionless import validate

from tests.export.conftest import resources


def checked(folder: Path, monkeypatch: pytest.MonkeyPatch, **how: Any) -> Any:
    """What frictionless says of a package, asked from its folder: it reads signs in a path as a pattern."""
    monkeypatch.chdir(folder)
    return validate("datapackage.json", **how)


@pytest.mark.long(but=1)
def test_frictionless_finds_the_package_valid(each_export: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """It checks sizes, hashes, types, required values, choices, primary and foreign keys."""
    found = checked(each_export, monkeypatch)
    assert found.valid, found.flatten(["type", "message"])
    assert [task.name for task in found.tasks] == list(resources(each_export))


@pytest.mark.long(but=1)
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
    old: str, new: str, error: str, package: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
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
    found = checked(tmp_path, monkeypatch, limit_errors=5)
    assert error in {kind for (kind,) in found.flatten(["type"])}


@pytest.mark.long
def test_frictionless_finds_what_was_changed_afterwards(
    package: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for path in package.iterdir():
        (tmp_path / path.name).write_bytes(path.read_bytes())
    with (tmp_path / "days.csv").open("ab") as file:
        file.write(b"2031-01-01,1,1,1,1,1,1\r\n")
    found = checked(tmp_path, monkeypatch)
    assert {"hash-count", "byte-count"} <= {kind for (kind,) in found.flatten(["type"])}
