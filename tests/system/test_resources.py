"""What ships with the program is found in a checkout and in a wheel."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from drill.errors import BadFile
from drill.system import resources

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
WHEEL = PROJECT["tool"]["hatch"]["build"]["targets"]["wheel"]


def test_a_checkout_has_them_beside_the_package() -> None:
    assert resources.folder("decks") == ROOT / "decks"
    assert resources.folder("data") == ROOT / "data"


def test_a_wheel_has_them_inside_the_package(tmp_path: Path) -> None:
    package = tmp_path / "drill"
    (package / "_decks").mkdir(parents=True)
    (tmp_path / "decks").mkdir()
    assert resources.folder("decks", package) == package / "_decks"


def test_what_is_missing_is_told(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match=r"_data: this folder of the program is missing\. Install fretsure again"):
        resources.folder("data", tmp_path / "drill")
    with pytest.raises(BadFile, match=r"nowhere\.toml: this table"):
        resources.data_file("nowhere.toml")


def test_the_default_deck_ships() -> None:
    decks = resources.deck_files()
    assert decks["two-shapes"].name == "two-shapes.toml"
    assert list(decks) == sorted(path.stem for path in (ROOT / "decks").glob("*.toml"))


def test_a_table_that_ships_is_found() -> None:
    assert resources.data_file("tunings.toml").is_file()


def test_every_table_is_named_for_the_wheel() -> None:
    tables = {f"data/{path.name}": f"drill/_data/{path.name}" for path in (ROOT / "data").glob("*.*")}
    assert WHEEL["force-include"] == {"decks": "drill/_decks", **tables}


def test_everything_for_shells_is_named_for_the_wheel() -> None:
    assert WHEEL["shared-data"].keys() == {f"data/shell/{path.name}" for path in (ROOT / "data" / "shell").iterdir()}
