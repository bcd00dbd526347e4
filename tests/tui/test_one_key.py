"""One key an answer, the next question by itself, clicks on the neck; and nothing that was not meant as an answer."""

from __future__ import annotations

import pytest
from textual import events
from textual.pilot import Pilot

from drill.decks import Focus
from drill.memory import ReasonKind
from drill.practice.session import RULE_KNOWN
from drill.record import Record
from drill.tui import FretsureApp
from drill.tui.beats import beat_marks
from drill.tui.drill_times import LATE_S, LESSON_S, NEW_S, NEXT_S, THOUGHT_S, TOO_SOON_S, UNREAD_S
from drill.tui.screens.drill import DrillScreen
from drill.tui.widgets.answer_field import AnswerField
from drill.tui.widgets.answer_neck import AnswerNeck
from tests.support.asking import answers
from tests.support.screens import (
    begin,
    drilling,
    go_on,
    half_a_second,
    leave_solved,
    press,
    reads,
    resized,
    sees,
    shown,
    until,
)
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp

LOW_ANCHORS = Focus(families=("shape-anchor",), shapes=("string-6",))
SIZES = [(200, 60), (120, 40), (80, 24), (40, 12)]


def anchors(make_app: MakeApp, **settings: str | int) -> FretsureApp:
    """A drill that asks for index frets: for A minor first, fret 5 on string 6."""
    return make_app({"deck": "two-shapes", **settings}, begin=True, focus=LOW_ANCHORS)


def naturals(make_app: MakeApp, **settings: str | int) -> FretsureApp:
    """A drill that asks for natural notes alone: E first, then F."""
    return make_app({"deck": "naturals", **settings}, begin=True, focus=Focus(families=("note-at-fret",)))


# -- one key -----------------------------------------------------------------------------------------------------------


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_a_fret_goes_at_its_figure_and_its_verdict_stands_where_the_answer_was(
    make_app: MakeApp, size: tuple[int, int]
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=size) as pilot:
        await begin(pilot)
        asked = (await sees(pilot, "Index fret?")).splitlines()
        await press(pilot, "7")
        judged = (await sees(pilot, "✗ Wrong: fret 7.")).splitlines()
        row = next(row for row, line in enumerate(asked) if "Index fret?" in line)
        assert "Index fret?" in judged[row], "the question stays where it is"
        assert "✗ Wrong" in judged[row + 1]
        marked = next(line for line in (await sees(pilot, "✗B")).splitlines() if "✗B" in line)
        assert "◆1m" in marked, "the right fret is marked beside the wrong one"


@pytest.mark.long
async def test_a_figure_that_a_longer_fret_begins_with_waits_for_the_second_or_enter(
    make_app: MakeApp, record: Record
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "1")
        await sees(pilot, "▌ 1")
        assert drilling(app).verdict is None
        await press(pilot, "2")
        await sees(pilot, "Wrong: fret 12.")
        await go_on(pilot)
        await press(pilot, "1", "enter")
        await sees(pilot, "fret 1.")
    assert [row.given for row in answers(record)] == ["12", "1"]


@pytest.mark.long
async def test_two_waits_on_a_neck_of_twenty_frets(make_app: MakeApp) -> None:
    app = anchors(make_app, frets=22)
    async with app.run_test(size=(120, 40)) as pilot:
        await begin(pilot)
        await press(pilot, "2")
        await sees(pilot, "▌ 2")
        assert drilling(app).verdict is None
        await press(pilot, "0")
        await sees(pilot, "Wrong: fret 20.")


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("language", "key"), [("english", "e"), ("german", "e")])
async def test_a_letter_goes_at_once_where_naturals_alone_are_asked(make_app: MakeApp, language: str, key: str) -> None:
    app = naturals(make_app, note_language=language)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, key)
        await sees(pilot, "✓ Right: E.")


async def test_enter_from_habit_belongs_to_the_answer_that_went_by_itself(
    make_app: MakeApp, clock: HandClock, record: Record
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "7", "enter", "enter")
        await sees(pilot, "✗ Wrong: fret 7.")
        clock.tick(0.6)
        await press(pilot, "enter")
        await until(pilot, lambda: drilling(app).verdict is None)
    assert [row.given for row in answers(record)] == ["7"]


@pytest.mark.long
async def test_a_held_figure_answers_once_and_holds_the_next_question_back(
    make_app: MakeApp, clock: HandClock, record: Record
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for _ in range(60):
            await press(pilot, "5")
            clock.tick(0.03)
        await sees(pilot, "✓ Right: fret 5.")
        await pilot.pause(0.3)
        assert drilling(app).verdict is not None
    assert [row.given for row in answers(record)] == ["5"]


@pytest.mark.long
async def test_a_paste_waits_for_enter(make_app: MakeApp, record: Record) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        app.post_message(events.Paste("5\n7\n8"))
        await sees(pilot, "▌ 5")
        assert drilling(app).verdict is None
        await press(pilot, "enter")
        await sees(pilot, "✓ Right: fret 5.")
    assert [row.given for row in answers(record)] == ["5"]


# -- the next question -------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_enter_held_down_leaves_the_verdict_in_sight(make_app: MakeApp, clock: HandClock) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await press(pilot, "1", "enter")
        await sees(pilot, "Wrong: fret 1.")
        for _ in range(60):
            clock.tick(1 / 30)
            await press(pilot, "enter")
        assert screen.verdict is not None
        await go_on(pilot)
        assert screen.verdict is None


@pytest.mark.long
async def test_the_next_question_comes_by_itself_after_a_right_answer_and_waits_after_a_wrong_one(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        await press(pilot, "5")
        await sees(pilot, "✓ Right: fret 5.")
        clock.tick(NEXT_S)
        await pilot.pause(0.3)
        assert drill.verdict is not None, "it is new: its reason is read"
        clock.tick(NEW_S - NEXT_S)
        await until(pilot, lambda: drill.verdict is None)
        await press(pilot, "enter")  # meant for the verdict that has just gone
        clock.tick(UNREAD_S)
        await press(pilot, "7")
        await sees(pilot, "✗ Wrong: fret 7.")
        clock.tick(60.0)
        await pilot.pause(0.3)
        assert drill.verdict is not None


async def test_what_is_known_goes_quickly_and_any_key_leaves_what_is_new(make_app: MakeApp, clock: HandClock) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        for _ in range(RULE_KNOWN):
            await press(pilot, *drill.question.card.accepts[0])
            await sees(pilot, "any key: next question")
            clock.tick(TOO_SOON_S)
            await press(pilot, "x")
            await until(pilot, lambda: drill.verdict is None)
        await press(pilot, *drill.question.card.accepts[0])
        await sees(pilot, "Enter: next question")
        await press(pilot, "x")
        assert drill.verdict is not None
        clock.tick(NEXT_S)
        await until(pilot, lambda: drill.verdict is None)


async def test_the_rest_of_an_answer_typed_in_full_is_no_command(make_app: MakeApp, clock: HandClock) -> None:
    """The note alone is a whole answer; who types the mode as well neither pauses the drill nor leaves the verdict."""
    app = make_app(begin=True, focus=Focus(families=("relative-major",)))
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        while "b" not in drill.question.card.accepts[0]:
            await press(pilot, "question_mark")
            await go_on(pilot)
        for key in drill.question.card.accepts[0]:
            await press(pilot, "space" if key == " " else key)
            clock.tick(0.12)
        await sees(pilot, "✓ Right: ")
        assert app.screen is drill
        assert drill.verdict is not None
        clock.tick(TOO_SOON_S)
        await press(pilot, "space")
        await until(pilot, lambda: app.screen is not drill)


@pytest.mark.parametrize(
    ("typed", "thinking_s"),
    [
        # a key every tenth of a second: typing
        ([(1.6, "1"), (0.1, "2"), (0.1, "enter")], 1.6),
        # all of it is gone again: the first key of what is answered counts
        ([(1.6, "1"), (7.0, "backspace"), (0.2, "2")], 8.8),
        # a rest after the first figure is thought
        ([(1.6, "1"), (7.0, "2"), (0.1, "enter")], 8.6),
        # who waits before Enter alone has answered
        ([(1.6, "1"), (7.0, "enter")], 1.6),
    ],
)
async def test_thinking_ends_with_the_first_key_of_the_answer_that_is_given(
    typed: list[tuple[float, str]], thinking_s: float, make_app: MakeApp, clock: HandClock
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        for wait_s, key in typed:
            clock.tick(wait_s)
            await press(pilot, key)
            await pilot.pause()
        await until(pilot, lambda: drill.verdict is not None)
        assert drill.verdict.thinking_s == pytest.approx(thinking_s)


async def test_whoever_waits_with_an_answer_typed_is_told_the_key(make_app: MakeApp, clock: HandClock) -> None:
    """Fret 1 could become 10 to 15."""
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        await press(pilot, "1")
        await pilot.pause()
        drill.watch_clock()
        assert "gives this answer" not in shown(app)
        clock.tick(THOUGHT_S)
        await sees(pilot, "Enter gives this answer.")
        await press(pilot, "x", "enter")
        await sees(pilot, "Nothing is counted yet.")
        clock.tick(THOUGHT_S)
        drill.watch_clock()
        assert "gives this answer" not in shown(app), "what is wrong with it stays"


async def test_a_late_right_answer_can_be_read(make_app: MakeApp, clock: HandClock) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        for _ in range(RULE_KNOWN):
            await press(pilot, *drill.question.card.accepts[0])
            clock.tick(NEW_S)
            await until(pilot, lambda: drill.verdict is None)
            clock.tick(UNREAD_S)
        clock.tick(9.0)
        await press(pilot, *drill.question.card.accepts[0])
        await sees(pilot, "9.0 s of thinking")
        drill.verdict = drill.verdict._replace(is_new=False)
        clock.tick(LATE_S - 0.1)
        drill.watch_clock()
        assert drill.verdict is not None
        clock.tick(0.2)
        drill.watch_clock()
        assert drill.verdict is None


async def test_a_key_as_the_next_question_comes_by_itself_is_no_answer_to_it(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        await press(pilot, "5")
        await sees(pilot, "✓ Right: fret 5.")
        asked = drill.question
        clock.tick(NEW_S)
        drill.watch_clock()
        await press(pilot, "5")  # meant for the verdict that has just gone
        assert drill.question is not asked
        assert drill.is_asked
        clock.tick(UNREAD_S)
        await press(pilot, *drill.question.card.accepts[0])
        await sees(pilot, "✓ Right")


@pytest.mark.long
async def test_it_waits_for_enter_where_the_setting_says_so(make_app: MakeApp, clock: HandClock) -> None:
    app = anchors(make_app, next_question="on enter")
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        await press(pilot, "5")
        await sees(pilot, "✓ Right: fret 5.")
        clock.tick(60.0)
        await pilot.pause(0.3)
        assert drill.verdict is not None


# -- beats -------------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_the_beats_of_the_bar_fill_at_the_tempo_and_then_say_what_is_wanted(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = anchors(make_app, tempo_bpm=60)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await sees(pilot, "●  ○  ○  ○")
        clock.tick(0.1)
        for marks in ("●  ●  ○  ○", "●  ●  ●  ○", "●  ●  ●  ●"):
            clock.tick(1.0)
            await sees(pilot, marks)
        clock.tick(1.0)
        assert "▌ 1 to 15" in await sees(pilot, "the bar is over")


def test_beats_that_come_too_late_for_a_note_are_smaller() -> None:
    assert [beat_marks(begun, 2, 1).plain for begun in (1, 3)] == ["●  ○  ·  ·", "●  ●  •  ·"]
    assert beat_marks(4, 2, 2).plain == "██████ ██████ ▒▒▒▒▒▒ ▒▒▒▒▒▒"
    assert beat_marks(5, 4, 1).plain == "●  ●  ●  ●  the bar is over"


async def test_a_note_is_wanted_within_half_a_bar(make_app: MakeApp) -> None:
    app = make_app({"deck": "naturals", "tempo_bpm": 60}, begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await sees(pilot, "●  ○  ·  ·")


@pytest.mark.long
async def test_after_a_pause_the_bar_begins_anew(make_app: MakeApp, clock: HandClock) -> None:
    app = anchors(make_app, tempo_bpm=60)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        clock.tick(2.1)
        await sees(pilot, "●  ●  ●  ○")
        await press(pilot, "f1")
        await until(pilot, lambda: not isinstance(app.screen, DrillScreen))
        await press(pilot, "escape")
        await sees(pilot, "●  ○  ○  ○")


@pytest.mark.long
async def test_everything_stands_still_where_the_setting_says_so(make_app: MakeApp, clock: HandClock) -> None:
    app = anchors(make_app, motion="still")
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await sees(pilot, "? Not known")
        before = await sees(pilot, "○  ○  ○  ○")
        clock.tick(20.0)
        await pilot.pause(0.3)
        assert shown(app) == before


# -- clicks ------------------------------------------------------------------------------------------------------------


def cell_of(app: FretsureApp, string: int, fret: int) -> tuple[int, int]:
    """A cell of the screen in which a spot of the neck is drawn."""
    neck = app.screen.query_one(AnswerNeck)
    columns = range(neck.size.width)
    return next(
        (neck.region.x + column, neck.region.y + row)
        for row in range(neck.size.height)
        if any(spot and spot.string == string for spot in (neck.spot_at(column, row) for column in columns[::8]))
        for column in columns
        if neck.spot_at(column, row) == (string, fret)
    )


async def click(pilot: Pilot[None], string: int, fret: int) -> None:
    app = pilot.app
    assert isinstance(app, FretsureApp)
    await pilot.click(offset=cell_of(app, string, fret))


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("size", "hand"), [*((size, "right") for size in SIZES), ((80, 24), "left")])
async def test_a_click_on_the_neck_answers_with_its_fret(make_app: MakeApp, size: tuple[int, int], hand: str) -> None:
    app = anchors(make_app, hand=hand)
    async with app.run_test(size=size) as pilot:
        drill = await begin(pilot)
        await click(pilot, 6, 5)
        await sees(pilot, "✓ Right: fret 5.")
        half_a_second(pilot)
        await click(pilot, 6, 5)
        await until(pilot, lambda: drill.verdict is None)


async def test_a_click_on_another_string_says_so_and_counts_nothing(make_app: MakeApp, record: Record) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await click(pilot, 4, 5)
        await reads(pilot, "That is string 4 (D); string 6 (low E) is asked. Nothing is counted yet.")
        assert answers(record) == []
        await click(pilot, 6, 14)
        await sees(pilot, "✗ Wrong: fret 14.")
    assert [row.given for row in answers(record)] == ["14"]


async def test_a_click_where_a_note_is_asked_tells_nothing(make_app: MakeApp, record: Record) -> None:
    app = naturals(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await click(pilot, 6, 5)
        await reads(pilot, "This answer is typed, not pointed at.")
        assert answers(record) == []


@pytest.mark.long
async def test_every_fret_can_be_clicked_in_forty_columns(make_app: MakeApp) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(40, 12)) as pilot:
        await begin(pilot)
        assert [cell_of(app, 6, fret) for fret in range(16)]


async def test_a_drag_across_the_neck_is_no_click(make_app: MakeApp, record: Record) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await pilot.mouse_down(offset=cell_of(app, 6, 3))
        await pilot.mouse_up(offset=cell_of(app, 6, 5))
        await pilot.pause(0.1)
        assert drilling(app).verdict is None
    assert answers(record) == []


@pytest.mark.long
async def test_a_click_on_a_verdict_goes_on_once_and_answers_nothing(make_app: MakeApp, record: Record) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        for again in range(3):
            await press(pilot, "5", "enter")
            await until(pilot, lambda: drill.verdict is not None)
            half_a_second(pilot)
            await click(pilot, 6, 5)
            await until(pilot, lambda: drill.verdict is None)
            await pilot.pause(0.05)
            assert len(answers(record)) == again + 1
            await leave_solved(pilot)


# -- what is said ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["x", "question_mark"])
async def test_a_solved_card_shows_idea_question_answer_reason_and_steps_and_any_key_goes_on(
    key: str, make_app: MakeApp, record: Record, clock: HandClock
) -> None:
    app = make_app({"deck": "naturals"})
    async with app.run_test(size=(80, 24)) as pilot:
        app.start_drill(Focus(families=("fret-of-note",)))
        screen = await sees(pilot, "any key goes on")
        drill = drilling(app)
        assert "Answer: fret" in screen
        assert "New: Letters A to G run up a string" in screen
        assert "Why: " in screen
        await press(pilot, "x", "enter", "5")  # a burst that was meant for what was there before
        assert drill.is_solved
        clock.tick(LESSON_S)
        await press(pilot, key)
        await until(pilot, lambda: drill.is_asked)
        assert answers(record) == []


@pytest.mark.long
async def test_why_a_card_was_asked_is_told_after_the_verdict_and_never_above_a_question(make_app: MakeApp) -> None:
    app = anchors(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        await press(pilot, "7")
        await sees(pilot, "✗ Wrong: fret 7.")
        assert "Why it was asked" not in shown(app), "it was new"
        await go_on(pilot)
        while drill.question.reason.kind is not ReasonKind.MISSED:
            await press(pilot, "question_mark")
            await go_on(pilot)
        assert "missed it earlier" not in await sees(pilot, "? Not known")
        await press(pilot, "question_mark")
        await reads(pilot, "Why it was asked: you had missed it earlier in this drill.")


@pytest.mark.long(but=1)
@pytest.mark.parametrize("colours", ["rosewood", "maple", "contrast", "terminal"])
@pytest.mark.parametrize("no_color", [False, True])
async def test_no_colours_change_what_is_there_to_read(make_app: MakeApp, colours: str, no_color: bool) -> None:
    app = anchors(make_app, colours=colours)
    app.ansi_color = True if no_color else app.ansi_color
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "7")
        screen = await sees(pilot, "✗B")
        assert "✗ Wrong: fret 7. It is fret 5." in screen
        assert "◆1m" in screen


@pytest.mark.long
@pytest.mark.parametrize("size", SIZES)
async def test_seven_strings_left_handed_in_german(make_app: MakeApp, size: tuple[int, int]) -> None:
    """The seventh string is tuned to B, which German calls H (common practice)."""
    settings: dict[str, str | int] = {"deck": "two-shapes", "tuning": "seven-string", "hand": "left"}
    app = make_app({**settings, "note_language": "german"}, begin=True, focus=Focus(families=("relative-minor",)))
    async with app.run_test(size=size) as pilot:
        drill = await begin(pilot)
        assert drill.question is not None
        right = drill.question.card.kind.show(drill.question.card.accepts[0], "german")
        await press(pilot, *right.split()[0], "enter")
        await sees(pilot, f"✓ Right: {right}")


# -- only what helps now -----------------------------------------------------------------------------------------------


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", [(80, 24), (60, 16)])
async def test_the_footer_calls_enter_by_what_it_does_now(make_app: MakeApp, size: tuple[int, int]) -> None:
    app = anchors(make_app)
    async with app.run_test(size=size) as pilot:
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.is_solved)
        await sees(pilot, "Enter Next")
        await begin(pilot)
        assert "Enter Next" not in await sees(pilot, "Enter Answer")
        await press(pilot, "7")
        assert "Enter Answer" not in await sees(pilot, "Enter Next")
        await go_on(pilot)
        await sees(pilot, "Enter Answer")


@pytest.mark.long
@pytest.mark.parametrize("family", ["tonic-finger", "signature", "note-at-fret"])
async def test_a_hint_stands_in_the_field_whole_or_not_at_all(make_app: MakeApp, family: str) -> None:
    deck = {"tonic-finger": "two-shapes", "signature": "keys", "note-at-fret": "naturals"}[family]
    app = make_app({"deck": deck}, begin=True, focus=Focus(families=(family,)))
    async with app.run_test(size=(40, 12)) as pilot:
        await begin(pilot)
        for columns in (40, 50, 60, 80, 120):
            await resized(pilot, (columns, 12))
            said = app.screen.query_one(AnswerField).placeholder
            field = next(line for line in shown(app).splitlines() if "▌" in line).partition("▌")[2].strip()
            assert field == said
            if columns >= 80:
                assert said, "the first question of a kind says what to type"


async def test_what_is_too_long_for_block_letters_stands_there_once(make_app: MakeApp) -> None:
    app = make_app({"deck": "keys"}, begin=True, focus=Focus(families=("signature-key",)))
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "No sharps or flats")
        assert shown(app).count("No sharps or flats") == 1
