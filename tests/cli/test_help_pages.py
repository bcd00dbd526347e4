"""The pages of help: every key that a command prints is in its page, and nothing else is."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from drill.classroom.columns import TABLES as CLASS_TABLES
from drill.cli.main import main
from drill.cli.reference import TOPICS, page_lines
from drill.cli.reference.lines import LINES
from drill.cli.reference.objects import COMMANDS, FACETS
from drill.decks.fields import EXAMPLE, FIELDS
from drill.export.tables import TABLES
from drill.present.tables import Columns
from drill.questions.catalogue import FAMILIES
from drill.settings import fields
from drill.tui.commands import COMMANDS as SCREEN_COMMANDS

WIDTHS = (30, 80, 100)


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.setenv("FRETSURE_RECORD", str(tmp_path / "record.sqlite3"))


def page(topic: str, width: int = 100) -> str:
    return "\n".join(page_lines(topic, width))


def names(topic: str) -> set[str]:
    """The names that a page explains."""
    return set(re.findall(r"^ *([\w-]+): ", page(topic), re.MULTILINE))


def differences(value: object, columns: Columns, path: str = "") -> Iterator[str]:
    """Where an object has a key that is not told, or lacks one that is."""
    if isinstance(value, list):
        for each in value:
            yield from differences(each, columns, path)
    elif isinstance(value, Mapping) and columns:
        told = {column.key: column for column in columns}
        yield from (f"{path}.{key}" for key in value.keys() ^ told.keys())
        for key in value.keys() & told.keys():
            yield from differences(value[key], told[key].columns, f"{path}.{key}")


def printed(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> list[Any]:
    assert main(arguments) == 0
    return [json.loads(line) for line in capsys.readouterr().out.splitlines()]


@pytest.mark.parametrize(
    ("name", "arguments"),
    [
        ("cards", "cards --deck naturals --json"),
        ("decks", "decks --json"),
        ("key", "key Bb --json"),
        ("key --scale", "key Bb --scale dorian --json"),
        ("key --scale", "key A --scale dorian --per-string 3 --json"),
        ("loop", "loop Fm Db Ab Eb --json"),
        ("loop", "loop Am7 F#7(b9#11b13) Dm --count-notes --json"),
    ],
)
def test_the_keys_of_an_object_are_those_that_are_told(
    name: str, arguments: str, capsys: pytest.CaptureFixture[str]
) -> None:
    found = printed(arguments.split(), capsys)
    assert found
    for value in found:
        assert not list(differences(value, COMMANDS[name][1]))
        for facet in value.get("facets", {}):
            assert facet in FACETS


def test_the_keys_of_a_drill_are_those_that_are_told(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("E\nnonsense\n" + "F\n" * 20))
    lines = printed(["today", "--json", "--deck", "naturals"], capsys)
    assert {line["type"] for line in lines} == LINES.keys()
    for line in lines:
        kind = line.pop("type")
        assert not list(differences(line, LINES[kind][1])), kind
    verdicts = [line for line in lines if "mixups" in line and "given" in line]
    assert any(verdict["mixups"] for verdict in verdicts), "no mix-up was seen"


@pytest.mark.parametrize(("topic", "arguments"), [("progress", "progress --demo --json")])
def test_the_keys_of_progress_are_in_their_page(topic: str, arguments: str, capsys: pytest.CaptureFixture[str]) -> None:
    def keys(value: object) -> Iterator[str]:
        if isinstance(value, list):
            for each in value[:3]:
                yield from keys(each)
        elif isinstance(value, dict):
            yield from value
            for each in value.values():
                yield from keys(each)

    (found,) = printed(arguments.split(), capsys)
    options = {"strings", "keys", "families", "shapes"}  # of a focus
    assert set(keys(found)) - options <= names(topic)


@pytest.mark.parametrize(
    ("topic", "wanted"),
    [
        ("deck", {*FIELDS, "part"}),
        ("export", {column.key for table in TABLES for column in table.columns}),
        ("class", {column.key for table in CLASS_TABLES for column in table.columns} - {"facet"}),
        ("json", {*FACETS, *LINES}),
    ],
)
def test_a_page_tells_every_name(topic: str, wanted: set[str]) -> None:
    assert wanted <= names(topic)


@pytest.mark.long
def test_every_command_of_the_screens_every_family_and_every_setting_has_its_line() -> None:
    assert all(f"{each.key_shown}  {each.title} [{each.id}]:" in page("keys") for each in SCREEN_COMMANDS)
    assert all(f"{name}  {family.title}" in page("families") for name, family in FAMILIES.items())
    assert all(f"{field.name} = " in page("settings") for field in fields())


@pytest.mark.parametrize("topic", TOPICS)
def test_every_page_fits_its_width(topic: str, capsys: pytest.CaptureFixture[str]) -> None:
    """But for an example of a file, which stands as it is to be written."""
    written = [line.strip() for line in EXAMPLE.splitlines()]
    for width in WIDTHS:
        longest = max((line for line in page_lines(topic, width) if line.strip() not in written), key=len)
        assert len(longest) <= width or " " not in longest.strip(), longest
    assert main(["help", topic]) == 0
    assert capsys.readouterr().out.startswith(TOPICS[topic])


def test_without_a_topic_all_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["help"]) == 0
    listed = capsys.readouterr().out
    assert all(f"{topic}: " in listed for topic in TOPICS)


def test_an_unknown_topic_is_answered_with_those_there_are(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as refused:
        main(["help", "nonsense"])
    assert refused.value.code == 2
    assert "deck" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("typed", "topic"),
    [
        ("decks", "deck"),
        ("Keys", "keys"),
        ("setting", "settings"),
        ("glossary", "words"),
        ("sign", "words"),
        ("Shortcuts", "keys"),
    ],
)
def test_a_topic_may_be_in_the_singular_the_plural_or_capitals(
    typed: str, topic: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["help", typed]) == 0
    assert capsys.readouterr().out.startswith(TOPICS[topic])


@pytest.mark.parametrize("topic", ["keys", "figures", "formats", "settings", "words"])
def test_every_word_that_the_introduction_names_leads_to_its_topics(
    topic: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """README: `fretsure help` explains keys, figures, formats, settings and words."""
    topics = {"figures": ("progress", "class"), "formats": ("export", "deck", "json")}.get(topic, ())
    assert main(["help", topic]) == 0
    told = capsys.readouterr().out
    assert all(f"  {each}: {TOPICS[each]}" in told for each in topics)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("restore", "'restore' is a command: `fretsure restore --help` tells of it"),
        ("key", "'key' is a command: `fretsure key --help` tells of it"),
        ("famlies", "did you mean families?"),
        ("nonsense", "topics: keys, json, progress"),
    ],
)
def test_what_is_no_topic_leads_to_what_helps(typed: str, told: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["help", typed])
    assert told in capsys.readouterr().err
