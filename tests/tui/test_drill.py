"""The drill on the screen: the question gives nothing away, thinking is measured to the first key, nothing is lost."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from textual import events

from drill.decks import Focus
from drill.errors import CannotWrite
from drill.practice.session import Session
from drill.record import Record
from drill.system.environment import Environment
from drill.tui import FretsureApp
from drill.tui.drill_times import TOO_SOON_S
from drill.tui.screens.after import AfterScreen
from drill.tui.screens.drill import DrillScreen
from drill.tui.screens.pause import PauseScreen
from drill.tui.widgets.answer_field import AnswerField
from drill.tui.widgets.time_bar import TimeBar
from tests.support.asking import answers
from tests.support.reading import says
from tests.support.screens import (
    answer,
    answer_rightly,
    begin,
    drilling,
    go_on,
    half_a_second,
    press,
    reads,
    sees,
    shown,
    type_in,
    until,
)
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp

SIZES = [(200, 60), (120, 40), (80, 24), (40, 12), (30, 8)]


def asking_notes(make_app: MakeApp, minutes: float | None = None, **settings: str) -> FretsureApp:
    """A drill that asks for notes, sharps and flats among them, so that a letter waits for Enter.

    It begins at frets 0, 1, 3, 5 and 7 of string 6: E, F, G, A, B.
    """
    notes = Focus(families=("note-at-fret",))
    return make_app({"deck": "whole-neck", **settings}, begin=True, focus=notes, minutes=minutes)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_a_question_shows_its_prompt_the_time_and_a_field(make_app: MakeApp, size: tuple[int, int]) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=size) as pilot:
        await begin(pilot)
        screen = await sees(pilot, "Which note?")
        assert says(screen, "Which note? ▌")
        assert says(screen, "Fret 0, string 6")
        assert app.focused is app.screen.query_one(AnswerField)


@pytest.mark.long
async def test_the_neck_shows_the_asked_place_and_not_the_answer(make_app: MakeApp) -> None:
    app = make_app({"deck": "naturals"}, begin=True)
    async with app.run_test(size=(40, 12)) as pilot:
        await begin(pilot)
        assert "6 E [?]" in await sees(pilot, "[?]")
        await answer(pilot, "e")
        assert "6 E (E)" in await sees(pilot, "(E)")


async def test_a_right_answer_is_told_in_words_a_sign_and_the_time_to_the_first_key(
    make_app: MakeApp, clock: HandClock
) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        clock.tick(1.2)
        await type_in(pilot, "e")
        clock.tick(7.0)
        await press(pilot, "enter")
        screen = await sees(pilot, "✓ Right: E.")
        assert "0.9 s of thinking; 2 of" in screen, "less 0.3 s for the key press"
        assert "Why: string 6 (low E) sounds E open" in screen


async def test_a_wrong_answer_names_the_mix_up_and_gives_the_right_one(make_app: MakeApp) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await answer(pilot, "f")
        screen = await sees(pilot, "✗ Wrong: F. It is E.")
        assert "(E) ║✗F" in (await sees(pilot, "(E)")), "the wrong answer lies beside the right one"
        assert "Mixed up: one fret off." in screen
        assert says(screen, "It comes back.")


async def test_enter_goes_on_and_the_neck_keeps_its_place(make_app: MakeApp) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        before = (await sees(pilot, "1 E  ")).splitlines()
        await answer_rightly(pilot)
        after = (await sees(pilot, "✓")).splitlines()
        assert [i for i, line in enumerate(before) if "6 E" in line] == [
            i for i, line in enumerate(after) if "6 E" in line
        ]
        await go_on(pilot)
        assert drilling(app).question.number == 2  # type: ignore[union-attr]
        await press(pilot, "question_mark")
        await sees(pilot, "○ Not known. It is F.")


@pytest.mark.long
async def test_keys_of_one_burst_keep_their_order_and_typing_on_a_verdict_is_dropped(make_app: MakeApp) -> None:
    app = asking_notes(make_app, hand="left")
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        (asked,) = [line for line in shown(app).splitlines() if "[?]" in line]
        assert asked.rstrip().endswith("[?]  6 E")
        await press(pilot, "x", "backspace", "e", "enter")
        await sees(pilot, "✓ Right: E.")
        await press(pilot, "a", "b", "c")
        await go_on(pilot)
        await sees(pilot, "Fret 1, string 6 (low E)")
        assert app.screen.query_one(AnswerField).value == ""


@pytest.mark.long
async def test_a_burst_answers_one_question_and_its_verdict_stays_in_sight(
    make_app: MakeApp, record: Record, clock: HandClock
) -> None:
    """Nobody knows the next question before it is there: what was typed for more than one is for none of them."""
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, *"F", "enter", "enter", *"F", "enter", "enter", "question_mark", "enter", *"A", "enter")
        await sees(pilot, "✗ Wrong: F.")
        assert drilling(app).verdict is not None
        await until(pilot, lambda: not drilling(app).board.field.value)
        await go_on(pilot)
        await press(pilot, *"b", "space", "enter", "enter", "space", "enter", *"C")
        await sees(pilot, "✗ Wrong: B.")
        clock.tick(TOO_SOON_S)
        await press(pilot, "space")
        await sees(pilot, "Paused")
    assert [row.given for row in answers(record)] == ["F", "B"]


async def test_an_answer_that_cannot_be_read_gives_way_to_the_next(make_app: MakeApp, record: Record) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, *"zz", "enter", *"e", "enter")
        await sees(pilot, "✓ Right: E.")
        await go_on(pilot)
        await press(pilot, *"zz", "enter", "question_mark")
        await sees(pilot, "○ Not known. It is F.")
    assert [row.given for row in answers(record)] == ["E", ""]


async def test_an_empty_enter_warns_first_and_passes_at_the_second(
    make_app: MakeApp, clock: HandClock, record: Record
) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await press(pilot, "enter")
        clock.tick(0.6)
        assert "Nothing typed yet. Press Enter again" not in shown(app), (
            "an Enter in the first half second was meant for what was before"
        )
        await press(pilot, "enter")
        await sees(pilot, "Nothing typed yet. Press Enter again")
        await press(pilot, "e", "backspace", "enter")
        await sees(pilot, "Nothing typed yet. Press Enter again")
        for _ in range(40):  # held down
            clock.tick(0.03)
            await press(pilot, "enter")
        assert len(answers(record)) == 0
        clock.tick(1)
        await press(pilot, "enter")
        await sees(pilot, "○ Not known. It is E.")
    assert [(row.correct, row.given) for row in answers(record)] == [(False, "")]


@pytest.mark.long
async def test_who_goes_on_at_once_sees_nothing_of_the_answer_before(make_app: MakeApp) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        drill = await begin(pilot)
        with freed_of_frames(drill) as late:
            await press(pilot, "e", "enter")
            half_a_second(pilot)
            await press(pilot, "enter", "b")
            await sees(pilot, "▌ b")
            assert len(late) == 1
            late[0]()
        screen = await sees(pilot, "Fret 1, string 6 (low E)")
        assert "[?]" in screen
        assert "▌ b" in screen


@pytest.mark.long
async def test_what_cannot_be_read_is_explained_and_nothing_is_counted(make_app: MakeApp, record: Record) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await type_in(pilot, "[/x]")
        await press(pilot, "enter")
        screen = await sees(pilot, "is not a note.")
        assert says(screen, "Nothing is counted yet.")
        assert len(answers(record)) == 0
        await press(pilot, *["backspace"] * 4, "e", "enter")
        await sees(pilot, "✓ Right: E.")


@contextmanager
def freed_of_frames(drill: DrillScreen) -> Iterator[list[Callable[[], None]]]:
    """What the drill would do a frame later is gathered, to be done when the test says so."""
    late: list[Callable[[], None]] = []
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(drill, "set_timer", lambda delay, callback: late.append(callback))
        yield late


# -- pauses ------------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_space_on_the_empty_field_hides_the_question_and_holds_the_time(
    make_app: MakeApp, clock: HandClock, record: Record
) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        clock.tick(10)
        await press(pilot, "space")
        screen = await sees(pilot, "Paused")
        assert "Which note" not in screen
        clock.tick(1000)
        await press(pilot, "space")
        await until(pilot, lambda: not isinstance(app.screen, PauseScreen))
        assert drilling(app).session.seconds_left == pytest.approx(290)
        await answer_rightly(pilot)
        assert "target" not in shown(app)
    assert [row.thinking_ms for row in answers(record)] == [None]


async def test_losing_the_focus_and_a_sleep_of_the_machine_pause(make_app: MakeApp, clock: HandClock) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await type_in(pilot, "b fla")
        assert app.screen.query_one(AnswerField).value == "b fla"
        app.post_message(events.AppBlur())
        await sees(pilot, "Another window has the focus.")
        app.post_message(events.AppFocus())
        await press(pilot, "space")
        await until(pilot, lambda: not isinstance(app.screen, PauseScreen))
        await until(pilot, lambda: not drilling(app).session.watch.paused)
        await type_in(pilot, "x")
        clock.jump(3600)
        await sees(pilot, "The computer was asleep.")
        await press(pilot, "enter")
        await until(pilot, lambda: not isinstance(app.screen, PauseScreen))
        await sees(pilot, "Which note?")
        assert drilling(app).session.seconds_left == pytest.approx(300)


@pytest.mark.long
async def test_help_over_a_question_holds_the_time(make_app: MakeApp, clock: HandClock) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await begin(pilot)
        await press(pilot, "f1")
        await sees(pilot, "Everywhere")
        await until(pilot, lambda: screen.session.watch.paused)
        clock.tick(100)
        await press(pilot, "escape")
        await sees(pilot, "Which note?")
        assert drilling(app).session.seconds_left == pytest.approx(300)


# -- the end -----------------------------------------------------------------------------------------------------------


@pytest.mark.long
async def test_escape_ends_the_drill_and_every_answer_is_kept(
    make_app: MakeApp, fake_environment: Environment, record: Record
) -> None:
    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        await answer_rightly(pilot)
        await go_on(pilot)
        await press(pilot, "escape")
        await sees(pilot, "1 of 1 right")
    assert len(answers(record)) == 1
    assert round(fake_environment.now() * 1000) in [drill.ended_at for drill in record.drills()]


async def test_the_drill_never_ends_within_a_question(make_app: MakeApp, clock: HandClock) -> None:
    app = asking_notes(make_app, minutes=1)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for left in (40, 20, 0):
            clock.tick(20)
            await type_in(pilot, "x")
            await until(pilot, lambda left=left: app.screen.query_one(TimeBar).left_s == left)
        await sees(pilot, "last question")
        await press(pilot, "ctrl+u")
        await answer_rightly(pilot)
        await go_on(pilot)
        await until(pilot, lambda: isinstance(app.screen, AfterScreen))


async def test_the_bar_shrinks_with_the_time(make_app: MakeApp, clock: HandClock) -> None:
    app = asking_notes(make_app, minutes=2)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        assert shown(app).splitlines()[0].strip() == "━" * 78
        clock.tick(24)
        await until(pilot, lambda: app.screen.query_one(TimeBar).left_s == 96)
        await sees(pilot, "━╌")
        assert shown(app).splitlines()[0].strip() == "━" * 62 + "╌" * 16  # a fifth of the time is gone


async def test_a_disk_that_refuses_is_told_and_the_answer_can_be_given_again(
    make_app: MakeApp, monkeypatch: pytest.MonkeyPatch, record: Record
) -> None:
    def refuse(self: Session, text: str) -> None:
        raise CannotWrite("The disk is full.", "Make room.")

    app = asking_notes(make_app)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        with monkeypatch.context() as patched:
            patched.setattr(Session, "answer", refuse)
            await press(pilot, "e", "enter")
            assert says(await sees(pilot, "The disk is full."), "Every earlier answer is saved")
        await press(pilot, "enter")
        await sees(pilot, "✓ Right: E.")
    assert len(answers(record)) == 1


@pytest.mark.long
async def test_a_whole_drill_by_keyboard_in_forty_columns_and_twelve_lines(make_app: MakeApp, clock: HandClock) -> None:
    app = asking_notes(make_app, minutes=1, next_question="on enter")
    async with app.run_test(size=(40, 12)) as pilot:
        await begin(pilot)
        while not isinstance(app.screen, AfterScreen):
            clock.tick(2)
            await answer_rightly(pilot)
            clock.tick(4)
            await go_on(pilot)
        await sees(pilot, "9 of 9 right")


async def test_a_deck_that_cannot_be_read_leaves_the_way_to_mend_it(make_app: MakeApp, tmp_path: Path) -> None:
    app = make_app({"deck": str(tmp_path / "gone.toml")})
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await press(pilot, "escape")
        await reads(pilot, "gone.toml: cannot be read (No such file or directory)")
        await reads(pilot, "Fix it in Set-up or Decks.")
        for key in ("t", "p"):
            await press(pilot, key)
            await reads(pilot, "cannot be read")
        await press(pilot, "d")
        await sees(pilot, "○ Two shapes, every key")
        await press(pilot, "enter", "escape")
        await sees(pilot, "Enter starts your first")
