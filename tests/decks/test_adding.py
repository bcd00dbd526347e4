"""Decks of the learner's own: added, listed, drilled by name, removed; and the schema of the format."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from drill.decks import added_decks, check_deck, load_deck
from drill.decks.adding import add_deck, deck_name, remove_deck
from drill.decks.deck_file import Head, Part
from drill.decks.fields import FIELDS
from drill.decks.schema import DeckModel, PartModel, deck_schema
from drill.errors import BadFile, CannotWrite, UnknownName, UsageProblem
from drill.questions.catalogue import FAMILIES
from drill.system import resources
from drill.theory.neck import STANDARD, Neck
from tests.decks.test_decks import MINIMAL

NECK = Neck(STANDARD)


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    path = tmp_path / "For Thursday!.toml"
    path.write_text(MINIMAL, encoding="utf-8")
    return path


def test_an_added_deck_is_drilled_by_its_name_when_its_file_is_gone(mine: Path, added_decks: Path) -> None:
    assert add_deck(mine) == "for-thursday"
    mine.unlink()
    assert load_deck("for-thursday", NECK).title == "Mine"
    kept = added_decks / "for-thursday.toml"
    assert kept.read_text(encoding="utf-8") == MINIMAL
    assert kept.stat().st_mode & 0o077 == 0


def test_no_deck_is_overwritten(mine: Path, tmp_path: Path, added_decks: Path) -> None:
    add_deck(mine)
    mine.write_text(MINIMAL.replace("Mine", "Other"), encoding="utf-8")
    with pytest.raises(CannotWrite, match=r"already a deck “for-thursday”.*: fretsure decks add .* --replace$"):
        add_deck(mine)
    assert load_deck("for-thursday", NECK).title == "Mine"
    shipped = tmp_path / "naturals.toml"
    shipped.write_text(MINIMAL, encoding="utf-8")
    with pytest.raises(CannotWrite, match="“naturals” ships with the program and stays"):
        add_deck(shipped)
    assert [path.name for path in added_decks.iterdir()] == ["for-thursday.toml"]


def test_a_deck_is_put_in_the_place_of_the_one_it_updates_and_of_no_other(
    mine: Path, tmp_path: Path, added_decks: Path
) -> None:
    add_deck(mine)
    mine.write_text(MINIMAL.replace("Mine", "Second week"), encoding="utf-8")
    assert add_deck(mine, replace=True) == "for-thursday"
    assert load_deck("for-thursday", NECK).title == "Second week"
    [kept] = added_decks.iterdir()
    assert kept.stat().st_mode & 0o077 == 0
    mine.write_text("title = ", encoding="utf-8")
    with pytest.raises(BadFile):
        add_deck(mine, replace=True)
    assert load_deck("for-thursday", NECK).title == "Second week"
    shipped = tmp_path / "naturals.toml"
    shipped.write_text(MINIMAL, encoding="utf-8")
    with pytest.raises(CannotWrite, match="“naturals” ships with the program and stays"):
        add_deck(shipped, replace=True)


def test_a_deck_with_mistakes_is_not_added(tmp_path: Path, added_decks: Path) -> None:
    path = tmp_path / "bad.toml"
    path.write_text(MINIMAL + 'keys = ["H"]\nstrings = [9]\n', encoding="utf-8")
    with pytest.raises(BadFile) as caught:
        add_deck(path)
    assert str(caught.value).count("bad.toml") == 2, "every mistake is told"
    assert not added_decks.exists()


@pytest.mark.parametrize("name", ["...toml", "CON.toml", "com1.toml", "♭.toml", "--.toml"])
def test_a_file_whose_name_makes_no_deck_is_refused(name: str) -> None:
    with pytest.raises(UsageProblem, match="cannot be the name of a deck"):
        deck_name(Path(name))


@pytest.mark.parametrize(
    "name", ["../../evil.toml", "<b>x</b>.toml", "=cmd|calc.toml", "a\x1b[31m.toml", f"{'x' * 200}.toml"]
)
def test_a_hostile_name_becomes_a_plain_one(name: str) -> None:
    found = deck_name(Path(name))
    assert set(found) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert 0 < len(found) <= 60


def test_only_an_added_deck_is_removed(mine: Path, added_decks: Path) -> None:
    add_deck(mine)
    with pytest.raises(UsageProblem, match="ships with the program"):
        remove_deck("naturals")
    for name in ("nobody", "../for-thursday", "", str(mine)):
        with pytest.raises(UnknownName, match="Added decks: for-thursday"):
            remove_deck(name)
    remove_deck("for-thursday")
    assert not list(added_decks.iterdir())
    assert mine.exists()
    with pytest.raises(UnknownName, match="No deck was added"):
        remove_deck("for-thursday")


@pytest.mark.parametrize("name", FIELDS)
def test_what_a_mistake_says_to_write_is_right(name: str) -> None:
    """The example begins its sentence, and is taken as it stands."""
    example = re.match(r"[a-z-]+ = (\"[^\"]*\"|\[[^]]*\]|[\d.-]+)", FIELDS[name].example)
    assert example
    written, value = next(iter(tomllib.loads(example[0]).items()))
    assert written == name or name == "targets"
    assert list(FIELDS[name].check({written: value} if name == "targets" else value)) == []


def test_a_folder_that_cannot_be_read_holds_no_decks(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Not even its name is one that the system would take."""
    monkeypatch.setattr(resources, "added_folder", lambda: tmp_path / ("x" * 300))
    assert listed() == ([], [])
    assert load_deck("naturals", NECK).entries


def test_an_added_deck_that_was_broken_since_does_not_hide_the_others(mine: Path, added_decks: Path) -> None:
    add_deck(mine)
    (added_decks / "broken.toml").write_text("title = ", encoding="utf-8")
    decks, [error] = listed()
    assert [deck.id for deck in decks] == ["for-thursday"]
    assert "broken.toml" in str(error)


def listed() -> tuple[list[Any], list[Any]]:
    return added_decks(NECK)


# -- the schema --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", resources.deck_files())
def test_every_shipped_deck_fits_the_schema(name: str) -> None:
    values = tomllib.loads(resources.deck_files()[name].read_text(encoding="utf-8"))
    assert DeckModel.model_validate(values).title == values["title"]


def test_the_schema_has_every_field_of_a_deck_and_no_other() -> None:
    assert DeckModel.model_fields.keys() == {*Head._fields, "part"}
    assert PartModel.model_fields.keys() == {*Part._fields}
    assert {*DeckModel.model_fields, *PartModel.model_fields} == {*FIELDS, "part"}


@pytest.mark.parametrize(
    "mistake",
    [
        "stage = 6", 'stage = "1"', "stage = true", "unknown = 1", 'until = "Thursday"', 'goal = "many"', 'by = ""',
        "note = 3", "title = 5", "[targets]\nno-such-family = 2.0", "[targets]\nnote-at-fret = 0.1",
        "[[part]]\nfamilies = []", '[[part]]\nfamilies = ["no-such-family"]', "[[part]]\nstrings = [6]",
        '[[part]]\nfamilies = ["note-at-fret"]\nfrets = [0, 99]',
        '[[part]]\nfamilies = ["note-at-fret"]\nfrets = [3]',
        '[[part]]\nfamilies = ["note-at-fret"]\nnotes = "black"',
        '[[part]]\nfamilies = ["note-at-fret"]\norder = "backwards"',
        '[[part]]\nfamilies = ["note-at-fret"]\nkeys = []',
    ],
)  # fmt: skip
def test_a_mistake_of_form_is_one_for_the_schema_and_for_the_check(mistake: str, tmp_path: Path) -> None:
    head = "" if mistake.startswith("title") else 'title = "T"\n'
    rest = "" if mistake.startswith("[[") else '\n[[part]]\nfamilies = ["note-at-fret"]\n'
    path = tmp_path / "bad.toml"
    path.write_text(f'{head}about = "A."\n{mistake}{rest}', encoding="utf-8")
    assert check_deck(path)
    with pytest.raises(ValidationError):
        DeckModel.model_validate(tomllib.loads(path.read_text(encoding="utf-8")))


def test_the_schema_is_plain_json_for_editors() -> None:
    schema = json.loads(json.dumps(deck_schema()))
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert {*schema["required"]} == {"title", "about", "part"}
    assert schema["additionalProperties"] is False
    families = schema["$defs"]["PartModel"]["properties"]["families"]
    assert families["items"]["enum"] == [*FAMILIES]
    assert "null" not in json.dumps(schema["properties"]), "TOML has no null"
    assert all("description" in each for each in schema["properties"].values())
