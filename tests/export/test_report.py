"""The words and rounded figures of the report, and the columns of the CSV files, each worked out by hand."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import replace
from datetime import date
from html import unescape
from itertools import pairwise

import pytest

from drill.decks import Homework, load_deck
from drill.decks.homework import Goal
from drill.export.report import report
from drill.export.tables import CARDS, DAYS, KEYS, TABLES, card_rows
from drill.export.trends import can_tell, fell, grew, pause_sentence
from drill.memory import State
from drill.present.figures import per_cent
from drill.progress import Period, Progress
from drill.progress.columns import exact_writers
from drill.questions.wording import named_key
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from tests.export.conftest import progress_of
from tests.progress.worked import worked_progress
from tests.support.learners import Empty, beginner


@pytest.fixture
def progress() -> Progress:
    return worked_progress()


def table(page: str, caption: str) -> list[list[str]]:
    """The rows of a table as a reader sees them."""
    found = re.search(rf"<caption[^>]*>{re.escape(caption)}</caption>(.*?)</table>", page, re.DOTALL)
    assert found, caption
    rows = re.findall(r"<tr>(.*?)</tr>", found[1], re.DOTALL)
    return [[plain(each) for each in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row)] for row in rows]


def plain(markup: str) -> str:
    """What is read of a stretch of the page."""
    return " ".join(unescape(re.sub(r"<[^>]*>", "", markup)).replace("\xa0", " ").split())


def section(page: str, heading: str) -> str:
    """What is read under a heading."""
    return plain(page.partition(f"<h2>{heading}</h2>")[2].partition("</section>")[0])


def test_the_page_has_a_title_before_the_learner_gives_it_one(progress: Progress) -> None:
    page = report(progress)
    assert "<h1>Fretboard progress</h1>" in page and "<title>Fretboard progress</title>" in page


def test_groups_are_counted_and_their_means_rounded(progress: Progress) -> None:
    heads, title, low, high, *_ = table(report(progress), "Strength and speed")
    assert heads == ["Group", "Cards", "Asked", "Fading", "Slow", "Strength", "Time", "Target"]
    assert title == ["Strings", ""]
    # (0.9 + 0.3) / 2 and (1.0 + 2.0) / 2; 0.997 is not certain
    assert (low[0], low[2:]) == ("string 6 (low E)", ["2", "1", "0", "60%", "1.5 s", "1.5 s"])
    assert (high[0], high[2:]) == ("string 5 (A)", ["1", "0", "1", "99%", "3.0 s", "1.5 s"])


def test_what_was_never_asked_has_no_figure(progress: Progress) -> None:
    page = report(progress)
    assert [row[0] for row in table(page, "Strength and speed")] == [
        "Group", "Strings", "string 6 (low E)", "string 5 (A)", "Kinds of question", "Note at a fret",
    ]  # fmt: skip
    assert "Not asked yet: B♭ major." in section(page, "The keys")


def test_a_beginner_is_shown_no_figure_that_nobody_measured() -> None:
    page = report(replace(beginner(), log=Empty()))
    assert "<data" not in page
    assert section(page, "What is weak") == "Nothing has been asked yet."
    assert section(page, "What to play this week").endswith("fretsure focus --family shape-anchor")
    assert section(page, "Week by week") == "Nothing has been asked yet."


def test_spots_have_a_row_a_string_and_a_column_a_fret(progress: Progress) -> None:
    page = report(progress)
    heads, high, low = table(page, "Strength by spot")
    assert heads[:5] == ["String", "fret 0", "fret 1", "fret 2", "fret 3"]
    assert (high[0], high[4], high[5]) == ("string 5 (A)", "99%", "")
    assert (low[0], low[1], low[4], low[6]) == ("string 6 (low E)", "–", "90%", "30%")


def test_the_legend_of_the_neck_tells_the_signs_that_are_there_and_no_other(progress: Progress) -> None:
    # 90 % and 99 % hold, 30 % is below 50, the others were not asked
    legend = plain(report(progress).partition('<ul class="legend">')[2].partition("</ul>")[0])
    assert legend == "80 and more: it holds below 50 in the deck, not asked yet fret marker of the guitar"


def test_a_key_takes_one_line_with_what_holds_it_back_most(progress: Progress) -> None:
    heads, c_major, f_sharp_minor = table(report(progress), "How ready the keys are")
    assert heads == ["Key", "Ready", "Held back most by"]
    assert c_major == ["C major", "36%", "which note, string 6: 50%"]
    assert f_sharp_minor == ["F♯ minor", "100%", ""]


def test_a_key_measured_in_part_has_no_figure_and_comes_last() -> None:
    """Of what C major takes, one card of four was not asked: its 36% would rest on a guess."""
    progress = worked_progress()
    [c_major, *others] = progress.keys
    fresh = others[-1].needed[0]
    object.__setattr__(progress, "keys", (c_major._replace(needed=(fresh, *c_major.needed)), *others))
    page = report(progress)
    [_, first, second] = table(page, "How ready the keys are")
    assert (first, second) == (["C major", "–", "3 of 4 measured"], ["F♯ minor", "100%", ""])
    assert "a round of F♯ minor, C major." in section(page, "What to play this week")


def test_weeks_are_told_in_a_table_and_as_a_trend(progress: Progress) -> None:
    page = report(progress)
    heads, *weeks = table(page, "The last 3 weeks with a drill")
    assert heads == ["Week of", "Drills", "Answers", "Typed, right at first", "Time"]
    assert weeks == [
        ["15 Dec 2025", "1", "7", "75%", "1.4 s"],
        ["22 Dec 2025", "2", "9", "0%", "–"],
        ["29 Dec 2025", "3", "8", "100%", "0.9 s"],
    ]
    assert "From 75% in the week of 15 December 2025 to 100% in the week of 29 December 2025." in plain(page)
    assert "From 1.4 s in the week of 15 December 2025 to 0.9 s in the week of 29 December 2025." in plain(page)


def test_what_grew_is_told_against_the_last_week_and_the_first(progress: Progress) -> None:
    weeks = progress._counts._weeks
    weeks[0] = weeks[0]._replace(right=25, first_answers=28, first_right=21)
    weeks[1] = weeks[1]._replace(right=0, first_answers=25)
    weeks[2] = weeks[2]._replace(right=25, first_answers=25, first_right=25)
    grown = section(report(progress), "What grew")
    assert grown == (
        "Right at first: 100%, up from 0% in the week of 22 Dec 2025. "
        "Right at first: 100%, up from 75% in the week of 15 Dec 2025. "
        "Time of a right answer, reading included: 0.9 s, down from 1.4 s in the week of 15 Dec 2025."
    )


def test_a_week_can_be_told_by_either_of_its_figures() -> None:
    """Enough first answers for their share, but too few right ones for their time, or the other way round."""
    few = Period(date(2026, 1, 5), 24, 24, 24, 20, 1500, 1)
    assert not can_tell(few)
    assert can_tell(few._replace(first_answers=25, right=20))
    assert can_tell(few._replace(first_answers=20, right=25))


def test_what_fell_is_weak_and_a_change_of_a_hundredth_is_no_news() -> None:
    def week(day: int, right: int, median_ms: int) -> Period:
        return Period(date(2026, 1, day), 200, 200, 100, right, median_ms, 3)

    assert fell([week(5, 90, 1500), week(12, 80, 1500)]) == [
        "Right at first: 80%, down from 90% in the week of 5\xa0Jan\xa02026."
    ]
    assert fell([week(5, 90, 1000), week(12, 90, 2000)]) == [
        "Time of a right answer, reading included: 2.0\xa0s, up from 1.0\xa0s in the week of 5\xa0Jan\xa02026."
    ]
    small = [week(5, 90, 1500), week(12, 91, 1450)]
    assert grew(small) == fell(small) == grew(small[:1]) == []
    nothing_right = [week(5, 0, 1500), week(12, 0, 1500)]
    assert grew(nothing_right) == fell(nothing_right) == [], "0% is not down from 0%"
    alike = [week(5, 90, 360), week(12, 90, 440)]
    assert grew(alike) == fell(alike) == [], "both are written 0.4 s"


def test_a_week_of_a_few_answers_has_not_grown_or_fallen(progress: Progress) -> None:
    """6 of 7 right is 86%, which the 82% of 100 answers differs from by less than one answer."""
    many = Period(date(2026, 1, 5), 120, 100, 100, 82, 1500, 5)
    few = Period(date(2026, 1, 12), 7, 6, 7, 6, 1000, 1)
    assert grew([many, few]) == []
    assert fell([many, few._replace(first_right=0, median_ms=3000)]) == []
    assert grew([few, many._replace(start=date(2026, 1, 19), first_right=99)]) == []
    enough = few._replace(right=25, first_answers=25, first_right=25)
    assert len(grew([many, enough])) == 2
    assert grew([many, enough._replace(right=24, first_answers=24, first_right=24)]) == []
    few_words = "There are too few answers in a week yet to tell whether they are better than before."
    assert section(report(progress), "What grew") == few_words


def test_a_learner_who_stopped_is_said_to_have_stopped() -> None:
    assert [*pause_sentence(date(2026, 1, 5), date(2026, 1, 18))] == []
    [sentence] = pause_sentence(date(2025, 11, 10), date(2026, 1, 5))
    assert sentence == "No drill for 8 weeks: the last was on 10\xa0November\xa02025."


def test_what_to_play_names_the_weakest_and_the_keys_for_a_round(progress: Progress) -> None:
    play = section(report(progress), "What to play this week")
    assert progress.command(progress.weakest.focus) in play
    # both keys with a figure, the least ready first; B♭ was never asked
    assert play.endswith('a round of C major, F♯ minor. fretsure round --key "C major" --key "F# minor"')


def test_what_is_weak_is_what_has_the_lowest_figures_on_the_page(progress: Progress) -> None:
    """60% on string 6 and 99% on string 5; of all notes at a fret (0.9 + 0.3 + 0.997) / 3 = 73%."""
    assert section(report(progress), "What is weak") == (
        "String 6 (low E): 60%; of the 2 cards asked, 1 is fading. "
        "Note at a fret: 73%; of the 3 cards asked, 1 is fading and 1 is slow."
    )


def test_the_least_ready_key_is_weak(invented: Environment) -> None:
    with progress_of(invented) as learner:
        shown = {row.key: row.shown for row in learner.keys if row.shown is not None}
        key = min(shown, key=lambda each: shown[each])
        said = f"{learner.settings.voice.say(named_key(key))}: the least ready key, {per_cent(shown[key])}."
        assert said in section(report(learner), "What is weak")


def test_the_top_says_how_many_cards_stand_how(progress: Progress) -> None:
    text = plain(report(progress))
    assert f"Of {len(progress.deck.entries)} cards, 3 were asked: 1 fading, 1 known but slow, 1 fluent." in text
    # (0.9 + 0.3 + 0.997) / 3 and (1.0 + 2.0 + 3.04) / 3
    assert "Mean strength 73%, mean thinking time 2.0 s." in text
    assert "5 January 2026 · 80 beats a minute" in text
    assert "each within one bar (3.00 s at 80 beats a minute)." in text
    assert "A card holds from 80%" in text
    assert "Fading now: 1 card. Without a drill, 4 will be fading in a week, and 4 in 3 days." in text


def test_the_day_is_that_of_the_learners_calendar(progress: Progress) -> None:
    # 8 in the morning UTC on 5 January is 20 past midnight on the 6th, 16 hours and 20 minutes further east
    object.__setattr__(progress, "utc_offset_minutes", 16 * 60 + 20)
    assert "6 January 2026" in plain(report(progress))


def test_what_ready_means_in_homework_is_told_where_some_is_set(progress: Progress) -> None:
    said = "Homework counts a key by what its own deck asks, the table of keys by all that it takes."
    assert said not in plain(report(progress))
    homework = Homework(date(2026, 1, 8), Goal("keys", 2), "", "Ms Adler")
    object.__setattr__(progress, "deck", progress.deck._replace(homework=homework))
    assert said in plain(report(progress))


def test_homework_stands_at_the_top(progress: Progress) -> None:
    homework = Homework(date(2026, 1, 8), Goal("cards", 2), "Slowly <b>first</b>.", "Ms Adler")
    object.__setattr__(progress, "deck", progress.deck._replace(homework=homework))
    page = report(progress)
    assert "Set by Ms Adler until Thursday: 1 of 2 cards fluent. “Slowly <b>first</b>.”" in plain(page)
    assert "<b>first" not in page


def test_headings_come_in_order_and_every_head_says_what_it_heads(progress: Progress) -> None:
    page = report(progress)
    levels = [int(level) for level in re.findall(r"<h(\d)>", page)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(later - earlier <= 1 for earlier, later in pairwise(levels))
    assert re.findall(r"<th(?! scope=\"(?:col|row|rowgroup)\")[ >]", page) == []
    assert page.startswith('<!doctype html>\n<html lang="en">')


def rows_of(progress: Progress, index: int) -> list[dict[str, str]]:
    rows = (card_rows(progress), progress.keys, progress.days)[index]
    file = io.StringIO()
    (CARDS, KEYS, DAYS)[index].write(file, rows, exact_writers(progress))
    assert file.getvalue().count("\r\n") == file.getvalue().count("\n")
    return list(csv.DictReader(io.StringIO(file.getvalue())))


def test_csv_files_hold_the_exact_figures(progress: Progress) -> None:
    [card] = [row for row in rows_of(progress, 0) if row["card"] == "note-at-fret:string=5:fret=3"]
    assert card == {
        "card": "note-at-fret:string=5:fret=3", "family": "note-at-fret", "prompt": "Fret 3, string 5 (A): which note?",
        "string": "5", "fret": "3", "key": "", "shape": "", "in_deck": "true", "state": "slow", "strength": "0.997",
        "speed_s": "3.04", "target_s": "1.5", "fluent_chance": "0.4985", "asked": "4", "right": "3",
        "last_asked": "2026-01-05T07:59:00.000Z",
    }  # fmt: skip
    key, *_ = rows_of(progress, 1)
    assert key == {
        "key": "C major", "readiness": "0.36", "seen": "3", "heard_calls": "", "heard_in_time": "", "needed": "3",
        "weakest": "note-at-fret:string=6:fret=3", "in_time": "0.5",
    }  # fmt: skip


def test_every_column_says_its_type_and_whether_it_may_be_empty() -> None:
    fields = {
        f"{table.name}.{field['name']}": (field["type"], "constraints" in field)
        for table in TABLES
        for field in table.resource()["schema"]["fields"]
    }
    assert len(fields) == sum(len(table.columns) for table in TABLES), "no two columns of a table share a name"
    # https://datapackage.org/standard/table-schema/#field-types
    assert fields["attempts.asked_at"] == ("datetime", True)
    assert fields["attempts.thinking_ms"] == ("integer", False)
    assert fields["cards.strength"] == ("number", True)
    assert fields["cards.speed_s"] == ("number", True)
    assert fields["cards.string"] == ("integer", False)
    assert fields["cards.in_deck"] == ("boolean", True)
    assert fields["cards.last_asked"] == ("datetime", False)
    assert fields["keys.key"] == ("string", True)
    assert fields["days.day"] == ("date", True)
    assert fields["days.median_ms"] == ("integer", False)


def test_the_trend_of_times_reaches_above_the_slowest_week(progress: Progress) -> None:
    weeks = progress._counts._weeks
    weeks[0] = weeks[0]._replace(median_ms=4200)
    trend = report(progress).partition('id="trend-time')[2].partition("</svg>")[0]
    assert re.findall(r'class="soft end"[^>]*><tspan>([^<]*)<', trend) == ["0.0 s", "2.5 s", "5.0 s"]


def test_one_week_makes_no_trend(progress: Progress, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "<svg" in report(progress).partition("Week by week</h2>")[2]
    last = progress.weeks[-1:]
    monkeypatch.setattr(Progress, "weeks", last)
    after = report(progress).partition("Week by week</h2>")[2]
    assert "The only week with a drill" in after
    assert "<svg" not in after


def test_a_string_that_the_question_names_is_not_named_twice() -> None:
    progress = replace(worked_progress(), deck=load_deck("two-shapes", Neck(STANDARD)), log=Empty())
    rows = []
    for row in (row for row in worked_progress().keys if row.asked):
        [finger, *_] = (each for each in progress.keys[0].needed if each.status.item.family == "tonic-finger")
        finger = finger._replace(status=finger.status._replace(is_touched=True), in_time=0.1)
        rows.append(row._replace(needed=(finger, *row.needed)))
    object.__setattr__(progress, "keys", tuple(rows))
    held_back = [row[2] for row in table(report(progress), "How ready the keys are") if row[2].startswith("tonic")]
    assert held_back
    assert all(re.fullmatch(r"tonic finger, string [56]: .*", words) for words in held_back)


def test_a_card_whose_facts_were_all_asked_in_others_is_not_said_to_be_unasked() -> None:
    progress = worked_progress()
    [first, *others] = progress.keys
    by_others = first.needed[0].status._replace(state=State.FRESH, asked=0, right=0, is_touched=True)
    needed = (first.needed[0]._replace(status=by_others), *first.needed[1:])
    object.__setattr__(progress, "keys", (first._replace(needed=needed), *others))
    [_, c_major, *_] = table(report(progress), "How ready the keys are")
    assert c_major == ["C major", "36%", "which note, string 6: 50%"]


def test_cards_that_never_came_right_are_not_counted_as_fading(progress: Progress) -> None:
    wrong = (each._replace(right=0) if each.state == "fading" else each for each in progress.statuses)
    progress.__dict__["statuses"] = tuple(wrong)
    text = plain(report(progress))
    assert "3 were asked: 1 not right yet, 0 fading, 1 known but slow, 1 fluent." in text
    assert "Fading now: 0 cards." in text
