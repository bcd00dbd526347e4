"""A drill in a small window: footers are whole, the neck stays where it is, and every fret can be pointed at."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

import pytest
from textual.pilot import Pilot

from drill.decks import Focus
from drill.practice.request import DrillRequest
from drill.record import Record
from drill.system.environment import Environment
from drill.theory.keys import parse_key
from drill.tui import FretsureApp
from drill.tui.screens.drill import DrillScreen
from drill.tui.screens.pause import PauseScreen
from drill.tui.widgets.answer_neck import AnswerNeck
from drill.tui.widgets.key_footer import KeyFooter, fitting
from tests.support.asking import answers, introduce
from tests.support.microphone import MicrophoneShop
from tests.support.screens import begin, drilling, go_on, half_a_second, press, reads, sees, shown, until
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp

WIDTHS = (40, 46, 52, 60, 79, 80, 120)
LOW_ANCHORS = Focus(families=("shape-anchor",), shapes=("string-6",))


def footer(app: FretsureApp) -> list[str]:
    """The words of a footer that is in sight, key by key; fails where one is cut."""
    (row,) = (each for each in app.screen.query(KeyFooter) if each.display)
    words = [key.words for key in fitting(row.keys, app.size.width)]
    assert shown(app).splitlines()[-1].rstrip() == " ".join(words)
    return words


async def told_whole(pilot: Pilot[None], heights: tuple[int, ...], *wanted: str) -> None:
    """At every width the footer is whole and holds what is wanted, of Enter and F1 perhaps the key alone."""
    app = pilot.app
    assert isinstance(app, FretsureApp)
    for height in heights:
        for width in WIDTHS:
            await pilot.resize_terminal(width, height)
            await pilot.pause()
            await pilot.pause()
            row = footer(app)
            assert all(each in row or (each.split()[0] in row and width < 60) for each in wanted), (width, height, row)


@pytest.mark.long
@pytest.mark.parametrize("height", [12, 24])
async def test_the_footers_of_a_drill_are_whole_at_every_width(make_app: MakeApp, height: int) -> None:
    app = make_app({"deck": "two-shapes"}, begin=True, focus=LOW_ANCHORS)
    async with app.run_test(size=(80, height)) as pilot:
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.is_solved)
        await sees(pilot, "Enter Next")
        await told_whole(pilot, (height,), "Enter Next", "Esc End", "F1 Help")
        await begin(pilot)
        await sees(pilot, "Enter Answer")
        await told_whole(pilot, (height,), "Enter Answer", "? Not known", "Space Pause", "Esc End", "F1 Help")
        await press(pilot, "7")
        await sees(pilot, "Enter Next")
        await told_whole(pilot, (height,), "Enter Next", "Space Pause", "Esc End", "F1 Help")


async def test_the_footer_names_the_key_for_the_rest_of_words_that_are_longer_than_their_place(
    make_app: MakeApp,
) -> None:
    app = make_app({"deck": "two-shapes"}, begin=True, focus=LOW_ANCHORS)
    async with app.run_test(size=(40, 12)) as pilot:
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and "PgDn More" in footer(app))
        assert "Why:" not in shown(app)
        await press(pilot, "pagedown")
        await sees(pilot, "Why:")
        await begin(pilot)
        await sees(pilot, "Space Pause ? Not known")
        assert "PgDn More" not in footer(app)


@pytest.mark.long
async def test_the_footer_of_a_pause_is_whole_at_every_width(make_app: MakeApp) -> None:
    app = make_app({"deck": "two-shapes"}, begin=True, focus=LOW_ANCHORS)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "space")
        await until(pilot, lambda: isinstance(app.screen, PauseScreen))
        await told_whole(pilot, (24,), "Space Resume", "F1 Help")


@pytest.mark.long
async def test_the_footers_of_a_drill_by_ear_are_whole_at_every_width(
    fake_environment: Environment, record: Record, clock: HandClock, make_app: MakeApp
) -> None:
    introduce(record, clock.now())
    environment = fake_environment._replace(open_duplex=MicrophoneShop(clock))
    request = DrillRequest(focus=Focus(families=("relative-minor",)), listen=True)
    app = FretsureApp(environment, make_app().services.settings, record, request=request)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: app.screen.where == "tuning-check")  # type: ignore[attr-defined]
        await told_whole(pilot, (24,), "F1 Help")
        await press(pilot, "enter")
        await begin(pilot)
        await sees(pilot, "Enter Answer")
        await told_whole(pilot, (12, 24), "Enter Answer", "? Not known", "Esc End", "F1 Help")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40)])
async def test_a_message_does_not_move_the_neck(make_app: MakeApp, size: tuple[int, int]) -> None:
    app = make_app({"deck": "two-shapes"}, begin=True, focus=LOW_ANCHORS)
    async with app.run_test(size=size) as pilot:
        await begin(pilot)
        neck = app.screen.query_one(AnswerNeck).region
        half_a_second(pilot)
        await press(pilot, "enter")
        await reads(pilot, "Nothing typed yet.")
        assert app.screen.query_one(AnswerNeck).region == neck
        await press(pilot, "7")
        await sees(pilot, "✗B")
        assert app.screen.query_one(AnswerNeck).region == neck


async def test_where_a_question_is_about_is_told_in_forty_columns_to_its_last_word(make_app: MakeApp) -> None:
    app = make_app({"deck": "two-shapes"}, begin=True, focus=LOW_ANCHORS._replace(keys=(parse_key("F#m"),)))
    async with app.run_test(size=(40, 12)) as pilot:
        await sees(pilot, "Few cards")
        await press(pilot, "enter")
        await begin(pilot)
        neck = app.screen.query_one(AnswerNeck).region
        await reads(pilot, "F♯ minor, low-E-string shape, whole on the neck")
        await sees(pilot, "Index fret?")
        await press(pilot, "question_mark")
        await reads(pilot, "Not known. It is")
        assert app.screen.query_one(AnswerNeck).region == neck


# -- pointing at the neck ----------------------------------------------------------------------------------------------


def frets_on_screen(app: FretsureApp, string: int) -> tuple[int, dict[int, range]]:
    """The row of a string, and for each fret the columns between its two wires, read off the screen."""
    lines = shown(app).splitlines()
    row = next(row for row, line in enumerate(lines) if re.match(rf" *{string} [A-G] .*║", line))
    wires = [match.start() for match in re.finditer("[║┬┼┿┯┷┐┤┥┑┙┘┴]", lines[row])]
    return row, {fret: range(low + 1, high) for fret, (low, high) in enumerate(pairwise(wires), 1)}


async def clicked(pilot: Pilot[None], drill: DrillScreen, place: Callable[[], tuple[int, int]]) -> str | None:
    """What a click answers with; the drill then goes on to the next question."""
    await pilot.click(offset=place())
    await pilot.pause()
    given = drill.verdict.given if drill.verdict else None
    if drill.verdict is not None:
        await go_on(pilot)
    return given


@pytest.mark.long
async def test_a_click_on_each_fret_in_sight_answers_that_fret_in_forty_columns(make_app: MakeApp) -> None:
    app = make_app({"deck": "naturals"}, begin=True, focus=Focus(families=("fret-of-note",)), minutes=30)
    async with app.run_test(size=(40, 12)) as pilot:
        drill = await begin(pilot)
        for fret in range(1, 16):
            string = drill._kind.string  # type: ignore[union-attr]
            row, columns = frets_on_screen(app, string)
            assert sorted(columns) == list(range(1, 16)), "all frets are in sight"
            for column in (columns[fret][0], columns[fret][-1]):
                assert await clicked(pilot, drill, lambda column=column, row=row: (column, row)) == str(fret)
                string = drill._kind.string  # type: ignore[union-attr]
                row, columns = frets_on_screen(app, string)


@pytest.mark.long
async def test_a_click_beside_the_neck_answers_nothing_in_forty_columns(make_app: MakeApp, record: Record) -> None:
    app = make_app({"deck": "two-shapes"}, begin=True, focus=LOW_ANCHORS)
    async with app.run_test(size=(40, 12)) as pilot:
        drill = await begin(pilot)
        row, columns = frets_on_screen(app, 6)
        beside = [(column, row) for column in (*range(3), *range(columns[15].stop + 1, 40))]
        numbers = [(column, row + 1) for column in range(40)]
        for offset in (*beside, *numbers):
            await pilot.click(offset=offset)
        await pilot.pause()
        assert drill.is_asked
        assert drilling(app).question is drill.question
    assert answers(record) == []


@pytest.mark.long
async def test_the_neck_of_a_verdict_shows_the_right_fret_beside_a_wrong_one_far_away(make_app: MakeApp) -> None:
    c_major = Focus(families=("shape-anchor",), strings=(5,), keys=(parse_key("C"),))
    app = make_app({"deck": "two-shapes"}, begin=True, focus=c_major)
    async with app.run_test(size=(40, 12)) as pilot:
        await sees(pilot, "Few cards")
        await press(pilot, "enter")
        drill = await begin(pilot)
        assert drill.question is not None
        assert drill.question.card.accepts == ("12",)
        half_a_second(pilot)
        await press(pilot, "4", "enter")
        await until(pilot, lambda: drill.verdict is not None and drill.board.field.value == "")
        await sees(pilot, "◆1m")
        assert ":12:" in shown(app)
