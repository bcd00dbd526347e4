"""Progress as text, from figures that can be worked out by hand."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from drill.memory import State
from drill.progress import CardHistory, Period
from drill.progress.columns import progress_object
from drill.progress.history import trend_sentence
from drill.progress.lines import Lines
from tests.progress.worked import LOW_A, LOW_G, C, worked_progress
from tests.support.learners import Empty


def in_utc(at_s: float) -> datetime:
    return datetime.fromtimestamp(at_s, UTC)


@pytest.fixture
def lines() -> Lines:
    return Lines(worked_progress(), in_utc)


def test_the_summary_counts_the_deck_and_says_what_to_drill(lines: Lines) -> None:
    first, second, third = lines.summary()
    assert re.search(r": 3 of \d+ cards asked so far\.$", first)
    # (0.9 + 0.3) / 2 = 0.6 on string 6, 0.997 on string 5, (0.9 + 0.3 + 0.997) / 3 = 0.73 of all cards of the family
    why = "Its strength is 60%: of the 2 cards asked, 1 is fading."
    assert second == f"Drill next: string 6 (low E). {why}"
    assert third == "    fretsure focus --string 6"


def test_strings_with_their_counts_and_means(lines: Lines) -> None:
    heads, low, high, advice = lines.table("string")
    assert heads.split() == ["String", "cards", "asked", "fading", "slow", "strength", "time", "target"]
    assert low.endswith("2       1     0       60%  1.5 s   1.5 s")
    assert high.endswith("1       0     1       99%  3.0 s   1.5 s")
    assert advice == "Drill next: string 6 (low E): fretsure focus --string 6"


def test_keys_name_what_holds_them_back(lines: Lines) -> None:
    explained, *table, advice = lines.keys()
    assert explained.endswith("a day after your latest drill, each within one bar (3.0 s at 80 bpm).")
    assert table == [
        "Key       ready  held back by",
        "C major     36%  note at a fret, string 6: 50%; note at a fret, string 5: 80%",
        "F♯ minor   100%",
        "B♭ major      -  not measured yet",
    ]
    assert advice == 'Drill next: C major: fretsure focus --key "C major"'


def test_the_days_ahead(lines: Lines) -> None:
    """It is Monday, 5 January 2026, 08:00."""
    assert list(lines.forecast()) == [
        "Without a drill, this many more cards will have faded by: Tue 6 Jan 2, Thu 8 Jan 1.",
        "Drill next: fretsure today",
    ]


def test_where_nothing_fades_nothing_is_to_be_drilled() -> None:
    """One card fades already; with none, a card that fades tomorrow is reason enough."""
    progress = worked_progress()
    progress.__dict__["forecast"] = (0, 0, 0)
    assert list(Lines(progress, in_utc).forecast()) == [
        "1 card is fading now; no other will in the next 3 days.",
        "Drill next: fretsure today",
    ]
    progress.__dict__["statuses"] = tuple(each for each in progress.statuses if each.state != "fading")
    progress.__dict__.pop("whole", None)
    assert list(Lines(progress, in_utc).forecast()) == ["Nothing is expected to fade in the next 3 days."]
    progress.__dict__["forecast"] = (1, 0, 0)
    assert list(Lines(progress, in_utc).forecast())[1:] == ["Drill next: fretsure today"]


def test_weeks_show_what_was_known_and_how_fast(lines: Lines) -> None:
    assert list(lines.weeks()) == [
        "   Week of  drills  answers  typed, right at first   time",
        "2025-12-15       1        7                    75%  1.4 s",
        "2025-12-22       2        9                     0%      -",
        "2025-12-29       3        8                   100%  0.9 s",
        "2026-01-05       0        0                      -      -",
    ]


def test_a_week_of_a_few_answers_is_no_trend(lines: Lines) -> None:
    """Seven of eight right may be five or eight in ten. On Monday morning the week before still counts."""
    old, newest = Period(date(2025, 12, 1), 30, 25, 28, 21, 1449, 2), Period(date(2025, 12, 8), 30, 30, 25, 25, 900, 3)
    monday = Period(date(2025, 12, 15), 5, 5, 5, 5, 800, 1)
    assert trend_sentence([old, newest, monday]).startswith(
        "In the week of 8 December 2025 100% came right at the first try of a day, in 0.9 s; "
        "in that of 1 December 2025 75%, in 1.4 s."
    )
    between = Period(date(2025, 12, 4), 30, 28, 25, 23, 1200, 2)
    assert "8 December 2025 100%" in trend_sentence([old, between, newest, monday]), "the newest beside the first"
    for few in (newest._replace(first_answers=24, first_right=24), newest._replace(right=24)):
        assert trend_sentence([old, few, monday]) == ""
    assert next(lines.weeks()).split()[:2] == ["Week", "of"], "these weeks have a few answers each"


def test_without_mix_ups_and_predictions(lines: Lines) -> None:
    assert list(lines.mixups()) == ["No recognised mix-ups."]
    assert list(lines.calibration()) == []


@pytest.mark.parametrize(
    ("in_hours", "said"),
    [
        (36, "It fades on Tuesday, 6 January 2026, 20:00."),
        (0, "It has faded."),
        (-36, "It has faded."),
        (28 * 24 + 1, "It holds for more than four weeks."),  # no date so far ahead is promised
    ],
)
def test_a_card_fades_or_has_faded(lines: Lines, in_hours: int, said: str) -> None:
    """It is Monday, 5 January 2026, 08:00."""
    progress = worked_progress()
    [status] = [each for each in progress.statuses if each.card == LOW_G]
    history = CardHistory(progress.deck.card(LOW_G), status, progress.now_s + 3600 * in_hours, None, (), ())
    assert [line for line in lines.card_history(history) if "fade" in line or "It holds" in line] == [said]


def test_what_never_came_right_is_not_said_to_fade() -> None:
    """Two cards were missed whenever they were asked, one came right and was forgotten."""
    progress = worked_progress()
    progress.__dict__["forecast"] = (0, 0, 0)
    cards = {each.card: each for each in progress.statuses}
    cards |= {card: cards[card]._replace(state=State.FADING, right=0) for card in (LOW_G, C)}
    progress.__dict__["statuses"] = tuple(cards.values())
    assert next(Lines(progress, in_utc).forecast()) == (
        "2 cards are not right yet. 1 card is fading now; no other will in the next 3 days."
    )
    assert (progress.whole.fading, progress.whole.never_right, progress.whole.lagging) == (1, 2, 3)
    programs = replace(progress, log=Empty())
    programs.__dict__["statuses"] = progress.statuses
    told = progress_object(programs)["whole"]
    assert (told["fading"], told["never_right"]) == (1, 2), "programs are told the same"
    assert progress.whole.lagging_words == "1 is fading and 2 are not right yet"
    assert [line.split()[-7] for line in list(Lines(progress, in_utc).table("string"))[1:3]] == ["1", "0"]
    progress.__dict__.pop("whole")
    progress.__dict__["statuses"] = tuple(each for each in cards.values() if each.card != LOW_A)
    first, second = Lines(progress, in_utc).forecast()
    assert first == "2 cards are not right yet. Nothing is expected to fade in the next 3 days."
    assert second == "Drill next: fretsure today"


def test_the_history_of_a_card_that_never_came_right_says_so_and_not_that_it_faded(lines: Lines) -> None:
    progress = worked_progress()
    [status] = [each._replace(state=State.FADING, right=0) for each in progress.statuses if each.card == LOW_G]
    history = CardHistory(progress.deck.card(LOW_G), status, progress.now_s - 1, None, (), (), "")
    told = list(lines.card_history(history))
    assert told[1] == f"{LOW_G}: not right yet."
    assert not [line for line in told if "fad" in line]
