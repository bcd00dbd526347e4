"""The export agrees with the program to the last digit, is typed as it says, and is safe wherever it is opened."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import re
import tracemalloc
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from datetime import date, datetime
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from drill.cli.commands.record import export_lines, progress_bar
from drill.errors import CannotWrite
from drill.export import FILES, export
from drill.export.pages import STYLE
from drill.export.report import report
from drill.export.tables import ATTEMPTS, cell
from drill.progress import Progress
from drill.progress.columns import progress_object
from drill.progress.history import LogCounts
from drill.record import AttemptRow, DrillRow, LandingRow, LearnerRow, Record
from drill.settings import Settings
from drill.system.environment import Environment
from tests.export.conftest import DRILL, attempt, exported, progress_of, world
from tests.support.learners import beginner

READ: dict[str, Callable[[str], Any]] = {
    "string": str,
    "integer": int,
    "number": float,
    "boolean": {"true": True, "false": False}.__getitem__,
    "datetime": lambda text: datetime.strptime(text, "%Y-%m-%dT%H:%M:%S.%fZ"),
    "date": date.fromisoformat,
}
"""How Table Schema's types are read: https://datapackage.org/standard/table-schema/#field-types"""


class Page(HTMLParser):
    """What a page holds: its tables as rows of cells with their exact values, its tags, its text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tables: dict[str, list[list[str]]] = {}
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self._caption, self._exact = "", ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self.open.append(tag)
        if tag == "caption":
            self._caption = ""
        elif tag == "tr":
            self.tables.setdefault(self._caption, []).append([])
        elif tag in ("td", "th"):
            self.tables[self._caption][-1].append("")
        elif tag == "data":
            self._exact = dict(attrs)["value"] or ""

    def handle_endtag(self, tag: str) -> None:
        while self.open and self.open.pop() != tag:
            pass

    def handle_data(self, data: str) -> None:
        if "caption" in self.open:
            self._caption += data
        elif "td" in self.open or "th" in self.open:
            self.tables[self._caption][-1][-1] += self._exact if self.open[-1] == "data" else data


def typed(package: Path, name: str) -> list[dict[str, Any]]:
    """The rows of a table, read as the package says."""
    [resource] = [r for r in json.loads((package / "datapackage.json").read_text())["resources"] if r["name"] == name]
    fields = {field["name"]: field for field in resource["schema"]["fields"]}
    with (package / resource["path"]).open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    for row in rows:
        assert list(row) == list(fields)
        assert all(row[name] for name, field in fields.items() if field.get("constraints", {}).get("required"))
    return [{n: READ[fields[n]["type"]](text) if text else None for n, text in row.items()} for row in rows]


@pytest.fixture(scope="module")
def told(invented: Environment) -> Iterator[dict[str, Any]]:
    """Progress as `fretsure progress --json` tells it."""
    with progress_of(invented) as progress:
        yield json.loads(json.dumps(progress_object(progress)))


@pytest.mark.long
def test_cards_agree_with_the_json(package: Path, told: dict[str, Any]) -> None:
    rows = [row for row in typed(package, "cards") if row["in_deck"]]
    for row, card in zip(rows, told["cards"], strict=True):
        for name in ("card", "family", "prompt", "state", "strength", "speed_s", "target_s", "fluent_chance", "asked"):
            assert row[name] == card[name], name
        assert row["right"] == card["right"]


@pytest.mark.long
def test_keys_days_and_answers_agree_with_the_json(package: Path, told: dict[str, Any]) -> None:
    keys = typed(package, "keys")
    assert [(row["key"], row["readiness"]) for row in keys] == [(k["key"], k["readiness"]) for k in told["readiness"]]
    assert [(row["weakest"], row["in_time"]) for row in keys] == [
        (k["needed"][0]["card"], k["needed"][0]["in_time"]) for k in told["readiness"]
    ]
    attempts = typed(package, "attempts")
    answers = [row for row in attempts if row["kind"] == "asked"]
    assert sum(row["answers"] for row in typed(package, "days")) == len(answers)
    assert sum(week["answers"] for week in told["weeks"]) == len(answers)
    assert sum(card["asked"] for card in told["cards"]) == len(answers)
    assert sum(card["right"] for card in told["cards"]) == sum(row["correct"] for row in answers)
    assert len({row["uid"] for row in attempts}) == len(attempts)


def test_the_page_agrees_with_the_json_to_the_last_digit(package: Path, told: dict[str, Any]) -> None:
    tables = Page((package / "report.html").read_text(encoding="utf-8")).tables
    parts = [rows for caption, rows in tables.items() if caption.startswith("How ready the keys are")]
    readiness = [float(row[1].split()[0]) for rows in parts for row in rows[1:]]
    assert readiness == [key["readiness"] for key in told["readiness"] if key["asked"]]
    groups = [row for row in tables["Strength and speed"][1:] if len(row) > 2]
    seen = [row for kind in ("strings", "shapes", "families") for row in told[kind] if row["seen"]]
    for row, value in zip(groups, seen, strict=True):
        assert [int(text) for text in row[1:5]] == [value[n] for n in ("cards", "seen", "fading", "slow")]
        assert [float(text) for text in row[5:]] == [value[name] for name in ("strength", "speed_s", "target_s")]
    spots = [float(text) for row in tables["Strength by spot"][1:] for text in row[1:] if text not in ("", "–")]
    assert sorted(spots) == sorted(spot["strength"] for spot in told["spots"] if spot["strength"] is not None)


def test_the_package_names_its_files_with_size_and_hash(package: Path) -> None:
    described = json.loads((package / "datapackage.json").read_text())
    assert {path.name for path in package.iterdir()} == set(FILES)
    assert described["profile"] == "tabular-data-package"
    for each in (*described["resources"], *described["others"]):
        raw = (package / each["path"]).read_bytes()
        assert (each["bytes"], each["hash"]) == (len(raw), f"sha256:{hashlib.sha256(raw).hexdigest()}")
    assert all(
        field["description"].endswith(".") for table in described["resources"] for field in table["schema"]["fields"]
    )


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", "＝1", "＠a"])
def test_no_text_is_run_by_a_spreadsheet(text: str) -> None:
    # https://owasp.org/www-community/attacks/CSV_Injection names the characters
    file = io.StringIO()
    ATTEMPTS.write(file, [attempt(1, given=text, deck=text, mixup=text)])
    row = next(csv.DictReader(io.StringIO(file.getvalue())))
    assert {row["given"], row["deck"], row["mixup"]} == {f"'{text}"}


def test_cells_are_exact() -> None:
    assert [cell(value) for value in (None, True, False, 0.1 + 0.2, -300, "Bb", "")] == [
        "", "true", "false", "0.30000000000000004", "-300", "Bb", "",
    ]  # fmt: skip


HOSTILE = Settings(learner="<script>alert(1)</script>&\"'", report_title="</title><img src=x onerror=alert(1)>")


def test_the_page_runs_nothing_and_asks_the_network_for_nothing(invented: Environment) -> None:
    with progress_of(invented, HOSTILE) as progress:
        text = report(progress)
    page = Page(text)
    assert not {"script", "img", "link", "iframe", "object", "embed", "form", "base"} & {tag for tag, _ in page.tags}
    names = {name for _, attributes in page.tags for name in attributes}
    assert not {name for name in names if name.startswith("on") or name in ("src", "href", "xlink:href", "style")}
    assert not re.search(r"https?:|//|url\(|@import", text)
    assert "&lt;script&gt;alert(1)&lt;/script&gt;&amp;&#34;&#39;" in text
    [policy] = [a for tag, a in page.tags if tag == "meta" and a.get("http-equiv") == "Content-Security-Policy"]
    assert policy["content"] == "default-src 'none'; style-src 'unsafe-inline'"


def test_given_answers_cannot_break_the_page(tmp_path: Path) -> None:
    there = world(tmp_path)
    with Record.open(there.record_path, there.now) as record:
        record.start_drill(DRILL)
        record.append(attempt(-1, given="<b>&", correct=False, mixup="<i>"))
    with progress_of(there, Settings(deck="naturals")) as progress:
        assert progress.mixups[0].name == "<i>"
        tags = {tag for tag, _ in Page(report(progress)).tags}
    assert not {"b", "i"} & tags


def test_every_picture_has_a_name_and_every_table_a_caption(package: Path) -> None:
    page = Page((package / "report.html").read_text(encoding="utf-8"))
    pictures = [attributes for tag, attributes in page.tags if tag == "svg"]
    ids = [attributes["id"] for _, attributes in page.tags if "id" in attributes]
    assert len(ids) == len(set(ids))
    for attributes in pictures:
        named = (attributes.get("aria-labelledby") or "").split()
        assert attributes.get("aria-hidden") == "true" or (named and set(named) <= set(ids))
    tags = [tag for tag, _ in page.tags]
    assert tags.count("table") == tags.count("caption") == len(page.tables)
    assert tags.count("h1") == tags.count("main") == 1


def luminance(colour: str) -> float:
    """Relative luminance of '#rrggbb': https://www.w3.org/TR/WCAG22/#dfn-relative-luminance"""
    parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_colours_can_be_told_apart_by_light_and_dark_and_on_paper() -> None:
    schemes = [
        dict(re.findall(r"--(\w+): (#\w{6})", rules))
        for rules in STYLE.read_text(encoding="utf-8").split(":root {")[1:]
    ]
    assert len(schemes) == 3
    for colours in schemes:
        grounds = {name: luminance(colours[name]) for name in ("paper", "card", "weak", "middling", "strong")}
        # WCAG 2.2: 4.5 to 1 for text (1.4.3), 3 to 1 for what a picture is made of (1.4.11)
        least = {("ink", ground): 4.5 for ground in grounds} | {
            ("soft", "paper"): 4.5,
            ("soft", "card"): 4.5,
            ("accent", "paper"): 4.5,
            ("accent", "card"): 4.5,
            ("bar", "paper"): 3,
            ("line", "paper"): 3,
        }
        for (mark, ground), ratio in least.items():
            dark, light = sorted((luminance(colours[mark]), grounds[ground]))
            assert (light + 0.05) / (dark + 0.05) >= ratio, (mark, ground)


def test_a_beginners_page_and_package(tmp_path: Path) -> None:
    package = exported(world(tmp_path), tmp_path / "export")
    text = (package / "report.html").read_text(encoding="utf-8")
    assert "Nothing has been asked yet" in text
    assert "No recognised mix-ups." in text
    assert typed(package, "attempts") == typed(package, "days") == []
    [line] = (package / "attempts.jsonl").read_text().splitlines()
    assert json.loads(line)["type"] == "learner", "an empty log still says whose it is"


@pytest.mark.long(but=1)
@pytest.mark.parametrize("settings", [Settings(hand="left"), Settings(low_string="top"), Settings(frets=24, capo=3)])
def test_the_neck_is_drawn_as_the_learner_holds_it(invented: Environment, settings: Settings) -> None:
    def nut(some: Settings) -> tuple[float, float]:
        """Where the nut is drawn, and the lowest string."""
        with progress_of(invented, some) as progress:
            text = report(progress)
        width = float(re.search(r'viewBox="0 0 (\d+)', text)[1])  # type: ignore[index]
        x = float(re.search(r'class="nut" x1="([\d.]+)"', text)[1])  # type: ignore[index]
        y = float(re.search(r'y="([\d.]+)"><tspan>6 E', text)[1])  # type: ignore[index]
        return x / width, y

    (usual_x, usual_y), (x, y) = nut(Settings()), nut(settings)
    assert (x > 0.5) == (settings.hand == "left") and usual_x < 0.5
    assert (y < usual_y) == (settings.low_string == "top")


@pytest.mark.long
def test_answers_on_another_instrument_are_told_on_their_own(invented: Environment, tmp_path: Path) -> None:
    # five frets of shapes need fourths and a third between strings, which drop D has not
    package = exported(invented, tmp_path / "export", Settings(tuning="drop-d", deck="whole-neck", capo=2, frets=22))
    cards = {row["card"]: row for row in typed(package, "cards")}
    assert "tonic finger" in cards["tonic-finger:key=C:shape=string-6"]["prompt"]
    assert not cards["tonic-finger:key=C:shape=string-6"]["in_deck"]
    assert cards["note-at-fret:string=6:fret=2:tuning=drop-d:capo=2"]["in_deck"]


def test_words_and_keys_of_other_tables_are_described_and_hold(package: Path) -> None:
    resources = {each["name"]: each for each in json.loads((package / "datapackage.json").read_text())["resources"]}
    rows = {name: typed(package, name) for name in resources}
    enums = references = 0
    for name, resource in resources.items():
        for field in resource["schema"]["fields"]:
            if allowed := field.get("constraints", {}).get("enum"):
                enums += 1
                assert {row[field["name"]] for row in rows[name]} <= set(allowed)
        for key in resource["schema"].get("foreignKeys", ()):
            references += 1
            [own], [other] = key["fields"], key["reference"]["fields"]
            assert {row[own] for row in rows[name]} <= {row[other] for row in rows[key["reference"]["resource"]]}
    assert enums == 4, "kind and how of an answer, how of a landing, state of a card"
    assert references == 3, "the cards of the answers, the keys of the landings, the weakest card of each key"


# -- the folder --------------------------------------------------------------------------------------------------------


@pytest.mark.long
def test_an_export_is_written_over_by_the_next(invented: Environment, tmp_path: Path) -> None:
    folder = exported(invented, tmp_path / "export")
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    exported(invented, folder)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    exported(invented, folder, Settings(learner="Bo"))
    [page] = folder.glob("report-bo-*.html")
    assert "Bo" in page.read_text(encoding="utf-8")
    assert len(list(folder.iterdir())) == len(FILES), "files under the names of before are gone"


@pytest.mark.long
def test_nothing_foreign_is_overwritten(invented: Environment, tmp_path: Path) -> None:
    with progress_of(invented) as progress:
        for number, name in enumerate(FILES):
            folder = tmp_path / str(number)
            folder.mkdir()
            (folder / name).write_text("mine")
            assert export(progress, folder) == folder / "fretsure-export"
            assert {path.name for path in folder.iterdir()} == {name, "fretsure-export"}
            assert (folder / name).read_text() == "mine"


@pytest.mark.long
def test_a_link_in_an_earlier_export_is_neither_followed_nor_overwritten(invented: Environment, tmp_path: Path) -> None:
    folder, other = exported(invented, tmp_path / "export"), tmp_path / "elsewhere"
    with progress_of(invented) as progress:
        for name in FILES:
            (folder / name).rename(other)
            (folder / name).symlink_to(other)
            before = other.read_bytes()
            with pytest.raises(CannotWrite, match="was not written by an export"):
                export(progress, folder)
            assert (other.read_bytes(), (folder / name).is_symlink()) == (before, True)
            other.replace(folder / name)


@pytest.mark.long
def test_other_files_are_not_mixed_with_an_export(invented: Environment, tmp_path: Path) -> None:
    (tmp_path / "holiday.jpg").write_text("mine")
    for replacing in ("", ", replacing your earlier export there"):
        with progress_of(invented) as progress:
            first, *names = export_lines(progress, invented, tmp_path)
        because = f"because {tmp_path} contains other files"
        assert first == f"Exported to {tmp_path / 'fretsure-export'}, {because}{replacing}:"
        assert {name.strip() for name in names} == {path.name for path in (tmp_path / "fretsure-export").iterdir()}
        assert {path.name for path in tmp_path.iterdir()} == {"holiday.jpg", "fretsure-export"}


@pytest.mark.long
def test_files_laid_beside_an_export_change_nothing(invented: Environment, tmp_path: Path) -> None:
    folder = exported(invented, tmp_path / "export")
    (folder / "notes.txt").write_text("mine")
    with progress_of(invented) as progress:
        assert export(progress, folder) == folder


@pytest.mark.long
def test_hidden_files_do_not_make_a_folder_used(invented: Environment, tmp_path: Path) -> None:
    (tmp_path / ".DS_Store").touch()
    with progress_of(invented) as progress:
        assert export(progress, tmp_path) == tmp_path


def test_nothing_is_written_where_even_the_folder_of_its_own_is_used(invented: Environment, tmp_path: Path) -> None:
    (tmp_path / "mine.txt").touch()
    (tmp_path / "fretsure-export").mkdir()
    (tmp_path / "fretsure-export" / "mine.txt").touch()
    with progress_of(invented) as progress, pytest.raises(CannotWrite, match="nothing was written") as caught:
        export(progress, tmp_path)
    assert caught.value.fix == "Give an empty folder, or one that does not exist yet."
    assert [path.name for path in (tmp_path / "fretsure-export").iterdir()] == ["mine.txt"]


def test_a_link_is_no_folder_of_its_own(invented: Environment, tmp_path: Path) -> None:
    (tmp_path / "mine.txt").touch()
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "fretsure-export").symlink_to("elsewhere")
    with progress_of(invented) as progress, pytest.raises(CannotWrite, match="nothing was written"):
        export(progress, tmp_path)
    assert list((tmp_path / "elsewhere").iterdir()) == []


@pytest.mark.long
def test_an_export_is_for_its_owner_alone(invented: Environment, tmp_path: Path) -> None:
    before = os.umask(0)
    try:
        folder = exported(invented, tmp_path / "new" / "export")
    finally:
        os.umask(before)
    assert {path.stat().st_mode & 0o777 for path in folder.iterdir()} == {0o600}
    assert {path.stat().st_mode & 0o777 for path in (folder, folder.parent)} == {0o700}


@pytest.mark.long
def test_a_link_laid_in_the_way_of_what_is_written_aside_is_not_followed(invented: Environment, tmp_path: Path) -> None:
    victim = tmp_path / "victim"
    victim.write_text("dear diary")
    folder = tmp_path / "export"
    folder.mkdir()
    for name in FILES:
        (folder / f".{name}.{os.getpid()}.new").symlink_to(victim)
    exported(invented, folder)
    assert victim.read_text() == "dear diary"


@pytest.mark.long(but=1)
@pytest.mark.parametrize("planted", ["pipe", "/dev/zero"])
def test_a_package_that_would_never_end_is_not_read(planted: str, invented: Environment, tmp_path: Path) -> None:
    if planted == "pipe":
        os.mkfifo(tmp_path / "datapackage.json")
    else:
        (tmp_path / "datapackage.json").symlink_to(planted)
    with progress_of(invented) as progress:
        assert export(progress, tmp_path) == tmp_path / "fretsure-export"


@pytest.mark.long
def test_what_a_killed_export_left_is_swept_up_in_time(invented: Environment, tmp_path: Path) -> None:
    old, young, other = (tmp_path / name for name in (".keys.csv.17.new", ".keys.csv.18.new", ".notes.txt.17.new"))
    for path in (old, young, other):
        path.write_text("half")
    for path in (old, other):
        os.utime(path, (1, 1))
    exported(invented, tmp_path)
    assert (old.exists(), young.exists(), other.exists()) == (False, True, True)


def test_a_file_that_was_changed_since_is_left_alone(invented: Environment, tmp_path: Path) -> None:
    folder = exported(invented, tmp_path / "export")
    with (folder / "cards.csv").open("a") as file:
        file.write("my own remark\r\n")
    with progress_of(invented) as progress, pytest.raises(CannotWrite, match="changed since it was exported"):
        export(progress, folder)
    assert "my own remark" in (folder / "cards.csv").read_text()


@pytest.mark.parametrize("place", ["export", "export/inside", "link"])
def test_a_folder_that_is_a_file(place: str, invented: Environment, tmp_path: Path) -> None:
    (tmp_path / "export").write_text("a file")
    (tmp_path / "link").symlink_to(tmp_path / "nowhere")
    with progress_of(invented) as progress, pytest.raises(CannotWrite, match="is not a folder") as caught:
        export(progress, tmp_path / place)
    assert str(tmp_path / place.partition("/")[0]) in caught.value.message
    assert caught.value.fix == "Give the name of a folder; it is made if it does not exist. The record was not touched."
    assert (tmp_path / "export").read_text() == "a file"


def test_what_fails_half_way_leaves_nothing(
    invented: Environment, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(progress: Progress) -> str:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("drill.export.package.report", full)
    with progress_of(invented) as progress, pytest.raises(CannotWrite, match="No space left"):
        export(progress, tmp_path / "export")
    assert list((tmp_path / "export").iterdir()) == []


# -- long records ------------------------------------------------------------------------------------------------------


ROOM = 200_000
"""Bytes that may differ; the answers between the short and the long record would take ten times as many."""


class Long(Record):
    """A record that makes its answers up as they are read."""

    def __init__(self, length: int) -> None:
        self._length = length

    def identify(self) -> LearnerRow:
        return LearnerRow("ana")

    def attempts(self, card: str | None = None) -> Iterator[AttemptRow]:
        return (attempt(number) for number in range(self._length))

    def attempt_count(self) -> int:
        return self._length

    def drills(self) -> Iterator[DrillRow]:
        return iter((DRILL,))

    def landings(self) -> Iterator[LandingRow]:
        return iter(())


def peak_of(rows: Iterator[AttemptRow]) -> Iterator[AttemptRow]:
    """Pass rows on; the most memory held meanwhile is measured."""
    tracemalloc.start()
    yield from rows


def measured() -> int:
    """The most bytes held since `peak_of` began."""
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return most


@pytest.mark.long
def test_a_long_record_takes_no_more_memory_than_a_short_one(tmp_path: Path) -> None:
    most: list[int] = []

    def watch(rows: Iterable[AttemptRow], total: int) -> Iterator[AttemptRow]:
        yield from peak_of(iter(rows))
        most.append(measured())

    for length in (10, 500, 5000):
        export(replace(beginner(deck="naturals"), log=Long(length)), tmp_path / f"{length}", watch)
        assert len((tmp_path / f"{length}" / "attempts.csv").read_text().splitlines()) == 1 + length
    _, short, long = most
    assert long < short + ROOM


@pytest.mark.long
def test_what_the_log_comes_to_is_counted_in_bounded_memory() -> None:
    most = []
    for length in (500, 5000):
        in_one_week = (attempt(0, uid=f"{number}") for number in range(length))
        assert LogCounts.of(peak_of(in_one_week)).weeks[0].answers == length
        most.append(measured())
    assert most[1] < most[0] + ROOM


def test_the_bar_shows_how_far_it_has_come() -> None:
    stream = io.StringIO()
    rows = [attempt(number) for number in range(5000)]
    assert list(progress_bar(stream, visible=True)(rows, len(rows))) == rows
    strokes = stream.getvalue().split("\r")[1:]
    assert strokes[0] == "[..............................]   0% of the answers"
    assert strokes[-1] == "[##############################] 100% of the answers\n"
    silent = io.StringIO()
    assert list(progress_bar(silent, visible=False)(rows, len(rows))) == rows
    assert silent.getvalue() == ""


@pytest.mark.long
def test_what_was_written_is_told(invented: Environment, tmp_path: Path) -> None:
    with progress_of(invented) as progress:
        lines = list(export_lines(progress, invented, tmp_path / "export"))
    assert lines == [f"Exported to {tmp_path / 'export'}:", *(f"    {name}" for name in FILES)]
    assert invented.stderr.getvalue() == ""  # type: ignore[attr-defined]  # no terminal, no bar
    with progress_of(invented) as progress:
        first, *_ = export_lines(progress, invented, tmp_path / "export")
    assert first == f"Exported to {tmp_path / 'export'}, replacing your earlier export there:"
