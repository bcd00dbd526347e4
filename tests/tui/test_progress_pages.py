"""What the pages of Progress show, from figures that can be worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drill.progress import Progress
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import Spot
from drill.tui.screens.progress_pages import PAGES, PageLine, speed_map, spot_content, strength_map, weakest_spot
from tests.progress.worked import LOW_G, worked_progress
from tests.support.learners import Empty, beginner, taught


@pytest.fixture
def progress() -> Progress:
    return worked_progress()


def page(title: str, progress: Progress) -> list[PageLine]:
    [lines] = [page.lines for page in PAGES if page.title == title]
    assert lines is not None
    return list(lines(progress, Settings()))


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


def test_strings_show_their_means_and_can_be_drilled(progress: Progress) -> None:
    low, high = page("Strings", progress)
    assert low.content.plain.startswith("string 6 (low E)")
    assert "60% 1.5 of 1.5 s, 2/" in low.content.plain
    assert low.content.plain.endswith(" seen, 1 weak")
    assert low.focus is not None and low.focus.strings == (6,)
    assert high.focus is not None and high.focus.strings == (5,)


def test_the_weakest_key_comes_first_and_those_not_asked_last(progress: Progress) -> None:
    note, *keys = page("Keys", progress)
    assert note.is_note and note.focus is None
    assert "(3.0 s at 80 beats a minute)" in note.content.plain
    assert [key.content.plain.split("  ")[0].strip() for key in keys] == [
        "C major",
        "F♯ minor",
        "B♭ major",
    ]
    assert keys[0].content.plain.endswith("36%   note at a fret (5, 6)")
    assert keys[1].content.plain.endswith("100%  nothing")
    assert keys[2].content.plain.endswith(" · not asked yet")


def test_the_newest_week_comes_first(progress: Progress) -> None:
    note, new, middle, old = texts("Weeks", progress)
    assert note.endswith("and the median thinking time.")
    assert new == f"Week of 29 Dec 2025  {'█' * 16} 100%   0.9 s  8 answers, 3 drills"
    assert middle == f"Week of 22 Dec 2025  {'':16}   0%          9 answers, 2 drills"
    # three quarters of 16 cells
    assert old == f"Week of 15 Dec 2025  {'▇' * 12}      75%   1.4 s  7 answers, 1 drill"


def test_the_days_ahead_have_bars_up_to_the_fullest_day(progress: Progress) -> None:
    note, *days = texts("Ahead", progress)
    assert note == "Without a drill, 3 cards are expected to fade in the next 14 days."
    assert days == ["next 24 hours ████████████████ 2", "the day after  0", "in 2 days     ████████ 1"]
    progress.__dict__["forecast"] = (0, 0, 0)
    assert texts("Ahead", progress) == ["No card is expected to fade in the next 14 days."]


def test_pages_without_answers_say_when_they_fill(progress: Progress) -> None:
    progress._counts._weeks = []
    assert texts("Weeks", progress) == [
        "Nothing yet: after your first drill, this page shows your progress week by week."
    ]
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
