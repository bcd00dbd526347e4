"""Figures that compare students: the same whatever deck an export was made for, and no student counted for another."""

from __future__ import annotations

import html
import json
from datetime import date
from pathlib import Path
from statistics import fmean

import pytest

from drill.classroom.answers import Answers
from drill.classroom.exports import Export, Standing
from drill.classroom.gathering import Gathered, Roll
from drill.classroom.lines import class_lines, grew_lines, mixup_words, weakest
from drill.classroom.sources import ASK, Folder, Skipped
from drill.classroom.view import ClassView
from drill.present.voice import Voice
from tests.classroom.test_class_command import Ran, fretsure  # noqa: F401 the fixture
from tests.support.class_of import EIGHT, write_log

NOBODY = Standing(0, 0, 0, None, None, None)


def gathered(name: str, answers: Answers, strengths: dict[str, float] | None = None) -> Gathered:
    export = Export(
        Folder(Path(name)), name, name, 1_767_603_600.0, "two-shapes", "standard", {("whole", ""): NOBODY}, {}, 0.0, (),
        strengths or {},
    )  # fmt: skip
    return Gathered(name, name, export, answers, (), name)


def view(*students: Gathered) -> ClassView:
    return ClassView(Roll(students, ()), date(2026, 1, 6))


def other_string(times: int, of: int, string: int) -> Answers:
    found = Answers()
    for number in range(of):
        wrong = number < times
        card = f"shape-anchor:key=Fm:shape=string-{string}"
        mixup, given = ("other string", "8") if wrong else ("", "1")
        found.add(card, f"2026-01-05T09:{number % 60:02}", "0", given, not wrong, mixup, "1500", "3000")
    return found


@pytest.mark.long
def test_the_same_record_has_the_same_strengths_whatever_deck_it_is_exported_for(
    fretsure: Ran,  # noqa: F811
    tmp_path: Path,
) -> None:
    (tmp_path / "logs").mkdir()
    record = tmp_path / "ada.sqlite3"
    fretsure("restore", write_log(EIGHT[0], 1, tmp_path / "logs"), "--record", record)
    found = []
    for deck in ("two-shapes", "naturals"):
        fretsure("export", tmp_path / deck, "--deck", deck, "--record", record)
        [ada] = json.loads(fretsure("class", tmp_path / deck, "--json")[1])["students"]
        rows = {(facet, row["name"]): row for facet in ("strings", "families") for row in ada[facet] if row["seen"]}
        found.append({"whole": ada["strength"]} | {name: (row["seen"], row["strength"]) for name, row in rows.items()})
    assert found[0].keys() == found[1].keys()
    for name, figure in found[0].items():
        assert found[1][name] == pytest.approx(figure, rel=1e-4), name


def test_students_are_compared_over_the_cards_that_most_were_asked() -> None:
    common = {f"card {number}": 0.5 for number in range(6)}
    ana = gathered("Ana", Answers(), common | {f"hard {number}": 0.1 for number in range(20)})
    ben = gathered("Ben", Answers(), dict.fromkeys(common, 0.7))
    cem = gathered("Cem", Answers(), {"card 0": 0.9})
    found = {each.label: each.strength_shared for each in view(ana, ben, cem).students}
    assert found == {"Ana": fmean(common.values()), "Ben": pytest.approx(0.7), "Cem": None}, "of one card nothing"
    assert view(ana).students[0].strength_shared is None, "there is nobody to be compared with"


def test_what_several_mix_up_is_told_with_the_share_of_each() -> None:
    ana, ben = gathered("Ana", other_string(300, 400, 6)), gathered("Ben", other_string(12, 60, 5))
    cem, dan = gathered("Cem", other_string(4, 60, 5)), gathered("Dan", other_string(10, 50, 5))
    [mixup] = view(ana, ben, cem, dan).shared_mixups
    assert mixup.students == ("Ana", "Ben", "Dan"), "Cem slips as everybody does"
    assert [share.rate for share in mixup.shares] == [0.75, 0.2, 0.2]
    assert mixup.rate == 0.2, "Ana, who has most of the answers, does not speak for the others"
    assert mixup.place == ("shape-anchor", 5), "where it happens to two of three"
    words, command = mixup_words(mixup)
    assert "Ana 75% of 400; Ben 20% of 60; Dan 20% of 50" in words
    assert command == "fretsure focus --family shape-anchor --string 5"


@pytest.mark.long
def test_the_page_says_over_what_strengths_are_taken(fretsure: Ran, tmp_path: Path) -> None:  # noqa: F811
    (tmp_path / "logs").mkdir()
    for each in EIGHT[:3]:
        write_log(each, 1, tmp_path / "logs")
    fretsure("class", tmp_path / "logs", "--html", tmp_path / "class.html")
    page = html.unescape((tmp_path / "class.html").read_text(encoding="utf-8"))
    assert "over all cards ever asked" in page
    assert "those that more than half of the class was asked" in page


def in_time_from(days: list[str]) -> Answers:
    """One card more on each day, answered in time."""
    found = Answers()
    for number, day in enumerate(days):
        found.add(f"note-at-fret:string=6:fret={number}", f"{day}T09:00", "0", "E", True, "", "900", "1500")
    return found


def test_who_began_lately_is_said_to_have_grown_since_the_first_day() -> None:
    lately = in_time_from(["2025-12-29"] + ["2026-01-05"] * 9)
    long_ago = in_time_from(["2025-10-29"] + ["2026-01-04", "2026-01-05"] * 4)
    assert [*grew_lines(view(gathered("Ana", lately), gathered("Ben", long_ago)))] == [
        "Ana: 10 cards in time, 1 on the first day",
        "Ben: 9 cards in time, 1 four weeks before",
    ]


def test_of_one_kind_alone_nobody_is_weakest() -> None:
    ana = gathered("Ana", Answers())
    rows = {("family", "shape-anchor"): Standing(10, 6, 6, 0.75, 0.2, 0.7)}
    ana.newest.standing.update(rows)
    [student] = view(ana).students
    assert weakest(student, "family") is None, "there is nothing it is weaker than"
    ana.newest.standing["family", "relative-minor"] = Standing(5, 4, 4, 0.9, 0.2, 0.9)
    assert weakest(student, "family") == "shape-anchor"


def test_a_class_fits_a_terminal_of_eighty_columns_and_commands_stay_whole() -> None:
    ana, ben = gathered("Ana (4266795a)", other_string(300, 400, 6)), gathered("Ben", other_string(12, 60, 5))
    there = ClassView(Roll((ana, ben), (Skipped("in/ben.zip", "is a damaged archive.", ASK),)), date(2026, 1, 6))
    lines = [*class_lines(there, Voice().say, 80)]
    commands = [line for line in lines if line.lstrip().startswith("fretsure focus")]
    assert commands
    assert max(len(line) for line in lines if line not in commands) <= 80
    [ana_row] = [line for line in lines if line.startswith("Ana (4266795a)")]
    assert ana_row.split()[2:] == ["400", "(0)", "25%", "(-)", "1", "(-)", "-", "-"], "a row stays in one line"
