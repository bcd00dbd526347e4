"""What the next drill is about, in the words of Home."""

from __future__ import annotations

from drill.memory import Preview
from drill.present.today import today_sentence
from drill.progress.today import todays
from drill.theory.keys import parse_key
from tests.support.learners import beginner, taught

C_LOW, C_HIGH = "shape-anchor:key=C:shape=string-6", "shape-anchor:key=C:shape=string-5"
G_LOW, AM_LOW = "shape-anchor:key=G:shape=string-6", "shape-anchor:key=Am:shape=string-6"


def foreseen(new: tuple[str, ...], back: tuple[str, ...]) -> Preview:
    return Preview(0, 0, 0, 0, needed=40, new=new, back=back)


def test_a_key_never_asked_about_comes_for_the_first_time() -> None:
    progress = beginner(taught(beginner(), {C_LOW: True}))
    today = todays(progress, foreseen((G_LOW, C_HIGH), (C_LOW,)), 5, answers=40)
    assert today.first == (parse_key("G"),) and today.more == ()
    assert today_sentence(today, "english") == (
        "Today brings G major for the first time, and C major again: about 40 answers in 5 minutes."
    )


def test_no_key_is_named_twice_and_the_least_ready_comes_first() -> None:
    progress = beginner(taught(beginner(), {C_LOW: True, G_LOW: True, AM_LOW: False}))
    today = todays(progress, foreseen((C_HIGH,), (G_LOW, C_LOW, AM_LOW)), 5)
    readiness = {row.key: row.readiness for row in progress.keys}
    assert today.back == tuple(sorted((parse_key("G"), parse_key("Am")), key=lambda key: readiness[key]))
    assert today_sentence(today, "english").count("C") == 1


def test_a_deck_without_keys_names_its_strings() -> None:
    today = todays(beginner(deck="naturals"), foreseen(("note-at-fret:string=6:fret=3",), ()), 1)
    assert today_sentence(today, "german") == "Today brings new questions on string 6: a minute at most."


def test_answers_are_counted_only_where_the_drill_lasts_its_whole_time() -> None:
    for answers, told in (
        (40, "about 40 answers in 5 minutes."),
        (50, "about 50 answers in 5 minutes."),
        (55, "5 minutes at most."),
        (None, "5 minutes at most."),
    ):
        today = todays(beginner(), foreseen((C_LOW,), ()), 5, answers)
        assert today_sentence(today, "english").endswith(told), "forty cards have to be asked"


def test_where_a_drill_would_ask_nothing_none_is_promised() -> None:
    nothing = foreseen((), ())._replace(needed=0, asks=False)
    assert today_sentence(todays(beginner(), nothing, 5, 60), "english").startswith("Nothing to drill today")
