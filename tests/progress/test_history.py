"""What the log tells: weeks, days and mix-ups against plain counting, and calendars against the calendar."""

from __future__ import annotations

from collections import Counter, defaultdict
from datetime import UTC, date, datetime, timedelta
from statistics import fmean, median_low

import pytest

from drill.decks import Focus
from drill.memory import KEY_PRESS
from drill.practice.replay import DerivedState, observations
from drill.progress import Period, Progress
from drill.progress.history import LogCounts, monday
from drill.questions.wording import to_ascii
from drill.record import AttemptRow
from tests.support.learners import beginner

CARD = "note-at-fret:string=6:fret=3"


def row(moment: str, right: bool | None = True, offset_min: int = 0, **others: object) -> AttemptRow:
    """An answer at a moment of UTC, such as 2026-01-05T23:30."""
    at_ms = round(datetime.fromisoformat(f"{moment}+00:00").timestamp() * 1000)
    values = {
        "uid": f"{at_ms}", "drill": "d", "card": CARD, "family": "note-at-fret", "deck": "naturals", "kind": "asked",
        "asked_at": at_ms, "answered_at": at_ms + 1500, "utc_offset_min": offset_min, "given": "G", "correct": right,
        "mixup": None, "thinking_ms": 1000, "target_ms": 1500,
    }  # fmt: skip
    return AttemptRow(**(values | others))  # type: ignore[arg-type]


def test_weeks_and_days_are_what_counting_gives(progress: Progress) -> None:
    rows = [each for each in progress.log.attempts() if each.correct is not None]
    for periods, start_of in ((progress.days, lambda day: day), (progress.weeks, monday)):
        by_start: dict[date, list[AttemptRow]] = defaultdict(list)
        for each in rows:
            by_start[start_of((datetime.fromtimestamp(each.asked_at / 1000, UTC) + timedelta(hours=1)).date())].append(
                each
            )
        assert [period.start for period in periods] == sorted(by_start)
        for period in periods:
            assert_counts(period, by_start[period.start])
    assert sum(week.answers for week in progress.weeks) == len(rows)


def assert_counts(period: Period, rows: list[AttemptRow]) -> None:
    first: dict[tuple[str, int], AttemptRow] = {}
    for each in rows:
        first.setdefault((each.card, (each.asked_at + 3_600_000) // 86_400_000), each)
    assert period.answers == len(rows)
    assert period.right == sum(bool(each.correct) for each in rows)
    assert period.first_answers == len(first)
    assert period.first_right == sum(bool(each.correct) for each in first.values())
    assert period.drills == len({each.drill for each in rows})
    times = [each.thinking_ms for each in rows if each.correct and each.thinking_ms is not None]
    assert period.median_ms == (median_low(times) if times else None)


def test_weeks_begin_on_mondays() -> None:
    # ISO 8601: 2026-01-01 is a Thursday of the week that begins on Monday 2025-12-29
    assert monday(date(2026, 1, 1)) == date(2025, 12, 29)
    assert monday(date(2026, 1, 5)) == date(2026, 1, 5)


def test_a_day_is_the_learners_own() -> None:
    late = "2026-01-05T23:30"
    assert [day.start for day in LogCounts.of([row(late)]).days] == [date(2026, 1, 5)]
    assert [day.start for day in LogCounts.of([row(late, offset_min=60)]).days] == [date(2026, 1, 6)]
    assert [day.start for day in LogCounts.of([row("2026-01-05T02:00", offset_min=-300)]).days] == [date(2026, 1, 4)]


def test_a_flight_west_loses_no_answer() -> None:
    tokyo, los_angeles = row("2026-01-05T16:00", offset_min=540), row("2026-01-05T20:00", offset_min=-480)
    log = LogCounts.of([tokyo, los_angeles])
    assert [(day.start, day.answers, day.first_answers) for day in log.days] == [(date(2026, 1, 6), 2, 1)]


def test_shown_cards_and_key_presses_are_no_answers() -> None:
    pressed = row("2026-01-05T10:00", None, card=KEY_PRESS.card, family=KEY_PRESS.card, kind="shown")
    shown = row("2026-01-05T10:01", None, kind="shown", thinking_ms=None)
    assert LogCounts.of([pressed, shown]).days == ()
    assert LogCounts.of([pressed, shown]).weeks == ()


def test_thinking_with_the_learner_elsewhere_counts_as_half_a_minute() -> None:
    [week] = LogCounts.of([row("2026-01-05T10:00", thinking_ms=3_600_000)]).weeks
    assert (week.median_ms, week.median_s) == (30_000, 30.0)
    [week] = LogCounts.of([row("2026-01-05T10:00", thinking_ms=None)]).weeks
    assert week.median_ms is None


def test_mixups_are_counted_and_cured_by_the_drill_of_their_example_where_they_happen_most(progress: Progress) -> None:
    rows = [each for each in progress.log.attempts() if each.mixup]
    assert {each.name: each.times for each in progress.mixups} == Counter(each.mixup for each in rows)
    assert [each.prominence for each in progress.mixups] == sorted(
        (m.prominence for m in progress.mixups), reverse=True
    )
    for each in progress.mixups:
        own = [one for one in rows if one.mixup == each.name]
        assert each.last_at_ms == own[-1].answered_at
        sentences = [m.sentence for m in each.card.confuse() if (m.answer, m.name) == (each.given, each.name)]
        assert each.sentence == next(iter(sentences), "")
        assert each.focus is not None
        drilled = progress.deck.focused(each.focus).entries
        assert each.card.id in drilled
        there = [one for one in own if one.card in drilled]
        assert (each.card.id, each.given) == (there[-1].card, there[-1].given)


def test_the_cure_lies_where_it_happens_most_and_so_does_the_example() -> None:
    low, high = "note-at-fret:string=6:fret=3", "note-at-fret:string=5:fret=3"
    rows = [
        row("2026-01-05T10:00", False, card=low, given="F#", mixup="one fret off"),
        row("2026-01-05T10:01", False, card=low, given="G#", mixup="one fret off"),
        row("2026-01-05T10:02", False, card=high, given="C#", mixup="one fret off"),
    ]
    [found] = LogCounts.of(rows).mixups(beginner(deck="naturals").deck)
    assert found.focus == Focus(strings=(6,), families=("note-at-fret",))
    assert (found.times, found.card.id, found.given) == (3, low, "G#")
    assert found.last_at_ms == rows[-1].answered_at


def test_a_rule_of_the_learners_own_stands_out_among_slips_however_many() -> None:
    """Of ten relatives seven were the parallel; of two hundred notes nine were a fret off, one from another string."""
    relative, spot = "relative-minor:key=C", "note-at-fret:string=6:fret=3"
    rows = [
        *(row("2026-01-05T10:00", card=relative, family="relative-minor", given="A minor") for _ in range(3)),
        *(row("2026-01-05T10:00", False, card=relative, family="relative-minor", given="C minor",
              mixup="parallel for relative") for _ in range(7)),
        *(row("2026-01-05T11:00", n > 9, card=spot, given="F#" if n < 9 else "C" if n == 9 else "G",
              mixup="one fret off" if n < 9 else "other string" if n == 9 else None) for n in range(200)),
        row("2026-01-05T12:00", False, card=spot, given=""),
    ]  # fmt: skip
    found = LogCounts.of(rows).mixups(beginner().deck)
    told = [(each.name, each.times, each.opportunities) for each in found]
    # both families have answers a fret off; no relative is read from another string, and a pass gave no answer at all
    assert told == [("parallel for relative", 7, 10), ("one fret off", 9, 210), ("other string", 1, 200)]
    assert found[0].rate == 0.7


def test_a_name_that_the_card_no_longer_gives_counts_where_it_was_given() -> None:
    spot = "note-at-fret:string=6:fret=3"
    rows = [
        row("2026-01-05T10:00", False, card=spot, given="", mixup="wrong foot"),
        row("2026-01-05T10:01", card=spot),
    ]
    [found] = LogCounts.of(rows).mixups(beginner().deck)
    assert (found.times, found.opportunities, found.sentence) == (1, 1, "")


def test_a_mixup_that_the_deck_cannot_cure_has_no_focus() -> None:
    relative = row("2026-01-05T10:00", False, card="relative-minor:key=C", family="relative-minor", given="C minor",
                   mixup="parallel for relative")  # fmt: skip
    [found] = LogCounts.of([relative]).mixups(beginner(deck="naturals").deck)
    assert found.focus is None
    assert found.card.prompt


def test_cards_no_family_knows_any_more_spoil_nothing() -> None:
    lost = row("2026-01-05T10:00", False, card="harp-pedal:key=C", family="harp-pedal", mixup="wrong foot")
    log = LogCounts.of([lost])
    assert log.mixups(beginner().deck) == ()
    assert [week.answers for week in log.weeks] == [1]


@pytest.mark.long
def test_what_was_told_before_each_answer_is_held_against_it(progress: Progress) -> None:
    known, told = DerivedState(), []
    for item, attempt in observations(progress.log.attempts()):
        if attempt.right is not None:
            told.append((known.learner.strength(item, attempt.at_s), attempt.right))
        known.learn(item, attempt)
    for number, found in enumerate(progress.calibration.recall.bins):
        pairs = [pair for pair in told if found.predicted // 0.05 == pair[0] // 0.05]
        assert found.answers == len(pairs), number
        assert found.predicted == pytest.approx(fmean(p for p, _ in pairs))
        assert found.observed == fmean(right for _, right in pairs)
    assert sum(found.answers for found in progress.calibration.recall.bins) == len(told)


def test_necks_with_other_tunings_tell_their_mixups_too() -> None:
    low_d = row("2026-01-05T10:00", False, card="note-at-fret:string=6:fret=2:tuning=drop-d", given="F#",
                mixup="one fret off")  # fmt: skip
    [found] = LogCounts.of([low_d]).mixups(beginner().deck)
    # drop D: the sixth string sounds D, so that fret 2 is E; a guitarist who counts a fret too far says F
    assert found.card.accepts == ("E",)


@pytest.mark.parametrize("in_deck", [True, False])
def test_a_mixup_quotes_the_question_as_it_was_asked(in_deck: bool) -> None:
    """On 15 frets A minor fits once from the A string; B flat minor, under D flat major, not from fret 13."""
    deck = beginner().deck
    if not in_deck:
        deck = deck._replace(entries={})
    for key, asked in (
        ("Am", "A minor, A-string shape: index fret?"),
        ("Db", "Db major, A-string shape, whole"),
    ):
        card = f"shape-anchor:key={key}:shape=string-5"
        missed = row("2026-01-05T10:00", False, card=card, family="shape-anchor", given="7", mixup="other string")
        [found] = LogCounts.of([missed]).mixups(deck)
        assert to_ascii(found.card.prompt).startswith(asked)


def test_a_question_that_a_shorter_neck_has_no_room_for_is_still_quoted() -> None:
    high = row("2026-01-05T10:00", False, card="note-at-fret:string=6:fret=20", given="B", mixup="one fret off")
    [found] = LogCounts.of([high]).mixups(beginner().deck)
    assert to_ascii(found.card.prompt).startswith("Fret 20, string 6")
