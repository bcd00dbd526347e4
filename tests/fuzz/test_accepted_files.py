"""What keeps to the format is taken, whatever stands in it, and means what it says."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drill.decks import Deck, check_deck, entry_of, load_deck
from drill.decks.targets import LEAST_S, target_seconds
from drill.export import merge
from drill.export.model import written
from drill.practice.learner_store import LearnerStore
from drill.progress import Progress
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import as_plain
from drill.record.check import examine_fully
from drill.settings import Settings
from drill.theory.neck import STANDARD, Neck
from tests.fuzz.accepted import Line, deck_files, logs
from tests.fuzz.hostile import toml, tried
from tests.support.records import open_at
from tests.support.worlds import MONDAY_MORNING

pytestmark = pytest.mark.long

NECK = Neck(STANDARD)


@given(file=deck_files(), chosen=st.randoms(use_true_random=False))
@tried(30)
def test_a_deck_within_the_limits_is_laid_out_as_it_says(
    file: dict[str, Any], chosen: Any, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.getbasetemp() / "accepted.toml"
    write_deck(file, path)
    assert check_deck(path) == []
    deck = load_deck(str(path), NECK)
    assert (deck.title, deck.about, deck.stage) == (file["title"], file["about"], file.get("stage", 5))
    assert deck.neck.tuning.id == file.get("tuning", "standard")
    assert_in_teaching_order(deck, file["part"])
    for card_id in chosen.sample([*deck.entries], min(5, len(deck.entries))):
        assert_asked_within(deck, card_id, file)


def write_deck(file: dict[str, Any], path: Path) -> None:
    head = {name: value for name, value in file.items() if name != "part"}
    lines = [f"{name} = {toml(value)}" for name, value in head.items()]
    for part in file["part"]:
        lines += ["[[part]]", *(f"{name} = {toml(value)}" for name, value in part.items())]
    path.write_text("\n".join(lines), encoding="utf-8")


def assert_in_teaching_order(deck: Deck, parts: list[dict[str, Any]]) -> None:
    """Every family of the file is asked, in the order of the file."""
    asked = dict.fromkeys(item.family for item in deck.items)
    assert [*asked] == [name for part in parts for name in part["families"]]
    assert [item.order for item in deck.items] == [*range(len(deck.items))]


def assert_asked_within(deck: Deck, card_id: str, file: dict[str, Any]) -> None:
    """The card keeps to its part of the file, can be answered, and is found again by its id alone."""
    entry, card = deck.entries[card_id], deck.card(card_id)
    facets = as_plain(entry.facets)
    part = next(part for part in file["part"] if entry.item.family in part["families"])
    if isinstance(part.get("strings"), list) and "string" in facets and entry.item.family == "note-at-fret":
        assert facets["string"] in part["strings"]
    if isinstance(part.get("keys"), list) and "key" in facets:
        assert entry.item.groups & {f"key-{short(name)}" for name in part["keys"]}
    if entry.item.family == "note-at-fret":
        low, high = part.get("frets", (0, 12))
        assert low <= int(facets["fret"]) <= high
    family = FAMILIES[entry.item.family]
    assert entry.item.target_s == max(file.get("targets", {}).get(family.id, target_seconds(family.id)), LEAST_S)
    assert card.id == card_id
    assert all(card.kind.read(answer) == answer for answer in card.accepts)
    again, _ = entry_of(card_id)
    assert (again.item.facts, again.facets) == (entry.item.facts, entry.facets)


def short(key_name: str) -> str:
    """A key as groups name it: 'F#m' for 'F# minor'."""
    tonic, mode = key_name.split()
    return tonic + ("m" if mode == "minor" else "")


@given(lines=logs())
@tried(20)
def test_a_log_within_the_limits_is_taken_whole_and_comes_out_as_it_went_in(
    lines: list[Line], tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("accepted")
    (log := folder / "attempts.jsonl").write_text("\n".join(map(json.dumps, lines)), encoding="utf-8")
    attempts = [line for line in lines if line["type"] == "attempt"]
    with open_at(folder / "record.sqlite3") as record:
        assert merge(log, record) == (len(attempts), len(attempts))
        assert merge(log, record) == (len(attempts), 0)
        assert examine_fully(record.path) == len(attempts)
        kept = [json.loads(written(row)) for row in (*record.drills(), *record.attempts())]
        assert sorted(map(in_one_form, kept)) == sorted(map(in_one_form, lines))
        learner = LearnerStore.of(record)
        progress = Progress(learner.learner, record, load_deck("two-shapes", NECK), Settings(), MONDAY_MORNING)
        seen = {line["card"] for line in attempts if line["card"] in progress.deck.entries}
    assert learner.learner.cards.keys() == seen


def in_one_form(line: Line) -> str:
    return json.dumps(line, sort_keys=True)
