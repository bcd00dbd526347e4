"""Planted weaknesses are told, and healthy students are left in peace; `support/class_of` makes the students up."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import pytest

from drill.classroom.answers import Answers
from drill.classroom.weaknesses import FEWEST_ANSWERS, Weakness, weaknesses
from drill.present.dates import iso_utc
from drill.record import AttemptRow
from tests.support.class_of import EIGHT, Student, drawn, log, with_a_weakness

PLANTED = {
    "Ada": ("mix-up", {("mix-up", "other string")}),
    "Ben": ("mix-up", {("mix-up", "parallel for relative")}),
    "Dan": ("slow", {("side", "flat")}),
    "Eve": ("misses", {("string", "5"), ("shape", "string-5")}),
    "Fay": ("mix-up", {("mix-up", "wrong finger")}),
    "Gil": ("misses", {("side", "flat")}),
    "Hal": ("slow", {("family", "relative-minor"), ("family", "relative-major")}),
}
"""What is to be told of each; a string's shape and the string itself name the same cards of the deck."""
HEALTHY = 20


@cache
def answers_of(student: Student, seed: int) -> Answers:
    """The answers of a student, counted."""
    answers = Answers()
    for row in log(student, seed):
        if isinstance(row, AttemptRow):
            times = str(row.thinking_ms), str(row.target_ms)
            asked = iso_utc(row.asked_at / 1000) or ""
            answers.add(row.card, asked, str(row.utc_offset_min), row.given, bool(row.correct), row.mixup or "", *times)
    return answers


def told(students: Sequence[Student], seed: int) -> dict[str, list[Weakness]]:
    found = weaknesses([answers_of(student, seed) for student in students])
    return {student.name: each for student, each in zip(students, found, strict=True)}


def assert_told(name: str, found: list[Weakness]) -> None:
    """The weakness planted in everyone of this name is told, and first."""
    sort, groups = PLANTED[name.split()[0]]
    assert found, f"nothing is told of {name}"
    assert (found[0].sort, found[0].group in groups) == (sort, True), (name, found)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("seed", [1, 2, 3, 201, 202])
def test_each_planted_weakness_of_eight_is_told(seed: int) -> None:
    found = told(EIGHT, seed)
    for name in PLANTED:
        assert_told(name, found[name])
    assert found["Cleo"] == [], "who stopped was well until then"


@pytest.mark.long
@pytest.mark.parametrize("seed", [11, 12, 211])
def test_twenty_drawn_at_random_are_told_theirs(seed: int) -> None:
    students = [with_a_weakness(number, seed) for number in range(20)]
    found = told(students, seed)
    for student in students:
        if not student.name.startswith("Cleo"):
            assert_told(student.name, found[student.name])


@pytest.mark.long
@pytest.mark.parametrize("seed", [21, 22, 23, 24, 221, 222])
def test_of_a_healthy_class_one_in_ten_at_most_is_told_anything(seed: int) -> None:
    found = told([drawn(number, seed) for number in range(HEALTHY)], seed)
    alarmed = {name: each for name, each in found.items() if each}
    assert len(alarmed) <= HEALTHY // 10, alarmed


@pytest.mark.long
def test_a_weakness_is_told_among_healthy_students() -> None:
    students = [*(drawn(number, 31) for number in range(HEALTHY)), EIGHT[0], EIGHT[3]]
    found = told(students, 31)
    assert_told("Ada", found["Ada"])
    assert_told("Dan", found["Dan"])


@pytest.mark.long
def test_few_answers_prove_nothing() -> None:
    student = Answers()
    for number in range(FEWEST_ANSWERS - 1):
        card = f"note-at-fret:string=6:fret={number % 8}"
        student.add(card, "2026-01-05T09:00", "0", "", False, "", "", "2000")
    others = [answers_of(drawn(number, 5), 5) for number in range(6)]
    assert weaknesses([student, *others])[0] == []


@pytest.mark.long(but=1)
@pytest.mark.parametrize("name", ["Ada", "Ben", "Fay", "Eve", "Gil"])
def test_a_student_without_a_class_is_still_told_a_planted_weakness(name: str) -> None:
    [student] = [each for each in EIGHT if each.name == name]
    [found] = weaknesses([answers_of(student, 103)])
    assert_told(name, found)


@pytest.mark.long
@pytest.mark.parametrize("size", [1, 2, 4])
def test_too_few_for_a_class_are_not_told_what_is_ordinary(size: int) -> None:
    """Of forty healthy students, each alone, or in twos and fours, one in ten at most is told anything."""
    alarmed = {}
    for first in range(0, 40, size):
        students = [drawn(first + number, 131) for number in range(size)]
        alarmed |= {name: each for name, each in told(students, 131).items() if each}
    assert len(alarmed) <= 4, alarmed


def mixing_up(times: int, of: int) -> Answers:
    """Somebody who takes the other string so often among answers to one kind of card, and errs nowhere else."""
    found = Answers()
    for number in range(of):
        card, wrong = f"shape-anchor:key=Fm:shape=string-{5 + number % 2}", number < times
        name = "other string" if wrong else ""
        found.add(card, f"2026-01-05T09:{number % 60:02}", "0", "8", not wrong, name, "1500", "3000")
    return found


def test_a_slip_now_and_then_is_no_weakness_however_rare_it_is_among_the_others() -> None:
    others = [mixing_up(0, 400) for _ in range(8)]
    assert weaknesses([mixing_up(36, 400), *others])[0] == [], "9 %"
    assert weaknesses([mixing_up(120, 400), *others])[0][0].group == ("mix-up", "other string"), "30 %"


def test_who_is_in_time_is_not_slow_whatever_the_others_do() -> None:
    def at(share: float) -> Answers:
        found = Answers()
        for number in range(240):
            key = ("F", "Bb", "Eb", "Ab", "G", "D", "A", "E")[number % 8]
            thinking = str(round(3000 * (share if number % 8 < 4 else 0.3)))
            card = f"shape-anchor:key={key}:shape=string-{5 + number // 8 % 2}"
            found.add(card, f"2026-01-05T09:{number % 60:02}", "0", "8", True, "", thinking, "3000")
        return found

    others = [at(0.3) for _ in range(8)]
    assert weaknesses([at(0.9), *others])[0] == [], "three times as slow in flat keys as the others, and in time"
    slow = weaknesses([at(1.5), *others])[0]
    assert slow and slow[0].sort == "slow"


def test_who_holds_is_not_stuck_whatever_the_others_do() -> None:
    def missing(times: int) -> Answers:
        found = Answers()
        for number in range(400):
            key = ("F", "Bb", "Eb", "Ab", "G", "D", "A", "E")[number % 8]
            wrong = number % 8 < 4 and number < times
            card = f"shape-anchor:key={key}:shape=string-{5 + number // 8 % 2}"
            found.add(card, f"2026-01-05T09:{number % 60:02}", "0", "" if wrong else "8", not wrong, "", "", "3000")
        return found

    others = [missing(0) for _ in range(8)]
    assert weaknesses([missing(72), *others])[0] == [], "18 % of the answers in flat keys"
    assert weaknesses([missing(160), *others])[0], "40 % of them"


def test_nobody_is_told_anything_of_a_class_without_answers() -> None:
    assert weaknesses([Answers(), Answers()]) == [[], []]
