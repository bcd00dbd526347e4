"""What goes into the log comes out of it: order, identity, filters, state."""

from __future__ import annotations

import sqlite3
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from types import NoneType
from typing import get_args, get_type_hints

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drill.errors import RecordDamaged, UnknownName
from drill.record import BEFORE_ALL, AttemptRow, DrillRow, LandingRow, Record
from drill.record.check import examine_fully
from drill.record.rows import attempt_from, check_number, values_of
from drill.system.environment import Environment
from tests.support.records import HEARD, NOT_HEARD, SELF_CHECKED, START_MS, attempt, drill, without_ids
from tests.support.worlds import HandClock


def test_an_attempt_comes_back_as_it_went_in(record: Record) -> None:
    asked = attempt(1, given="b flat", correct=False, mixup="one fret off")
    shown = attempt(2, kind="shown", given="", correct=None, thinking_ms=None)
    assert [record.append(asked), record.append(shown)] == [1, 2]
    assert without_ids(record.attempts()) == [asked, shown]
    assert [row.id for row in record.attempts()] == [1, 2]
    assert next(row.correct for row in record.attempts()) is False


def test_attempts_come_in_the_order_they_were_asked(record: Record) -> None:
    for number in (3, 1, 2):
        record.append(attempt(number))
    assert [row.uid for row in record.attempts()] == ["uid-0001", "uid-0002", "uid-0003"]


def test_questions_asked_in_the_same_millisecond_are_all_there(record: Record) -> None:
    for number in range(5):
        record.append(attempt(number, asked_at=START_MS))
    assert len(list(record.attempts())) == 5


def test_attempts_of_one_card(record: Record) -> None:
    for number in range(10):
        record.append(attempt(number, card=f"tonic-fret:key={'Am' if number % 2 else 'C'}:string=6"))
    half = list(record.attempts(card="tonic-fret:key=Am:string=6"))
    assert [row.uid for row in half] == [f"uid-000{number}" for number in (1, 3, 5, 7, 9)]
    assert list(record.attempts(card="no such card")) == []


def test_what_another_program_appended_is_news(record: Record, reopen: Callable[[], Record]) -> None:
    mine = record.append(attempt(5))
    with reopen() as other:
        other.append(attempt(1))
    assert [row.uid for row in record.news_after(BEFORE_ALL, mine, most=9)] == ["uid-0001"]
    assert record.has_news_before(attempt(5).place, mine)
    assert not record.has_news_before(BEFORE_ALL, mine)
    assert record.append(attempt(6)) == mine + 2, "the gap in the ids tells of the other program"
    assert record.last_attempt_id() == mine + 2


@pytest.mark.long
def test_the_log_is_read_a_page_at_a_time_while_it_grows(record: Record) -> None:
    """Twenty pages in memory at once would take some 15 MB; one page takes less than 2."""
    record.merge([], (attempt(number) for number in range(20_000)))
    tracemalloc.start()
    count = sum(1 for _ in record.attempts())
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert count == 20_000
    assert peak < 2_000_000
    log = record.attempts()
    next(log)
    record.append(attempt(20_000))
    assert sum(1 for _ in log) == 20_000


def test_an_attempt_and_its_state_are_kept_together_or_not_at_all(record: Record) -> None:
    record.append(attempt(1), {"learner": "1", "card": "2"})
    with pytest.raises(sqlite3.IntegrityError, match="UNIQUE"):
        record.append(attempt(1), {"learner": "never"})
    assert record.states() == {"learner": "1", "card": "2"}
    assert record.attempt_count() == 1
    record.append(attempt(2), {"learner": "3"})
    assert record.states() == {"learner": "3", "card": "2"}


def test_state_can_be_thrown_away_and_rebuilt(record: Record) -> None:
    record.append(attempt(1), {"learner": "1", "old": "2"})
    record.replace_states({"learner": "4"})
    assert record.states() == {"learner": "4"}
    assert record.attempt_count() == 1


def test_a_drill_that_is_cut_short_has_no_end(record: Record, clock: HandClock) -> None:
    record.start_drill(drill(id="drill-2", started_at=START_MS + 600_000, seed=None))
    clock.tick(900)
    record.end_drill("drill-2")
    first, second = record.drills()
    assert first == drill()
    assert second == drill(id="drill-2", started_at=START_MS + 600_000, ended_at=START_MS + 900_000, seed=None)


def test_half_a_character_and_a_megabyte_are_kept(record: Record) -> None:
    """A terminal hands over undecodable bytes as lone surrogates (PEP 383); no file can hold those."""
    record.append(attempt(1, given="B\udce2"))
    record.append(attempt(2, given="\0[/]\u202e🎸" + "x" * 1_000_000))
    assert [row.given[:4] for row in record.attempts()] == ["B?", "\0[/]"]
    assert examine_fully(record.path) == 2


def test_merging_twice_doubles_nothing(record: Record) -> None:
    record.append(attempt(3), {"learner": "1"})
    other = [attempt(number, drill="drill-2") for number in range(10)]
    assert record.merge([drill(id="drill-2")], other) == 9
    assert record.states() == {"learner": "1"}, "it still holds for the attempts that it was derived from"
    record.replace_states({"learner": "2"})
    assert record.merge([drill(id="drill-2", ended_at=7)], other) == 0
    assert record.states() == {"learner": "2"}
    assert record.attempt_count() == 10
    assert [row.drill for row in record.attempts()].count("drill-1") == 1
    assert [row.ended_at for row in record.drills()] == [None, 7]
    record.merge([drill(id="drill-2", ended_at=None)], [])
    assert [row.ended_at for row in record.drills()] == [None, 7], "an end once known stays known"


def test_landings_come_back_as_they_went_in(record: Record, reopen: Callable[[], Record]) -> None:
    for landing in (SELF_CHECKED, HEARD):
        record.append_landing(landing)
    assert list(record.landings()) == [HEARD, SELF_CHECKED]
    assert examine_fully(record.path) == 0
    with pytest.raises(sqlite3.IntegrityError, match="CHECK"):
        record.append_landing(SELF_CHECKED._replace(uid="landing-9", late_ms=4))
    record._db.execute("UPDATE landing SET late_ms = 35 WHERE uid = 'landing-1'")
    with pytest.raises(RecordDamaged, match="the landing landing-1 has changed since it was written"):
        examine_fully(record.path)


def test_more_landings_than_a_page_come_once_each(record: Record) -> None:
    record.merge([], (HEARD._replace(uid=f"landing-{number:04}") for number in range(2500)))
    assert [landing.uid for landing in record.landings()] == [f"landing-{number:04}" for number in range(2500)]


def test_landings_are_merged_by_their_uid(record: Record) -> None:
    record.append_landing(HEARD)
    assert record.merge([], [attempt(1), HEARD._replace(late_ms=9), NOT_HEARD]) == 1
    assert list(record.landings()) == [HEARD, NOT_HEARD]
    with pytest.raises(UnknownName, match=r"landing-2.*drill-9"):
        record.merge([], [SELF_CHECKED._replace(drill="drill-9")])


def test_a_record_takes_up_again_after_a_merge_without_answers(record: Record, reopen: Callable[[], Record]) -> None:
    """SQLite notes that it has counted to 0 for a table that is given no row."""
    assert record.merge([drill(id="drill-2")], []) == 0
    with reopen() as again:
        assert again.append(attempt(1)) == 1


def test_answers_belong_to_the_learner_of_the_record(record: Record, reopen: Callable[[], Record]) -> None:
    record.append(attempt(1, learner=None))
    with reopen() as again:
        again.append(attempt(2, learner=None))
        again.append_landing(NOT_HEARD)
    (mine,) = {row.learner for row in (*record.attempts(), *record.landings())}
    assert mine
    record.merge([], [attempt(3, learner="ben"), attempt(4, learner=None)])
    record.append(attempt(5, learner=None))
    assert [row.learner for row in record.attempts()] == [mine, mine, "ben", None, mine]


@pytest.mark.parametrize(("learners", "adopted"), [("a", True), ("aa", True), ("ab", False)])
def test_a_record_nobody_has_answered_in_becomes_that_of_the_one_learner_merged(
    record: Record, learners: str, adopted: bool
) -> None:
    record.merge([], (attempt(number, learner=learner) for number, learner in enumerate(learners)))
    record.append(attempt(9, learner=None))
    assert (list(record.attempts())[-1].learner == "a") is adopted


def test_merging_is_all_or_nothing(record: Record) -> None:
    with pytest.raises(UnknownName, match=r"uid-0004.*drill-9"):
        record.merge([drill(id="drill-2")], [attempt(3), attempt(4, drill="drill-9")])
    assert record.attempt_count() == 0
    assert len(list(record.drills())) == 1


def test_merged_logs_are_the_same_whichever_came_first(
    record: Record, fake_environment: Environment, tmp_path: Path
) -> None:
    mine, theirs = [attempt(1), attempt(4)], [attempt(2), attempt(3), attempt(4)]
    record.merge([], mine)
    record.merge([], theirs)
    with Record.open(tmp_path / "other.sqlite3", fake_environment.now) as other:
        other.merge([drill()], theirs)
        other.merge([], mine)
        assert without_ids(other.attempts()) == without_ids(record.attempts())
        assert list(other.drills()) == list(record.drills())


_texts = st.text(max_size=8)


@given(
    given=_texts, mixup=st.none() | _texts, right=st.none() | st.booleans(), thinking=st.none() | st.integers(0, 10**9)
)
def test_rows_survive_their_columns(given: str, mixup: str | None, right: bool | None, thinking: int | None) -> None:
    row = attempt(1, given=given, mixup=mixup, correct=right, thinking_ms=thinking)
    assert attempt_from((*values_of(row)[:-1], 0)) == row


def test_an_answer_of_before_keeps_its_check_number() -> None:
    """The number that the sample record of version 2 holds for its first answer."""
    row = attempt(1, learner=None)
    assert values_of(row)[-1] == 2857913465
    assert len({values_of(row._replace(**more))[-1] for more in ({}, {"how": "played"}, {"learner": "ana"})}) == 3


@pytest.mark.parametrize(("table", "row"), [("drill", DrillRow), ("attempt", AttemptRow), ("landing", LandingRow)])
def test_the_columns_of_the_file_are_those_of_the_rows(record: Record, table: str, row: type) -> None:
    """SQLite says of each column its name, its type and whether it may be empty."""
    sql_types = {str: "TEXT", int: "INTEGER", bool: "INTEGER"}
    declared = {}
    for name, hint in get_type_hints(row).items():
        kinds = set(get_args(hint)) or {hint}
        (kind,) = {type(each) if isinstance(each, str) else each for each in kinds - {NoneType}}
        declared[name] = (sql_types[kind], NoneType not in kinds)
    found = {
        name: (kind, bool(filled))
        for _, name, kind, filled, *_ in record._db.execute(f"PRAGMA table_info({table})")
        if name not in ("id", "crc") or table == "drill"
    }
    assert found == {name: column for name, column in declared.items() if name != "id" or table == "drill"}


@pytest.mark.parametrize(
    ("table", "change"),
    [
        ("attempt", "asked_at = 999999999999999"),
        ("attempt", "answered_at = -999999999999999"),
        ("attempt", "utc_offset_min = 100000000"),
        ("attempt", "correct = 7"),
        ("landing", "asked_at = 999999999999999"),
        ("landing", "landed = 7"),
    ],
)
def test_impossible_values_are_damage(record: Record, table: str, change: str) -> None:
    record.merge([], [attempt(1), HEARD])
    record._db.execute("PRAGMA ignore_check_constraints = ON")
    record._db.execute(f"UPDATE {table} SET {change}")
    with pytest.raises(RecordDamaged, match=r"the (answer uid-0001|landing landing-1) holds a time or a verdict"):
        list(record.attempts() if table == "attempt" else record.landings())


def test_the_check_number_is_the_published_crc_32() -> None:
    """Check value of CRC-32/ISO-HDLC for "123456789": catalogue of parametrised CRC algorithms (G. Cook)."""
    assert check_number(("123456789",)) == 0xCBF43926
    assert check_number((None,)) != check_number(("",))


def test_a_drill_without_an_answer_is_merged_into_a_record_that_stays_sound(
    fake_environment: Environment, reopen: Callable[[], Record]
) -> None:
    """A drill broken off at its first question: SQLite counts the answers of such a merge from 0."""
    with reopen() as record:
        assert record.merge([drill(id="broken-off")], []) == 0
    with reopen() as record:
        assert examine_fully(record.path) == 0
        assert record.merge([], [attempt(1, drill="broken-off")]) == 1
        assert examine_fully(record.path) == 1
