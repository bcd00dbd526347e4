"""What the pages of Progress show, from figures that can be worked out by hand."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from drill.present.figures import hundredths
from drill.progress import KeyReadiness, Period, Progress
from drill.record import LandingRow
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.keys import parse_key
from drill.theory.neck import Spot
from drill.tui.screens.progress_pages import PAGES, PageLine, Shown, speed_map, spot_content, strength_map, weakest_spot
from tests.progress.worked import LOW_G, worked_progress
from tests.support.learners import Empty, beginner, taught
from tests.support.worlds import MONDAY_MORNING


@pytest.fixture
def progress() -> Progress:
    return worked_progress()


@pytest.fixture(autouse=True)
def world(fake_environment: Environment) -> Iterator[None]:
    """The calendar of the learner, for `page`."""
    WORLD.append(fake_environment)
    yield
    WORLD.clear()


WORLD: list[Environment] = []


def page(title: str, progress: Progress, width: int = 77) -> list[PageLine]:
    [lines] = [page.lines for page in PAGES if page.title == title]
    assert lines is not None
    return list(lines(Shown(progress, Settings(), WORLD[0], width)))


def texts(title: str, progress: Progress) -> list[str]:
    return [line.content.plain.rstrip() for line in page(title, progress)]


def test_the_maps_show_strength_and_speed_by_spot(progress: Progress) -> None:
    assert strength_map(progress).strengths[Spot(6, 3)] == 0.9
    assert strength_map(progress).strengths[Spot(6, 1)] is None
    shown = speed_map(progress)
    # 1.0 s is within the target of 1.5 s; 2.0 s and 3.04 s are not
    assert shown.strengths[Spot(6, 3)] == 1.0
    assert shown.strengths[Spot(6, 5)] == 0.75
    assert shown.strengths[Spot(6, 1)] is None
    assert shown.figures is not None
    assert [shown.figures.get(Spot(*spot)) for spot in ((6, 3), (6, 5), (5, 3), (6, 1))] == ["10", "20", "30", None]


def test_the_cursor_starts_at_the_weakest_spot_that_was_asked(progress: Progress) -> None:
    assert weakest_spot(progress) == Spot(6, 5)
    assert weakest_spot(beginner(deck="naturals")) == Spot(6, 0)


def test_strings_and_kinds_stand_under_their_heads_and_can_be_drilled(progress: Progress) -> None:
    head, low, high, *others = page("Strings and kinds", progress)
    assert head.is_note
    assert head.content.plain.split() == ["String", "strength", "time", "asked", "target", "fading", "slow"]
    assert re.fullmatch(r"string 6 \(low E\) +. 60% +1\.5 s +2/\d+ +1\.5 s +1 +", low.content.plain)
    assert re.fullmatch(r"string 5 \(A\) +. 99% +3\.0 s +1/\d+ +1\.5 s +1", high.content.plain)
    for column in ("strength", "time", "asked"):
        assert head.content.plain.index(column) < len(low.content.plain)
    assert low.focus is not None and low.focus.strings == (6,)
    assert high.focus is not None and high.focus.strings == (5,)
    assert any(line.content.plain.startswith("Kind of question") for line in others)


@pytest.mark.parametrize("width", [37, 77])
@pytest.mark.parametrize("title", ["Strings and kinds", "Weeks"])
def test_no_row_of_a_table_is_wider_than_its_room(progress: Progress, title: str, width: int) -> None:
    rows = [line for line in page(title, progress, width) if not line.is_note or line.content.plain.startswith("Week")]
    assert rows and all(len(row.content.plain.rstrip()) <= width for row in rows)


def test_the_weakest_key_comes_first_and_those_not_asked_last(progress: Progress) -> None:
    note, head, *keys = page("Keys", progress)
    assert note.is_note and note.focus is None
    assert note.content.plain.endswith("within one bar (3.0 s).")
    assert head.is_note and head.content.plain.split() == ["Key", "ready", "held", "back", "by"]
    assert [key.content.plain.split("  ")[0].strip() for key in keys] == [
        "C major",
        "F♯ minor",
        "B♭ major",
    ]
    assert keys[0].content.plain.endswith("36%     note at a fret (5, 6)")
    assert keys[1].content.plain.endswith("100%    nothing")
    assert keys[2].content.plain.endswith(" · not measured yet")


def test_a_key_of_which_a_part_is_measured_is_held_back_by_nothing_so_far(progress: Progress) -> None:
    """Of its two cards one is fluent, and the other was never asked."""
    fluent, unasked = progress.keys[1].needed[0], progress.keys[2].needed[0]
    progress.__dict__["keys"] = (KeyReadiness(parse_key("G"), 0.5, (fluent, unasked)),)
    *_, head, key = texts("Keys", progress)
    assert head.split() == ["Key", "ready", "held", "back", "by"]
    assert key.split("  ")[-1].strip() == "nothing so far"
    assert "1 of 2" in key


def test_the_newest_week_comes_first_and_a_gap_is_a_gap(progress: Progress) -> None:
    """It is Monday, 5 January 2026: a week has begun in which nothing was answered yet."""
    progress._counts._weeks.insert(0, replace_start(progress._counts._weeks[0], date(2025, 12, 1)))
    head, now, new, middle, old, gap, first = texts("Weeks", progress)[:7]
    assert head.split() == ["Week", "of", "typed,", "right", "at", "first", "time", "answers", "drills"]
    assert now == "5 Jan 2026   · no drill"
    assert new == f"29 Dec 2025  {'█' * 16} 100%  0.9 s        8       3"
    assert middle == f"22 Dec 2025  {'':16}   0%               9       2"
    # three quarters of 16 cells
    assert old == f"15 Dec 2025  {'▇' * 12}      75%  1.4 s        7       1"
    assert gap == "8 Dec 2025   · no drill"
    assert first.startswith("1 Dec 2025")


def replace_start(week: Period, start: date) -> Period:
    return week._replace(start=start)


def test_the_days_ahead_have_dates_and_bars_up_to_the_fullest_day(progress: Progress) -> None:
    """It is Monday, 5 January 2026."""
    lines = texts("Weeks", progress)
    at = lines.index("Without a drill, this many more cards will have faded by")
    assert lines[at + 1 :] == ["Tue  6 Jan   ████████████████ 2", "Wed  7 Jan    ·", "Thu  8 Jan   ████████ 1"]
    progress.__dict__["forecast"] = (0, 0, 0)
    assert texts("Weeks", progress)[-1] == "1 card is fading now; no other will in the next 3 days."


def test_pages_without_answers_say_when_they_fill(progress: Progress) -> None:
    progress._counts._weeks = []
    assert texts("Weeks", progress)[0] == (
        "No weeks yet: after your first drill, this page shows your progress week by week."
    )
    [mixups] = texts("Mix-ups", progress)
    assert mixups.startswith("No recognised mix-ups yet.")


def test_a_spot_tells_of_its_cards_and_when_they_fade(fake_environment: Environment) -> None:
    cards = [LOW_G, "fret-of-note:string=6:note=G"]
    learner = taught(beginner(deck="whole-neck"), dict.fromkeys(cards, True))
    progress = replace(beginner(learner, "whole-neck"), log=Empty())
    text = spot_content(progress, Spot(6, 3), Settings(), fake_environment).plain
    first, second, third = text.splitlines()
    assert first.startswith("String 6, fret 3  ")
    assert second.startswith("Fret 3, string 6 (low E): which note?")
    assert "3 of 3 right. Fades " in second and "3 of 3 right. Fades " in third
    faded = replace(progress, now_s=progress.now_s + 3650 * 86_400.0)
    assert "Fades" not in spot_content(faded, Spot(6, 3), Settings(), fake_environment).plain
    elsewhere = spot_content(beginner(learner, "naturals"), Spot(1, 3), Settings(), fake_environment).plain
    assert elsewhere == "String 1, fret 3: this deck does not ask about it."
    fresh = spot_content(progress, Spot(5, 3), Settings(), fake_environment).plain
    assert len(fresh.splitlines()) >= 2 and "right." not in fresh


WHOLES = ("shape-anchor:key=Am:shape=string-6", "shape-anchor:key=C:shape=string-6")
"""Both put the index finger on A: string 6, fret 5."""


def told_of(progress: Progress, spot: Spot, environment: Environment) -> tuple[int, list[int], str]:
    """The per cent in a spot's cell on the map, those told below the map, and all that is told."""
    text = spot_content(progress, spot, Settings(), environment).plain
    recall = strength_map(progress).strengths[spot]
    assert recall is not None
    return hundredths(recall), [int(figure) for figure in re.findall(r"(\d+)%", text)], text


def test_a_cell_and_its_headline_have_one_figure_the_mean_of_the_cards_below(fake_environment: Environment) -> None:
    cards = {WHOLES[0]: True, WHOLES[1]: False, "fret-of-note:string=6:note=A": True}
    progress = replace(beginner(taught(beginner(), cards)), log=Empty())
    cell, (headline, *of_cards), text = told_of(progress, Spot(6, 5), fake_environment)
    assert cell == headline == pytest.approx(sum(of_cards[:3]) / 3, abs=1)
    assert "the mean of the cards below" in text
    never_right = next(line for line in text.splitlines() if "0 of 3 right" in line)
    assert " 0%, " in never_right, "what never came right is not named"


def test_a_spot_known_by_a_whole_alone_has_its_figure_and_says_whence(fake_environment: Environment) -> None:
    deck = beginner(deck="whole-neck")
    progress = replace(deck, learner=taught(beginner(), {WHOLES[0]: True}), log=Empty())
    cell, (headline, *_), text = told_of(progress, Spot(6, 5), fake_environment)
    assert cell == headline
    assert "by questions that take it; asked by itself: not yet" in text


class WithLandings(Empty):
    """A log that holds landings alone."""

    def __init__(self, *landings: LandingRow) -> None:
        self._landings = landings

    def landings(self) -> Iterator[LandingRow]:
        return iter(self._landings)


def with_landings(progress: Progress, *landings: LandingRow) -> Progress:
    """The same progress, of a log with these landings."""
    other = replace(progress, log=WithLandings(*landings))
    other.__dict__.update(keys=progress.keys)
    return other


YESTERDAY_MS = round(MONDAY_MORNING * 1000) - 86_400_000
LANDED = LandingRow("landing-1", "round-1", "Bb major", YESTERDAY_MS, "heard", True, -9, "Bb3", 12)
SAID = LANDED._replace(uid="landing-2", key="C major", how="self-checked", late_ms=None, heard=None, path_ms=None)


def test_landings_have_a_page_of_their_own_and_each_key_can_be_drilled(progress: Progress) -> None:
    landed = with_landings(progress, LANDED, SAID, SAID._replace(uid="landing-3"))
    note, head, *keys = page("Rounds", landed)
    assert "moves no strength" in note.content.plain
    assert head.content.plain.split() == ["Key", "landed", "on", "how", "known", "last"]
    assert [key.content.plain.split() for key in keys] == [
        ["C", "major", "2", "self-checked", "4", "Jan", "2026"],
        ["B♭", "major", "1", "heard", "4", "Jan", "2026"],
    ]
    assert [key.focus and key.focus.keys for key in keys] == [(parse_key("C"),), (parse_key("Bb"),)]
    assert texts("Rounds", replace(progress, log=Empty()))[0].startswith("No landings yet")


def test_readiness_as_played_stands_beside_readiness_only_where_it_was_measured(progress: Progress) -> None:
    landed = with_landings(progress, LANDED, LANDED._replace(uid="landing-4", landed=False))
    _, note, head, *keys = page("Keys", landed)
    assert note.content.plain.startswith("Played: landed on in time")
    assert head.content.plain.split() == ["Key", "ready", "played", "held", "back", "by"]
    at = head.content.plain.index("played")
    assert [key.content.plain[at:][:6].strip() for key in keys] == ["", "", "1 of 2"]
    assert keys[2].content.plain.endswith("not measured yet")
    assert "played" not in page("Keys", progress)[1].content.plain
