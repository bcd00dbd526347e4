"""Whatever stands in a deck file, the settings, an exported log: it is taken, or refused naming file, field and fix."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drill import settings
from drill.decks import check_deck, deck_file, load_deck
from drill.errors import BadFile, FretsureError, UsageProblem
from drill.export import merge
from drill.export.model import written
from drill.questions.catalogue import FAMILIES
from drill.record import Record
from drill.record.check import examine_fully
from drill.system.text import visible
from drill.theory.neck import STANDARD, Neck
from tests.fuzz.hostile import NASTY, texts, toml, tried
from tests.support.records import attempt, drill, open_at

NECK = Neck(STANDARD)
scraps: st.SearchStrategy[Any] = st.one_of(
    st.none(), st.booleans(), st.integers(-(2**70), 2**70), st.floats(), texts, st.lists(texts, max_size=3)
)
"""Values of any sort."""


def mixed(*sound: Any) -> st.SearchStrategy[Any]:
    """One of these that fit, mostly; or anything."""
    return st.one_of(st.sampled_from(sound), st.sampled_from(sound), scraps)


part_values = {
    "families": st.lists(mixed(*FAMILIES), max_size=3),
    "strings": mixed("anchors", "all", [6, 5], [1], [], [7], [True]),
    "frets": mixed([0, 12], [0, 24], [5, 3], [3], [-1, 2], [0, 99]),
    "notes": mixed("naturals", "all"),
    "keys": mixed("everyday", "all", ["Am"], ["C", "F#m"], ["H"]),
    "shapes": mixed("anchors", "all", ["string-6"], ["3"], ["string-9"]),
    "loops": mixed(["Am F C G"], ["Dm7 G7 Cmaj7"], ["x"], []),
}
parts = st.dictionaries(st.one_of(st.sampled_from(list(part_values)), texts), st.none(), max_size=5).flatmap(
    lambda names: st.fixed_dictionaries({name: part_values.get(name, scraps) for name in ["families", *names]})
)
heads = st.fixed_dictionaries(
    {"title": mixed("A deck"), "about": mixed("What for.")},
    optional={
        "stage": mixed(1, 5),
        "tuning": mixed("standard", "bass", "drop-d", ""),
        "targets": mixed({"note-at-fret": 1.5}, {"x": 1}, {}),
    },
)
strangers = st.dictionaries(texts, scraps, max_size=1)


def assert_told(error: FretsureError) -> None:
    """The refusal is one short line that acts on no terminal."""
    assert visible(str(error)) == str(error)
    assert "\n" not in str(error)
    assert len(str(error)) < 1500


@pytest.mark.long
@given(head=heads, others=strangers, parts=st.lists(parts, max_size=3))
@tried(80)
def test_a_deck_file_is_taken_or_refused(
    tmp_path_factory: pytest.TempPathFactory, head: dict[str, Any], others: dict[str, Any], parts: list[dict[str, Any]]
) -> None:
    path = tmp_path_factory.getbasetemp() / "fuzzed.toml"
    lines = [f"{toml(name)} = {toml(value)}" for name, value in (others | head).items()]
    for part in parts:
        lines += ["[[part]]", *(f"{toml(name)} = {toml(value)}" for name, value in part.items())]
    path.write_text("\n".join(lines), encoding="utf-8", errors="replace")
    problems = judged(path)
    try:
        deck = load_deck(str(path), NECK)
    except BadFile as error:
        assert problems != [], "what cannot be loaded is told by the check"
        assert str(path) in str(error)
        assert_told(error)
    except UsageProblem as error:
        assert_told(error)
    else:
        assert deck.entries
        for card in list(deck.entries)[:3]:
            assert visible(deck.card(card).prompt) == deck.card(card).prompt


def judged(path: Path) -> list[deck_file.Problem] | None:
    """Every mistake in the file; None if it is no TOML at all."""
    try:
        problems = check_deck(path)
    except BadFile as error:
        assert_told(error)
        return None
    for problem in problems:
        assert_told(BadFile(str(path), problem.field, problem.problem, problem.fix))
        assert problem.fix
    return problems


@given(content=st.one_of(st.binary(max_size=200), texts.map(lambda text: text.encode("utf-8", "surrogatepass"))))
@tried(60)
def test_bytes_in_the_place_of_a_deck_or_of_settings(tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "bytes.toml"
    path.write_bytes(content)
    judged(path)
    for read in (lambda: load_deck(str(path), NECK), lambda: settings.load(path)):
        try:
            read()
        except FretsureError as error:
            assert str(path) in str(error)
            assert_told(error)


@pytest.mark.parametrize(
    "body",
    [
        "stage = 0x" + "f" * 5000,
        "stage = " + "9" * 5000,
        "stage = " + "[" * 5000 + "]" * 5000,
        "\n".join(f"x{number} = 1" for number in range(15_000)),
        "[targets]\n" + "\n".join(f"x{number} = 1" for number in range(15_000)),
        "[[part]]\nfamilies = [" + '"nothing",' * 15_000 + "]",
        "[[part]]\nfamilies = [" + '"note-at-fret",' * 10_000 + "]",
        "[[part]]\nfamilies = ['note-at-fret']\nstrings = [" + "6," * 60_000 + "]",
        "[[part]]\nfamilies = ['loop-tonic']\nloops = ['" + "Am " * 60_000 + "']",
        "[[part]]\nfamilies = ['note-at-fret']\n" * 4000,
        "x" * 1_000_000,
    ],
    ids=["hex", "digits", "nested", "fields", "targets", "names", "families", "strings", "loop", "parts", "megabyte"],
)
def test_a_deck_file_of_monstrous_size_is_refused_soon(body: str, tmp_path: Path) -> None:
    """Each of these took from five seconds to a minute, or a traceback, before there were bounds."""
    path = tmp_path / "monster.toml"
    path.write_text(f'title = "t"\nabout = "a"\n{body}\n', encoding="utf-8")
    with pytest.raises(BadFile) as caught:
        load_deck(str(path), NECK)
    assert_told(caught.value)


SETTINGS_VALUES = {field.name: mixed(field.default) for field in settings.fields()}


@pytest.mark.long
@given(
    values=st.fixed_dictionaries({}, optional=SETTINGS_VALUES),
    others=st.one_of(st.just({}), st.just({}), strangers),
)
@tried(80)
def test_settings_are_taken_or_refused(values: dict[str, Any], others: dict[str, Any]) -> None:
    text = "\n".join(f"{toml(name)} = {toml(value)}" for name, value in (others | values).items())
    try:
        taken = settings.parse(text, "settings.toml")
    except BadFile as error:
        assert str(error).startswith("settings.toml")
        assert_told(error)
    else:
        assert settings.parse(settings.dump(taken), "again") == taken


@pytest.fixture(scope="module")
def record(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Record]:
    with open_at(tmp_path_factory.mktemp("fuzz") / "record.sqlite3") as opened:
        yield opened


LOG = [json.loads(written(row)) for row in (drill(), attempt(1), attempt(2))]
"""A drill and two attempts, as an export writes them."""

changes = st.tuples(
    st.sampled_from(range(len(LOG))), st.one_of(st.sampled_from(list(LOG[1])), texts), mixed(None, 0, 1, "", True)
)


@pytest.mark.long
@given(changed=st.lists(changes, min_size=1, max_size=2))
@tried(80)
def test_a_log_is_merged_or_refused_and_the_record_stays_sound(
    record: Record, tmp_path_factory: pytest.TempPathFactory, changed: list[tuple[int, str, Any]]
) -> None:
    lines = [dict(line) for line in LOG]
    for at, name, value in changed:
        lines[at][name] = value
    path = tmp_path_factory.getbasetemp() / "fuzzed.jsonl"
    path.write_text("\n".join(map(json.dumps, lines)), encoding="utf-8")
    merge_or_refuse(path, record)


@given(content=st.one_of(st.binary(max_size=200), texts.map(lambda text: text.encode("utf-8", "surrogatepass"))))
@tried(40)
def test_bytes_in_the_place_of_a_log(record: Record, tmp_path_factory: pytest.TempPathFactory, content: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "bytes.jsonl"
    path.write_bytes(content)
    merge_or_refuse(path, record)


@pytest.mark.parametrize(
    "content",
    ["[" * 50_000, '{"a":' * 50_000, "x" * 1_000_000, '{"type": ' + "9" * 50_000 + "}", *NASTY],
)
def test_monstrous_lines_in_a_log(content: str, record: Record, tmp_path: Path) -> None:
    path = tmp_path / "monster.jsonl"
    path.write_bytes(content.encode("utf-8", "surrogatepass"))
    merge_or_refuse(path, record)


def merge_or_refuse(path: Path, record: Record) -> None:
    before = record.attempt_count()
    try:
        found, added = merge(path, record)
    except FretsureError as error:
        assert str(path) in str(error)
        assert_told(error)
        assert record.attempt_count() == before, "all of it or nothing"
    else:
        assert record.attempt_count() == before + added
        assert found >= added


def test_nothing_of_it_has_harmed_the_record(record: Record, tmp_path: Path) -> None:
    assert examine_fully(record.path) == record.attempt_count()
    record.backup(tmp_path / "copy.sqlite3")
    shutil.rmtree(tmp_path)
