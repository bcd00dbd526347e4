"""A question that nobody answers pauses by itself and charges nothing; whoever thinks slowly loses no key."""

from __future__ import annotations

import pytest

from drill.decks import Focus
from drill.record import Record
from drill.tui import FretsureApp
from drill.tui.drill_times import ALONE_READING_S, ALONE_S
from drill.tui.screens.pause import ON_ITS_WAY_S, PauseScreen
from drill.tui.widgets.answer_field import AnswerField
from tests.support.asking import answers
from tests.support.screens import answer_rightly, begin, drilling, press, reads, sees, type_in, until
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp

SIZES = [(40, 12), (80, 24)]


def anchors(make_app: MakeApp) -> FretsureApp:
    """A drill that asks for index frets: for A minor first, fret 5 on string 6."""
    focus = Focus(families=("shape-anchor",), shapes=("string-6",))
    return make_app({"deck": "two-shapes", "motion": "still"}, begin=True, focus=focus)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_a_question_left_alone_is_hidden_and_nothing_is_charged(
    make_app: MakeApp, clock: HandClock, record: Record, size: tuple[int, int]
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=size) as pilot:
        screen = await begin(pilot)
        question, left_s = screen.question, screen.session.seconds_left
        clock.tick(ALONE_S - 0.5)
        screen.watch_clock()
        assert app.screen is screen
        clock.tick(600)
        assert "Index fret?" not in await reads(pilot, "No key came, so the clock stopped.")
        clock.tick(600)
        await press(pilot, "space")
        await sees(pilot, "Index fret?")
        await until(pilot, lambda: app.screen is screen and not screen.session.watch.paused)
        assert screen.question is question, "the same question is put again"
        assert screen.session.seconds_left == pytest.approx(left_s)
        await answer_rightly(pilot)
    assert [row.thinking_ms for row in answers(record)] == [None]


@pytest.mark.long
async def test_typing_and_correcting_keep_a_question_in_sight(make_app: MakeApp, clock: HandClock) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        for _ in range(3):
            clock.tick(ALONE_S - 1)
            await type_in(pilot, "1")
            clock.tick(ALONE_S - 1)
            await press(pilot, "backspace")
            await until(pilot, lambda: app.screen.query_one(AnswerField).value == "")
            screen.watch_clock()
        assert app.screen is screen


async def test_a_key_that_comes_just_as_the_drill_pauses_is_the_answer(
    make_app: MakeApp, clock: HandClock, record: Record
) -> None:
    """On a pause, e would end the drill; here it was meant as a note."""
    focus = Focus(families=("note-at-fret",))
    app = make_app({"deck": "naturals"}, begin=True, focus=focus)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        clock.tick(ALONE_S)
        await until(pilot, lambda: isinstance(app.screen, PauseScreen) and app.screen.is_mounted)
        await press(pilot, "e")
        await until(pilot, lambda: app.screen is screen and screen.verdict is not None)
    assert [(row.given, row.thinking_ms) for row in answers(record)] == [("E", None)]


@pytest.mark.long
async def test_what_was_typed_waits_in_the_field_and_goes_with_its_next_key(
    make_app: MakeApp, clock: HandClock, record: Record
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await type_in(pilot, "1")
        clock.tick(ALONE_S)
        await until(pilot, lambda: isinstance(app.screen, PauseScreen) and app.screen.is_mounted)
        clock.tick(ON_ITS_WAY_S)
        await press(pilot, "enter")
        await until(pilot, lambda: app.screen is screen)
        await sees(pilot, "▌ 1")
        assert not answers(record)
        await press(pilot, "2")
        await until(pilot, lambda: screen.verdict is not None)
    assert [row.given for row in answers(record)] == ["12"]


@pytest.mark.long
async def test_a_verdict_may_be_read_for_longer(make_app: MakeApp, clock: HandClock) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await press(pilot, "7")
        await sees(pilot, "Wrong")
        left_s = screen.session.seconds_left
        clock.tick(ALONE_READING_S - 1)
        screen.watch_clock()
        assert drilling(app).verdict is not None
        clock.tick(1)
        await reads(pilot, "No key came, so the clock stopped.")
        assert screen.session.seconds_left == pytest.approx(left_s)
