"""The words and rounded figures of the report, and the columns of the CSV files, each worked out by hand."""

from __future__ import annotations

import csv
import io
import re
from html import unescape

import pytest

from drill.export.report import report
from drill.export.tables import CARDS, DAYS, KEYS, TABLES, card_rows
from drill.progress import Progress
from drill.progress.columns import exact_writers
from tests.progress.worked import worked_progress


@pytest.fixture
def progress() -> Progress:
    return worked_progress()


def table(page: str, caption: str) -> list[list[str]]:
    """The rows of a table as a reader sees them."""
    body = page.partition(f"<caption>{caption}</caption>")[2].partition("</table>")[0]
    rows = re.findall(r"<tr>(.*?)</tr>", body, re.DOTALL)
    found = [re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row) for row in rows]
    return [[unescape(re.sub(r"<[^>]*>", "", each)).replace("\xa0", " ") for each in row] for row in found]


def test_groups_are_counted_and_their_means_rounded(progress: Progress) -> None:
    heads, low, high = table(report(progress), "Strength and speed by string")
    assert heads == ["String", "Cards", "Asked", "Fading", "Slow", "Strength", "Time", "Target"]
    # (0.9 + 0.3) / 2 and (1.0 + 2.0) / 2; 0.997 is not certain
    assert (low[0], low[2:]) == ("string 6 (low E)", ["2", "1", "0", "60%", "1.5 s", "1.5 s"])
    assert (high[0], high[2:]) == ("string 5 (A)", ["1", "0", "1", "99%", "3.0 s", "1.5 s"])


def test_spots_have_a_row_a_string_and_a_column_a_fret(progress: Progress) -> None:
    page = report(progress)
    heads, high, low = table(page, "Strength by spot")
    assert heads[:5] == ["String", "fret 0", "fret 1", "fret 2", "fret 3"]
    assert (high[0], high[4], high[5]) == ("string 5 (A)", "99%", "")
    assert (low[0], low[1], low[4], low[6]) == ("string 6 (low E)", "–", "90%", "30%")
    assert table(page, "Thinking time by spot")[2][4] == "1.0 s"


def test_keys_are_held_back_by_what_is_less_likely_than_nine_in_ten(progress: Progress) -> None:
    heads, c_major, f_sharp_minor, b_flat_major = table(report(progress), "Readiness of the everyday keys")
    assert heads == ["Key", "Readiness", "Held back by"]
    assert c_major[:2] == ["C major", "36%"]
    assert c_major[2].split("; ") == [f"note at a fret, string {each}" for each in ("6: 50%", "5: 80%", "6: 90%")]
    assert f_sharp_minor == ["F♯ minor", "100%", ""]
    assert b_flat_major == ["B♭ major", "", "not asked yet"], "nobody measured its 1%"


def test_weeks_are_told_in_a_table_and_as_a_trend(progress: Progress) -> None:
    page = report(progress)
    heads, *weeks = table(page, "The last 3 weeks with a drill")
    assert heads == ["Week of", "Drills", "Answers", "Right at first", "Time"]
    assert weeks == [
        ["2025-12-15", "1", "7", "75%", "1.4 s"],
        ["2025-12-22", "2", "9", "0%", "–"],
        ["2025-12-29", "3", "8", "100%", "0.9 s"],
    ]
    assert "From 75% in the week of 2025-12-15 to 100% in the week of 2025-12-29." in page
    assert "From 1.4 s in the week of 2025-12-15 to 0.9 s in the week of 2025-12-29." in page


def test_the_top_says_how_many_cards_stand_how(progress: Progress) -> None:
    text = " ".join(re.sub(r"<[^>]*>", "", report(progress)).replace("\xa0", " ").split())
    assert f"Of {len(progress.deck.entries)} cards, 3 were asked: 1 fading, 1 known but slow, 1 fluent." in text
    # (0.9 + 0.3 + 0.997) / 3 and (1.0 + 2.0 + 3.04) / 3
    assert "Mean strength 73%, mean thinking time 2.0 s." in text
    assert "As of 2026-01-05, at 80 beats a minute." in text
    assert "each within one bar: 3.00 s at 80 beats a minute." in text
    assert "A card holds from 80%" in text
    assert table(report(progress), "Cards that fade in each coming day") == [
        ["Day from now", "1", "2", "3"],
        ["Cards", "2", "0", "1"],
    ]


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
        "key": "C major", "readiness": "0.36", "seen": "3", "needed": "3", "weakest": "note-at-fret:string=6:fret=3",
        "in_time": "0.5",
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
    assert re.findall(r'class="soft end"[^>]*>([^<]*)<', trend) == ["0.0 s", "2.5 s", "5.0 s"]
