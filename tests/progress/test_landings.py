"""What was landed on in rounds is counted key by key, and moves nothing else."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from drill.progress import Progress
from drill.progress.columns import progress_object
from drill.progress.landings import LATELY, AsPlayed, as_played, landed_keys, landed_sentence
from drill.progress.lines import Lines
from drill.record import LandingRow
from drill.settings import Settings
from drill.theory.keys import parse_key
from tests.progress.conftest import AT_MS, LANDINGS
from tests.progress.test_log_alone import Copied

NAMES = Settings().voice


def test_landings_are_counted_by_key_and_by_how_they_are_known() -> None:
    found = [(row.key.name, row.how, row.times, row.last_at_ms) for row in landed_keys(LANDINGS)]
    assert found == [("F minor", "self-checked", 2, AT_MS + 7000), ("B minor", "heard", 1, AT_MS + 1000)]
    assert landed_keys([LANDINGS[0]._replace(key="H sharp dorian")]) == ()


def test_without_the_landings_all_else_stays_as_it_is(progress: Progress) -> None:
    without = replace(progress, log=Copied(list(progress.log.attempts())))
    told, told_without = progress_object(progress), progress_object(without)
    assert len(told.pop("landings")) == 2
    assert told_without.pop("landings") == []
    heard = {row["key"]: (row.pop("heard_in_time"), row.pop("heard_calls")) for row in told["readiness"]}
    assert heard.pop("B minor") == (1, 2)
    assert set(heard.values()) == {(None, None)}
    assert {(row.pop("heard_in_time"), row.pop("heard_calls")) for row in told_without["readiness"]} == {(None, None)}
    assert told == told_without


def test_people_read_them_apart(progress: Progress) -> None:
    lines = list(Lines(progress, lambda at_s: datetime.fromtimestamp(at_s, UTC)).all())
    at = lines.index("Landed on in rounds of keys; this stands apart and moves no strength.")
    assert [line.split() for line in lines[at + 2 : at + 4]] == [
        ["F", "minor", "2", "self-checked"],
        ["B", "minor", "1", "heard"],
    ]


def heard(number: int, key: str, landed: bool | None, late_ms: int | None) -> LandingRow:
    return LandingRow(f"heard-{number}", "demo-0001", key, AT_MS + 5000 * number, "heard", landed, late_ms, None, 90)


def test_as_played_counts_the_latest_calls_in_which_a_note_was_sure() -> None:
    """By fifty milliseconds a note may be misplaced where it is heard, so a note on the bar line is in time."""
    rows = [heard(n, "E minor", True, -500) for n in range(3)]
    assert as_played(rows) == {parse_key("Em"): AsPlayed(3, 3)}
    rows += [heard(3, "E minor", True, 50), heard(4, "E minor", True, 51), heard(5, "E minor", False, -900)]
    assert as_played(rows)[parse_key("Em")] == AsPlayed(4, 6)
    rows += [heard(6, "E minor", None, None), LANDINGS[0]._replace(key="E minor")]
    assert as_played(rows) == {parse_key("Em"): AsPlayed(4, 6)}
    rows += [heard(n, "E minor", True, -1) for n in range(7, 16)]
    assert as_played(rows)[parse_key("Em")] == AsPlayed(9, LATELY)


def test_a_key_by_its_other_name_is_the_same_to_play() -> None:
    assert as_played([heard(1, "Eb minor", True, 0)]) == {parse_key("D#m"): AsPlayed(1, 1)}
    assert as_played([LANDINGS[0]]) == {}


def test_readiness_stands_beside_itself_as_played(progress: Progress) -> None:
    lines = list(Lines(progress, lambda at_s: datetime.fromtimestamp(at_s, UTC)).keys())
    assert lines[1].split()[:4] == ["Key", "ready", "as", "played"]
    [row] = [line for line in lines if line.startswith("B minor")]
    assert "1 of 2" in row
    assert any(line.startswith("As played: ") for line in lines)
    without = replace(progress, log=Copied(list(progress.log.attempts())))
    assert "played" not in "".join(Lines(without, lambda at_s: datetime.fromtimestamp(at_s, UTC)).keys())


def test_after_a_drill_what_was_landed_on_is_told_of_its_keys_alone() -> None:
    keys = (parse_key("Fm"), parse_key("Bm"), parse_key("C"))
    told = landed_sentence(keys, landed_keys(LANDINGS), as_played(LANDINGS))
    assert NAMES.say(told) == (
        "In rounds you landed on F minor twice by your own account; on B minor in time in 1 of the last 2 heard."
    )
    assert landed_sentence(keys[2:], landed_keys(LANDINGS), as_played(LANDINGS)) == ""
