"""`fretsure class` from the folder a teacher has to what the teacher reads: every sort of export, and every bad one."""

from __future__ import annotations

import csv
import html
import json
import os
import re
import shutil
import zipfile
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from drill.classroom.columns import CLASS, TABLES
from drill.classroom.exports import read_export
from drill.classroom.sources import Folder
from drill.cli.main import main
from drill.present.dates import day_in_words
from drill.present.figures import per_cent
from drill.record import Record
from tests.export.conftest import DRILL, attempt, exported, world
from tests.support.class_of import EIGHT, write_log
from tests.support.meanings import meanings

Ran = Callable[..., tuple[int, str, str]]
DAY_MS = 86_400_000


@pytest.fixture
def fretsure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Ran:
    """Runs a command in this process, away from anybody's record."""
    monkeypatch.setenv("FRETSURE_RECORD", str(tmp_path / "teacher.sqlite3"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.setenv("COLUMNS", "80")

    def run(*arguments: str | Path) -> tuple[int, str, str]:
        code = main([str(each) for each in arguments])
        said = capsys.readouterr()
        return code, said.out, said.err

    return run


def student(folder: Path, name: str, days: int = 3, at: Path | None = None, called: str = "") -> Path:
    """The export of a student who drilled on some days; two may be called alike."""
    here = world(folder / f"home-{len(list(folder.iterdir()))}")
    with Record.open(here.record_path, here.now) as record:
        record.start_drill(DRILL._replace(id=f"{name} {days}"))
        for day in range(days):
            uid, moment = f"{name}-{day}", DRILL.started_at - day * DAY_MS
            record.append(attempt(1, uid=uid, drill=f"{name} {days}", asked_at=moment, answered_at=moment + 1500))
        record.call(called or name)
    return exported(here, at or folder / "class" / f"export-{len(list(folder.iterdir()))}")


def zipped(folder: Path, archive: Path, inside: str = "") -> Path:
    """An export as one archive; the folder is gone."""
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as file:
        for path in folder.iterdir():
            file.write(path, f"{inside}{path.name}")
    shutil.rmtree(folder)
    return archive


def test_the_page_names_each_planted_weakness(fretsure: Ran, tmp_path: Path) -> None:
    logs = tmp_path / "logs"
    logs.mkdir()
    for each in EIGHT:
        write_log(each, 1, logs)
    code, _, _ = fretsure("class", logs, "--html", tmp_path / "class.html")
    page = html.unescape((tmp_path / "class.html").read_text(encoding="utf-8"))
    assert code == 0
    parts = {part.partition("</dt>")[0]: part for part in page.split("<dt>")[1:]}
    for name, words in {
        "Ada": "mix-up “other string”: ",
        "Ben": "mix-up “parallel for relative”: ",
        "Dan": "slow at flat keys: ",
        "Eve": "misses string 5 (A): ",
        "Fay": "mix-up “wrong finger”: ",
        "Gil": "misses flat keys: ",
        "Hal": "slow at relative major: ",
    }.items():
        assert words in parts[name]
        assert "(expected: " in parts[name]
        assert "fretsure focus --" in parts[name]
    assert re.search(r"Cleo: no answer for 1\d days, since \d+ January 2026", page)
    assert not re.search(r"\d{4}-\d\d", re.sub(r"<style>.*?</style>|<meta[^>]*>", "", page, flags=re.DOTALL))
    assert not list(tmp_path.glob("teacher*")), "the teacher's own record is not touched, not even made"


def test_the_page_has_the_figures_of_the_week_and_a_dash_where_there_is_none(fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, "Ana")
    fretsure("class", tmp_path / "class", "--html", tmp_path / "class.html")
    week = (tmp_path / "class.html").read_text(encoding="utf-8").partition('<th scope="row">Ana</th>')[2]
    cells = re.findall(r"<td[^>]*>([^<]*)</td>", week.partition("</tr>")[0].replace("\N{NO-BREAK SPACE}", " "))
    answers, right, cards_in_time, strength = ("3", "0"), (per_cent(1), "–"), ("1", "–"), (per_cent(0.99), "–", "–")
    assert cells == [*answers, *right, *cards_in_time, *strength, "5 Jan 2026", "5 Jan 2026"]


@pytest.mark.long
def test_folders_archives_and_logs_are_read_alike_and_each_student_once(fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, "Ana")
    ben, log = student(tmp_path, "Ben"), student(tmp_path, "Cem")
    zipped(ben, tmp_path / "class" / "from-ben.zip", "some/where/")
    [lines] = log.glob("*.jsonl")
    lines.rename(tmp_path / "class" / "mailed.jsonl")
    shutil.rmtree(log)
    code, out, _ = fretsure("class", tmp_path / "class", "--json")
    found = json.loads(out)
    assert code == 0
    assert [each["student"] for each in found["students"]] == ["Ana", "Ben", "Cem"]
    assert [each["answers"] for each in found["students"]] == [3, 3, 3]
    assert found["skipped"] == []


def test_of_two_logs_the_one_with_the_last_answer_counts_whenever_it_was_saved(fretsure: Ran, tmp_path: Path) -> None:
    [log] = student(tmp_path, "Ana").glob("*.jsonl")
    lines = log.read_bytes().splitlines(keepends=True)
    answers = [number for number, line in enumerate(lines) if b'"attempt"' in line]
    (tmp_path / "logs").mkdir()
    old, new = tmp_path / "logs" / "old.jsonl", tmp_path / "logs" / "new.jsonl"
    new.write_bytes(b"".join(lines))
    old.write_bytes(b"".join(line for number, line in enumerate(lines) if number != answers[-1]))
    os.utime(new, (new.stat().st_mtime - 9000,) * 2)  # the old mail was saved once more
    [ana] = json.loads(fretsure("class", tmp_path / "logs", "--json")[1])["students"]
    assert ana["answers"] == len(answers)


def test_the_file_a_student_mails_is_read(fretsure: Ran, tmp_path: Path) -> None:
    record = tmp_path / "ana.sqlite3"
    with Record.open(record, lambda: DRILL.started_at / 1000) as opened:
        opened.start_drill(DRILL)
        opened.append(attempt(1))
    (tmp_path / "class").mkdir()
    mail = tmp_path / "class" / "ana.zip"
    assert fretsure("export", "--one", mail, "--name", "Ana", "--record", record)[0] == 0
    [ana] = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["students"]
    assert (ana["student"], ana["answers"]) == ("Ana", 1)


def test_who_gives_no_name_is_known_by_the_file_that_came(fretsure: Ran, tmp_path: Path) -> None:
    export = student(tmp_path, "Ana")
    package = export / "datapackage.json"
    described = json.loads(package.read_text(encoding="utf-8"))
    package.write_text(json.dumps(described | {"learner": {"id": "1a2b3c4d5e6f", "name": None}}), encoding="utf-8")
    zipped(export, tmp_path / "class" / "homework-ana.zip", "fretsure-export-1a2b3c4d/")
    [ana] = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["students"]
    assert ana["student"] == "homework-ana.zip (1a2b3c4d)"


FLATS = """title = "Flats"
about = "For Thursday."
goal = "2 keys ready"
until = {until}
by = "Ms Adler"
[[part]]
families = ["shape-anchor"]
keys = ["F", "Bb", "Eb"]
"""


def test_all_homework_comes_along_whatever_deck_the_export_is_made_for(
    fretsure: Ran, tmp_path: Path, added_decks: Path
) -> None:
    for name, until in (("soon", "2226-12-03"), ("past", date.today() - timedelta(days=5))):
        (tmp_path / f"{name}.toml").write_text(FLATS.format(until=until).replace("Flats", name.title()))
        assert fretsure("decks", "add", tmp_path / f"{name}.toml")[0] == 0
    (tmp_path / "class").mkdir()
    record = tmp_path / "ana.sqlite3"
    assert fretsure("export", "--one", tmp_path / "class" / "ana.zip", "--name", "Ana", "--record", record)[0] == 0
    soon = "“Soon”, set by Ms Adler until 3 December 2226"
    past = f"“Past”, set by Ms Adler until {day_in_words(date.today() - timedelta(days=5))}, now over"
    how_far = "Ana: 0 of 2 keys ready, 0 of 6 cards asked"
    shown = fretsure("class", tmp_path / "class")[1]
    assert f"Homework\n    {soon}\n        {how_far}\n    {past}\n        {how_far}\n" in shown
    [ana] = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["students"]
    assert [(each["deck"], each["over"], each["by"], each["done"], each["cards"]) for each in ana["homework"]] == [
        ("soon", False, "Ms Adler", 0, 6), ("past", True, "Ms Adler", 0, 6),
    ]  # fmt: skip
    fretsure("class", tmp_path / "class", "--html", tmp_path / "class.html", "--csv", tmp_path / "csv")
    page = (tmp_path / "class.html").read_text(encoding="utf-8")
    assert all(f'<h3>{head}</h3>\n<ul class="cards">\n<li>{how_far}</li>' in page for head in (soon, past))
    with (tmp_path / "csv" / "homework.csv").open(encoding="utf-8", newline="") as file:
        assert [(row["student"], row["deck"], row["over"]) for row in csv.DictReader(file)] == [
            ("Ana", "soon", "false"), ("Ana", "past", "true"),
        ]  # fmt: skip


@pytest.mark.long
def test_who_lacks_the_homework_that_most_have_is_named(fretsure: Ran, tmp_path: Path) -> None:
    told = '[{"deck": "flats", "title": "Flats", "by": "Ms Adler", "done": 0, "wanted": 2, "goal": "2 keys ready"}]'
    for number, name in enumerate(("Ana", "Ben", "Cem", "Dan")):
        package = student(tmp_path, name) / "datapackage.json"
        if number < 2:
            package.write_text(package.read_text().replace('"deck":', f'"homework": {told}, "deck":', 1))
    assert "not in the export" not in fretsure("class", tmp_path / "class")[1], "it may be set to two of them alone"
    package = next(path for path in (tmp_path / "class").glob("*/datapackage.json") if '"Cem"' in path.read_text())
    package.write_text(package.read_text().replace('"deck":', f'"homework": {told}, "deck":', 1))
    assert "Cem: 0 of 2 keys ready\n        not in the export of Dan\n" in fretsure("class", tmp_path / "class")[1]


def test_of_a_log_alone_only_homework_that_it_has_drills_of_is_told(
    fretsure: Ran, tmp_path: Path, added_decks: Path
) -> None:
    """The decks are the teacher's own; nobody knows whether Ben was given them."""
    for name, deck in (("Ana", "flats"), ("Ben", DRILL.deck)):
        [log] = student(tmp_path, name).glob("*.jsonl")
        mailed = tmp_path / "class" / f"{name}.jsonl"
        mailed.write_text(log.read_text().replace(f'"deck": "{DRILL.deck}"', f'"deck": "{deck}"'))
        shutil.rmtree(log.parent)
    (tmp_path / "flats.toml").write_text(FLATS.format(until="2226-12-03"))
    assert fretsure("decks", "add", tmp_path / "flats.toml")[0] == 0
    students = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["students"]
    assert {each["student"]: [row["deck"] for row in each["homework"]] for each in students} == {
        "Ana": ["flats"], "Ben": [],
    }  # fmt: skip


def test_homework_of_an_export_of_before_is_read(fretsure: Ran, tmp_path: Path) -> None:
    package = student(tmp_path, "Ana") / "datapackage.json"
    told = '{"by": null, "until": null, "goal": "5 keys ready", "note": null, "done": 3, "wanted": 5, "reached": false}'
    package.write_text(package.read_text().replace('"deck":', f'"homework": {told}, "deck":', 1))
    assert "    “two-shapes”, set\n        Ana: 3 of 5 keys ready\n" in fretsure("class", tmp_path / "class")[1]


@pytest.mark.parametrize("homework", ['{"goal": "5 keys ready", "wanted": "x"}', "[1]", '{"goal": 1, "wanted": 1e999}'])
def test_homework_that_no_export_holds_is_a_damaged_export(homework: str, fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, "Ana")
    package = student(tmp_path, "Ben") / "datapackage.json"
    package.write_text(package.read_text().replace('"deck":', f'"homework": {homework}, "deck":', 1))
    [skipped] = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["skipped"]
    assert "damaged" in skipped["why"]


def test_a_pipe_named_like_an_archive_holds_nothing_up(fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, "Ana")
    os.mkfifo(tmp_path / "class" / "gift.zip")
    [skipped] = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["skipped"]
    assert "a pipe" in skipped["why"]


@pytest.mark.long
def test_the_newest_export_of_a_student_counts_and_the_one_before_is_remembered(fretsure: Ran, tmp_path: Path) -> None:
    here = world(tmp_path / "home")
    for week in range(3):
        later = here._replace(now=lambda week=week: here.now() + 7 * 86_400 * week)  # type: ignore[misc]
        with Record.open(here.record_path, later.now) as record:
            record.start_drill(DRILL._replace(id=f"drill-{week}"))
            moment = DRILL.started_at + 7 * DAY_MS * week
            record.append(attempt(week, drill=f"drill-{week}", asked_at=moment, answered_at=moment + 1500))
            record.call("Ana")
        exported(later, tmp_path / "class" / f"week-{week}")
    [ana] = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["students"]
    assert (ana["answers"], ana["answers_this_week"], ana["answers_last_week"]) == (3, 1, 1)
    assert ana["export"].endswith("week-2")
    assert ana["strength_before"] is not None


def test_an_older_export_that_does_not_say_whose_it_is_is_known_by_its_answers(fretsure: Ran, tmp_path: Path) -> None:
    export, other = student(tmp_path, "Ana"), student(tmp_path, "Ben", days=2)
    for each, name in ((export, "ana"), (other, "ben")):
        before = shutil.copytree(each, tmp_path / "class" / f"before-{name}") / "datapackage.json"
        package = json.loads(before.read_text(encoding="utf-8"))
        del package["learner"]
        before.write_text(json.dumps(package | {"created": "2025-12-24T08:00:00Z"}), encoding="utf-8")
    found = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["students"]
    assert [each["student"] for each in found] == ["Ana", "Ben"]


def test_two_of_one_name_are_told_apart(fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, "Ana")
    student(tmp_path, "Ana", days=2)
    found = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["students"]
    assert len({each["student"] for each in found}) == 2
    assert all(each["student"].startswith("Ana (") for each in found)


def test_who_began_anew_is_told_how_to_be_one_student_again_and_then_is_one(fretsure: Ran, tmp_path: Path) -> None:
    """A new machine makes a new identity; the exports of before, under both, still lie in the teacher's folder."""
    old = student(tmp_path, "Ana")
    new = world(tmp_path / f"home-{len(list(tmp_path.iterdir()))}")
    student(tmp_path, "Ana later", days=2, called="Ana")
    student(tmp_path, "Ben")
    shown = fretsure("class", tmp_path / "class")[1]
    [line] = [line for line in shown.splitlines() if "--mine" in line]
    assert line.strip().startswith("Ana (")
    assert "two students, or one who began anew" in line
    assert "Ben" not in line
    [log] = old.glob("*.jsonl")
    assert fretsure("restore", log, "--mine", "--record", new.record_path)[0] == 0
    exported(new._replace(now=lambda: DRILL.started_at / 1000 + 86_400), tmp_path / "class" / "both")
    shown, found = (fretsure("class", tmp_path / "class", *more)[1] for more in ((), ("--json",)))
    assert [(each["student"], each["answers"]) for each in json.loads(found)["students"]] == [("Ana", 5), ("Ben", 3)]
    assert "began anew" not in shown


def _cut(export: Path) -> None:
    [table] = export.glob("attempts*.csv")
    table.write_bytes(table.read_bytes()[:-20])


def _foreign(export: Path) -> None:
    (export / "datapackage.json").write_text('{"name": "bird-counts", "resources": []}')


def _garbled(export: Path) -> None:
    (export / "datapackage.json").write_text("{" * 5000)


def _outside(export: Path) -> None:
    text = (export / "datapackage.json").read_text()
    [table] = export.glob("cards*.csv")
    (export / "datapackage.json").write_text(text.replace(table.name, "../../secret.csv"))


def _without_cards(export: Path) -> None:
    [table] = export.glob("cards*.csv")
    table.unlink()


def _endless_line(export: Path) -> None:
    [table] = export.glob("cards*.csv")
    table.write_bytes(b"x" * 300_000)


@pytest.mark.long(but=2)
@pytest.mark.parametrize("harm", [_cut, _foreign, _garbled, _outside, _without_cards, _endless_line])
def test_a_bad_export_is_named_and_passed_over(harm: Callable[[Path], None], fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, "Ana")
    bad = student(tmp_path, "Ben")
    harm(bad)
    code, out, err = fretsure("class", tmp_path / "class", "--json")
    found = json.loads(out)
    assert (code, err) == (0, "")
    assert [each["student"] for each in found["students"]] == ["Ana"]
    [skipped] = found["skipped"]
    assert str(bad) in skipped["where"]
    assert skipped["why"]


@pytest.mark.parametrize("table", ["attempts", "cards", "days"])
@pytest.mark.parametrize("packed", [False, True])
def test_of_an_export_without_one_of_its_tables_is_told_which_and_whom_to_ask(
    table: str, packed: bool, fretsure: Ran, tmp_path: Path
) -> None:
    export = student(tmp_path, "Ben")
    [gone] = export.glob(f"{table}*.csv")
    gone.unlink()
    if packed:
        zipped(export, tmp_path / "class" / "ben.zip")
    code, _, err = fretsure("class", tmp_path / "class")
    assert code == 65
    place = "archive" if packed else "export"
    assert f"{gone.name}: is missing from the {place}. Ask the student for a new one: fretsure export --one" in err
    assert "fretsure export DIR" not in err, "that is for somebody who gave a folder without exports"


def _cut_short(log: Path) -> None:
    log.write_bytes(log.read_bytes()[:-40])


def _of_another_program(log: Path) -> None:
    log.write_text('{"event": "login", "user": 3}\n')


def _in_no_way_a_log(log: Path) -> None:
    log.write_bytes(b"\xff\xfe\x00hello")


def _edited(log: Path) -> None:
    log.write_text(log.read_text().replace('"family": "note-at-fret"', '"family": 3', 1))


CHANGED = "is cut short, or was changed since it was exported (line "


@pytest.mark.long(but=1)
@pytest.mark.parametrize(
    ("harm", "why"),
    [
        (_cut_short, CHANGED),
        (_edited, CHANGED),
        (_of_another_program, "is not a log of fretsure."),
        (_in_no_way_a_log, "is not a log of fretsure."),
    ],
)
def test_what_is_wrong_with_a_log_is_told_in_plain_words(
    harm: Callable[[Path], None], why: str, fretsure: Ran, tmp_path: Path
) -> None:
    student(tmp_path, "Ana")
    [log] = student(tmp_path, "Ben").glob("*.jsonl")
    log.rename(tmp_path / "class" / "mailed.jsonl")
    shutil.rmtree(log.parent)
    harm(tmp_path / "class" / "mailed.jsonl")
    [skipped] = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["skipped"]
    assert skipped["where"] == str(tmp_path / "class" / "mailed.jsonl")
    assert skipped["why"].startswith(why)
    assert "fretsure export --one" in skipped["fix"]
    assert f"{skipped['where']}: {skipped['why']} {skipped['fix']}" in fretsure("class", tmp_path / "class")[1]


def test_a_record_and_a_table_sent_in_place_of_an_export_are_told_as_such(fretsure: Ran, tmp_path: Path) -> None:
    [table] = student(tmp_path, "Ana").glob("attempts*.csv")
    (tmp_path / "class" / "from-ben").mkdir()
    shutil.copy(table, tmp_path / "class" / "from-ben" / "attempts.csv")
    (tmp_path / "class" / "record.sqlite3").write_bytes(b"SQLite format 3\x00")
    skipped = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["skipped"]
    assert {Path(each["where"]).name: each["why"] for each in skipped} == {
        "record.sqlite3": "is a record or its backup, and no export.",
        "attempts.csv": "is one table of an export; the rest is missing.",
    }
    assert all("fretsure export --one" in each["fix"] for each in skipped)


def _slip(archive: Path) -> None:
    with zipfile.ZipFile(archive, "w") as file:
        file.writestr("../datapackage.json", "{}")


def _bomb(archive: Path) -> None:
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("datapackage.json", "{}")
        file.writestr("attempts.csv", b"\0" * 50_000_000)


def _noise(archive: Path) -> None:
    archive.write_bytes(b"PK\x03\x04" + bytes(range(256)))


def _nothing(archive: Path) -> None:
    with zipfile.ZipFile(archive, "w") as file:
        file.writestr("holiday.txt", "sun")


@pytest.mark.long(but=1)
@pytest.mark.parametrize(
    ("harm", "why"), [(_slip, "outside its folder"), (_bomb, "too large"), (_noise, "damaged"), (_nothing, "no export")]
)
def test_a_bad_archive_is_named_and_nothing_of_it_is_unpacked(
    harm: Callable[[Path], None], why: str, fretsure: Ran, tmp_path: Path
) -> None:
    student(tmp_path, "Ana")
    harm(tmp_path / "class" / "gift.zip")
    before = sorted(tmp_path.rglob("*"))
    code, out, _ = fretsure("class", tmp_path / "class", "--json")
    [skipped] = json.loads(out)["skipped"]
    assert code == 0
    assert why in skipped["why"]
    assert sorted(tmp_path.rglob("*")) == before


def test_a_folder_without_exports_says_what_to_give(fretsure: Ran, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    for place in ("empty", "nowhere"):
        code, out, err = fretsure("class", tmp_path / place)
        assert (code, out) == (65, "")
        assert place in err
        assert "Traceback" not in err


HOSTILE = "<script>alert(1)</script>{{ 7*7 }}"


def test_a_name_is_a_name_and_nothing_more(fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, HOSTILE)
    student(tmp_path, "=HYPERLINK(1)")
    code, _, _ = fretsure("class", tmp_path / "class", "--html", tmp_path / "c.html", "--csv", tmp_path / "csv")
    page = (tmp_path / "c.html").read_text(encoding="utf-8")
    assert code == 0
    assert "<script" not in page
    assert html.escape(HOSTILE) in page
    with (tmp_path / "csv" / "students.csv").open(encoding="utf-8", newline="") as file:
        assert "'=HYPERLINK(1)" in {row["student"] for row in csv.DictReader(file)}
    assert "<script>" in fretsure("class", tmp_path / "class")[1]


def test_no_file_is_written_over(fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, "Ana")
    (tmp_path / "page.html").write_text("mine")
    (tmp_path / "csv").mkdir()
    (tmp_path / "csv" / "mixups.csv").write_text("mine")
    assert fretsure("class", tmp_path / "class", "--html", tmp_path / "page.html")[0] == 73
    assert fretsure("class", tmp_path / "class", "--csv", tmp_path / "csv")[0] == 73
    assert [path.name for path in (tmp_path / "csv").iterdir()] == ["mixups.csv"]
    assert (tmp_path / "page.html").read_text() == "mine"


def test_json_and_tables_hold_what_their_columns_say(fretsure: Ran, tmp_path: Path) -> None:
    student(tmp_path, "Ana")
    fretsure("class", tmp_path / "class", "--csv", tmp_path / "csv")
    assert {path.name for path in (tmp_path / "csv").iterdir()} == {table.file for table in TABLES}
    found = json.loads(fretsure("class", tmp_path / "class", "--json")[1])
    [ana] = found["students"]
    assert {f"students[].{key}" for key in ana} | set(found) <= meanings(CLASS).keys()
    assert ana["learner"] and ana["exported"].endswith("Z")
    assert [row["name"] for row in ana["strings"]] == ["5", "6"]
    assert [row["name"] for row in ana["shapes"]] == ["string-5", "string-6"]
    [sixth] = [row for row in ana["families"] if row["name"] == "note-at-fret"]
    assert (sixth["seen"], 0.0 < sixth["strength"] < 1.0) == (1, True)


@pytest.mark.long
def test_who_stopped_is_told_and_who_exported_long_ago_is_not_thought_to_have(fretsure: Ran, tmp_path: Path) -> None:
    def at(day: int, last: int, name: str) -> None:
        here = world(tmp_path / name)
        here = here._replace(now=lambda: DRILL.started_at / 1000 + 86_400 * day)
        with Record.open(here.record_path, here.now) as record:
            record.start_drill(DRILL._replace(id=name))
            for number in range(last):
                moment = DRILL.started_at + DAY_MS * (number + 1)
                record.append(attempt(1, uid=f"{name}{number}", drill=name, asked_at=moment, answered_at=moment + 1500))
            record.call(name)
        exported(here, tmp_path / "class" / name)

    at(40, 39, "goes on")
    at(40, 20, "stopped")
    at(21, 20, "old export")
    found = json.loads(fretsure("class", tmp_path / "class", "--json")[1])["students"]
    assert {each["student"]: each["stopped_days"] for each in found} == {
        "goes on": None, "stopped": 19, "old export": None,
    }  # fmt: skip
    assert "stopped: no answer for 19 days, since 25 January 2026\n" in fretsure("class", tmp_path / "class")[1]


def test_a_folder_of_far_too_many_files_is_not_read_to_its_end(
    fretsure: Ran, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Somebody gives a whole disk."""
    student(tmp_path, "Ana", at=tmp_path / "class" / "a")
    (tmp_path / "class" / "b").mkdir()
    (tmp_path / "class" / "b" / "notes.txt").touch()
    files = sum(path.is_file() for path in (tmp_path / "class").rglob("*"))
    for most, left_out in ((files, 0), (files - 1, 1)):
        monkeypatch.setattr("drill.classroom.sources.MOST_FILES", most)
        found = json.loads(fretsure("class", tmp_path / "class", "--json")[1])
        assert [each["student"] for each in found["students"]] == ["Ana"]
        assert len(found["skipped"]) == left_out


def test_an_identity_is_as_long_as_a_log_may_have_it_and_no_longer(tmp_path: Path) -> None:
    """`export.model` allows 400 characters."""
    folder = student(tmp_path, "Ana")
    package = folder / "datapackage.json"
    described = json.loads(package.read_text(encoding="utf-8"))
    for identity in ("a" * 399 + "b", "a" * 399 + "bc"):
        described["learner"]["id"] = identity
        package.write_text(json.dumps(described), encoding="utf-8")
        assert read_export(Folder(folder)).learner == "a" * 399 + "b"
