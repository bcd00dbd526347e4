"""The drill on the screen answered on the guitar: the sign, the verdicts, hands that stay on the strings, typing."""

from __future__ import annotations

from collections.abc import Callable
from typing import cast

import pytest
from textual.pilot import Pilot

from drill.decks import Focus
from drill.practice.played_drill import READ_NEW_S, READ_WRONG_S
from drill.practice.request import DrillRequest
from drill.present.played_words import CANNOT_BE_HEARD, NOTHING_YET, TOO_BUSY, TYPED_AGAIN
from drill.present.verdicts import ONLY_TYPED
from drill.record import Record
from drill.settings import Settings
from drill.system import duplex
from drill.system.audio import NOT_INSTALLED
from drill.system.environment import Environment
from drill.tui import FretsureApp
from drill.tui.drill_times import ALONE_S, LESSON_S, NEW_S
from drill.tui.screens.after import AfterScreen
from drill.tui.screens.drill_listening import TYPED_INSTEAD, DeafDrillScreen, HeardDrillScreen
from drill.tui.screens.tuning_check import TuningCheckScreen
from drill.tui.widgets.listening_sign import WORDS
from tests.support.asking import answers, introduce
from tests.support.guitarist import right_notes
from tests.support.microphone import FakeDuplex, MicrophoneShop
from tests.support.missing import hide_numpy
from tests.support.playing import knock
from tests.support.reading import says
from tests.support.screens import press, reads, sees, shown, type_in, until
from tests.support.worlds import HandClock

SIZES = [(120, 40), (80, 24), (40, 12)]
RELATIVES = Focus(families=("relative-minor",))
MakeHeard = Callable[..., FretsureApp]


@pytest.fixture
def make_heard(fake_environment: Environment, record: Record, clock: HandClock) -> MakeHeard:
    """Make a program that drills at once with --listen and a microphone."""

    def make(focus: Focus = RELATIVES, settings: Settings = Settings(), *, microphone: bool = True) -> FretsureApp:  # noqa: B008
        introduce(record, clock.now())
        environment = fake_environment
        if microphone:
            environment = environment._replace(open_duplex=MicrophoneShop(clock))
        return FretsureApp(environment, settings, record, request=DrillRequest(focus=focus, listen=True))

    return make


async def at_first_question(pilot: Pilot[None], clock: HandClock) -> HeardDrillScreen:
    """Skip the tuning check, and leave solved cards, by Enter."""
    await until(pilot, lambda: isinstance(pilot.app.screen, TuningCheckScreen))
    await press(pilot, "enter")
    await until(pilot, lambda: isinstance(pilot.app.screen, HeardDrillScreen) and pilot.app.screen.question)
    screen = cast("HeardDrillScreen", pilot.app.screen)
    while screen.is_solved:
        clock.tick(LESSON_S)
        await press(pilot, "enter")
        await until(pilot, lambda: screen.is_asked or screen.is_solved)
    await until(pilot, lambda: screen.played.is_listening)
    return screen


def microphone(screen: HeardDrillScreen) -> FakeDuplex:
    return cast("FakeDuplex", screen.played.ears._duplex)


async def time_goes_on(pilot: Pilot[None], clock: HandClock, seconds: float) -> None:
    """Let the screen listen after each tenth of a second; where much time goes by, after each half."""
    step_s = 0.1 if seconds < 3 else 0.5
    for _ in range(round(seconds / step_s)):
        clock.tick(step_s)
        await pilot.pause(0.04)


async def play(pilot: Pilot[None], clock: HandClock, screen: HeardDrillScreen, midi: int) -> None:
    """Pluck a note and let it ring for a while."""
    microphone(screen).pluck_now(midi)
    await time_goes_on(pilot, clock, 0.6)


def the_note(screen: HeardDrillScreen) -> int:
    assert screen.question
    return right_notes(screen.question)[0]


@pytest.mark.long(but=1)
@pytest.mark.parametrize("size", SIZES)
async def test_a_note_answers_and_the_next_question_comes_by_itself(
    make_heard: MakeHeard, record: Record, clock: HandClock, size: tuple[int, int]
) -> None:
    async with make_heard().run_test(size=size) as pilot:
        screen = await at_first_question(pilot, clock)
        first = screen.question
        assert WORDS[:30] in await sees(pilot, WORDS[:30])
        await time_goes_on(pilot, clock, 0.9)
        await play(pilot, clock, screen, the_note(screen))
        await until(pilot, lambda: screen.verdict)
        assert says(await sees(pilot, "Right"), "Right:")
        await time_goes_on(pilot, clock, NEW_S + 0.2)
        await until(pilot, lambda: screen.question is not first and screen.is_asked)
        (row,) = answers(record)
        assert (row.how, row.correct) == ("played", True)
        assert row.thinking_ms is not None
        assert 850 <= row.thinking_ms <= 1050


@pytest.mark.long
async def test_another_note_is_told_and_the_same_again_is_wrong_and_comes_back_typed(
    make_heard: MakeHeard, record: Record, clock: HandClock
) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        question, wrong = screen.question, the_note(screen) + 1
        await time_goes_on(pilot, clock, 0.5)
        await play(pilot, clock, screen, wrong)
        await sees(pilot, "play it again")
        assert not answers(record)
        await time_goes_on(pilot, clock, 0.6)  # in which it is read
        await play(pilot, clock, screen, wrong)
        await until(pilot, lambda: screen.verdict)
        assert says(await sees(pilot, "Wrong: heard"), "Wrong: heard")
        assert question and question.card.id in screen.session.missed_by_ear
        assert [(row.how, row.correct) for row in answers(record)] == [("played", False)]
        screen.played.asked(question)
        assert screen.played.how(question) == TYPED_AGAIN


async def test_after_a_wrong_answer_the_next_comes_after_a_while_or_at_a_note(
    make_heard: MakeHeard, clock: HandClock
) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        before = screen.question
        screen.action_do_not_known()
        await until(pilot, lambda: screen.verdict)
        await time_goes_on(pilot, clock, READ_WRONG_S - 0.5)
        assert screen.question is before
        await time_goes_on(pilot, clock, 0.7)
        await until(pilot, lambda: screen.question is not before)
        if screen.is_solved:  # a note goes on from a new card too
            await time_goes_on(pilot, clock, LESSON_S)
            await play(pilot, clock, screen, 50)
            await until(pilot, lambda: screen.is_asked)
        before = screen.question
        screen.action_do_not_known()
        await until(pilot, lambda: screen.verdict)
        await play(pilot, clock, screen, 50)
        await until(pilot, lambda: screen.question is not before)


async def test_what_is_typed_is_the_answer_and_notes_meanwhile_are_not(
    make_heard: MakeHeard, record: Record, clock: HandClock
) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        question, note = screen.question, the_note(screen)
        await time_goes_on(pilot, clock, 0.5)
        await type_in(pilot, question.card.accepts[0][0] if question else "")
        await play(pilot, clock, screen, note)
        assert screen.is_asked
        await press(pilot, "enter")
        await until(pilot, lambda: screen.verdict)
        assert [row.how for row in answers(record)] == ["typed"]


async def test_silence_is_told_once_and_never_counts(make_heard: MakeHeard, record: Record, clock: HandClock) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        await time_goes_on(pilot, clock, 11.0)
        assert says(shown(pilot.app), NOTHING_YET)
        assert screen.is_asked
        assert not answers(record)


@pytest.mark.long
async def test_where_the_machine_is_too_busy_to_hear_that_is_said(make_heard: MakeHeard, clock: HandClock) -> None:
    """Only of the question at which it was."""
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        microphone(screen).overruns += 1
        await time_goes_on(pilot, clock, 11.0)
        assert says(shown(pilot.app), TOO_BUSY)
        await play(pilot, clock, screen, the_note(screen))
        await until(pilot, lambda: screen.verdict)
        await press(pilot, "enter")
        await until(pilot, lambda: screen.is_asked)
        await time_goes_on(pilot, clock, 11.0)
        assert says(shown(pilot.app), NOTHING_YET)


async def test_a_question_that_cannot_be_heard_says_so(make_heard: MakeHeard, clock: HandClock) -> None:
    both = Focus(families=("relative-minor", "tonic-finger"))
    async with make_heard(both).run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        for _ in range(20):
            if screen.is_asked and not screen.played.is_played:
                break
            clock.tick(1.0)
            if screen.is_solved:
                screen._leave_solved()
            else:
                screen.action_do_not_known()
                screen.next_question()
        assert says(await sees(pilot, CANNOT_BE_HEARD), CANNOT_BE_HEARD)


async def test_a_pause_closes_the_microphone_and_the_drill_opens_it_again(
    make_heard: MakeHeard, clock: HandClock
) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        await press(pilot, "space")
        await until(pilot, lambda: pilot.app.screen is not screen)
        assert not microphone(screen).is_open
        await press(pilot, "enter")
        await until(pilot, lambda: pilot.app.screen is screen and microphone(screen).is_open)
        await time_goes_on(pilot, clock, 0.5)
        await play(pilot, clock, screen, the_note(screen))
        await until(pilot, lambda: screen.verdict and screen.verdict.right)
        assert screen.verdict
        assert screen.verdict.thinking_s is None
        screen.finish()
        assert not microphone(screen).is_open
        await until(pilot, lambda: isinstance(pilot.app.screen, AfterScreen))
        await pilot.pause(0.1)


@pytest.mark.long
async def test_an_unplugged_microphone_leaves_a_drill_that_is_typed(
    make_heard: MakeHeard, record: Record, clock: HandClock
) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        microphone(screen).unplug()
        await sees(pilot, "The microphone is gone")
        assert not screen.played.is_listening
        assert WORDS not in shown(pilot.app)
        await press(pilot, *"?")
        await until(pilot, lambda: screen.verdict)
        assert [row.how for row in answers(record)] == ["typed"]


async def test_without_a_microphone_the_drill_is_typed_and_says_so(make_heard: MakeHeard) -> None:
    async with make_heard(microphone=False).run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: isinstance(pilot.app.screen, DeafDrillScreen) and pilot.app.screen.question)
        assert says(await sees(pilot, TYPED_INSTEAD), f"No microphone was found. {TYPED_INSTEAD}")


@pytest.mark.long
async def test_with_the_setting_hands_free_only_what_can_be_heard_is_asked(
    make_heard: MakeHeard, clock: HandClock
) -> None:
    both = Focus(families=("relative-minor", "tonic-finger"))
    async with make_heard(both, Settings(answers="hands free")).run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        assert {entry.item.family for entry in screen.session.deck.entries.values()} == {"relative-minor"}


@pytest.mark.long
async def test_with_the_setting_hands_free_the_screen_says_what_is_left_out(make_heard: MakeHeard) -> None:
    both = Focus(families=("relative-minor", "tonic-finger"))
    async with make_heard(both, Settings(answers="hands free")).run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: isinstance(pilot.app.screen, TuningCheckScreen))
        await press(pilot, "enter")
        assert says(await sees(pilot, "left out"), "cards can be played; the others are left out.")


async def test_with_the_setting_hands_free_a_played_miss_is_not_asked_again(
    make_heard: MakeHeard, record: Record, clock: HandClock
) -> None:
    async with make_heard(settings=Settings(answers="hands free")).run_test(size=(120, 40)) as pilot:
        screen = await at_first_question(pilot, clock)
        wrong = the_note(screen) + 1
        for _ in range(2):
            await time_goes_on(pilot, clock, 0.6)
            await play(pilot, clock, screen, wrong)
        await until(pilot, lambda: screen.verdict)
        assert says(await sees(pilot, "a miss counts"), ONLY_TYPED)
        assert [(row.how, row.correct) for row in answers(record)] == [("played", False)]


@pytest.mark.long
async def test_a_new_card_goes_by_itself_and_is_saved_as_shown(
    make_heard: MakeHeard, record: Record, clock: HandClock
) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: isinstance(pilot.app.screen, TuningCheckScreen))
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(pilot.app.screen, HeardDrillScreen) and pilot.app.screen.question)
        screen = cast("HeardDrillScreen", pilot.app.screen)
        assert screen.is_solved
        new = screen.question
        await time_goes_on(pilot, clock, READ_NEW_S + 0.5)
        await until(pilot, lambda: screen.question is not new)
        shown_rows = [row.card for row in record.attempts() if row.kind == "shown"]
        assert new
        assert new.card.id in shown_rows


async def test_without_numpy_the_drill_is_typed_and_says_so(
    fake_environment: Environment, record: Record, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A plain install, and the setting that answers are played, hands free."""
    hide_numpy(monkeypatch)
    introduce(record, clock.now())
    world = fake_environment._replace(open_duplex=duplex.open_duplex)
    app = FretsureApp(world, Settings(answers="hands free"), record, request=DrillRequest(focus=RELATIVES))
    async with app.run_test(size=(80, 24)) as pilot:
        await reads(pilot, NOT_INSTALLED)
        assert says(shown(app), TYPED_INSTEAD)


async def test_where_nothing_can_be_played_the_drill_is_typed_and_says_so(
    fake_environment: Environment, record: Record, clock: HandClock
) -> None:
    shop = MicrophoneShop(clock)
    introduce(record, clock.now())
    request = DrillRequest(focus=Focus(families=("tonic-finger",)), listen=True)
    app = FretsureApp(fake_environment._replace(open_duplex=shop), Settings(), record, request=request)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(pilot, lambda: isinstance(pilot.app.screen, DeafDrillScreen) and pilot.app.screen.question)
        await reads(pilot, "can be answered on the guitar.")
        assert shop.duplex is None or not shop.duplex.starts


@pytest.mark.long
async def test_what_the_loudspeakers_play_goes_on_from_nothing(
    make_heard: MakeHeard, clock: HandClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After the verdict on a phrase that was heard, its notes may still sound."""
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        monkeypatch.setattr(type(screen.session), "is_heard", property(lambda session: True))
        screen.played._take = None
        screen.action_do_not_known()
        await until(pilot, lambda: screen.verdict)
        before = screen.question
        await time_goes_on(pilot, clock, 0.6)
        await play(pilot, clock, screen, 50)
        await time_goes_on(pilot, clock, 1.0)
        assert screen.question is before


@pytest.mark.long
async def test_at_the_start_the_microphone_is_opened_once(make_heard: MakeHeard, clock: HandClock) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        await pilot.pause(0.1)
        assert microphone(screen).starts == 1


@pytest.mark.long
async def test_a_question_left_alone_pauses_in_time_though_silence_is_told(
    make_heard: MakeHeard, clock: HandClock
) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        await time_goes_on(pilot, clock, ALONE_S - 1)
        assert pilot.app.screen is screen
        await time_goes_on(pilot, clock, 2)
        await until(pilot, lambda: pilot.app.screen is not screen)


@pytest.mark.long
async def test_noise_that_is_not_told_says_too_that_somebody_is_there(make_heard: MakeHeard, clock: HandClock) -> None:
    async with make_heard().run_test(size=(80, 24)) as pilot:
        screen = await at_first_question(pilot, clock)
        for _ in range(4):
            await time_goes_on(pilot, clock, (ALONE_S - 5) / 2)
            microphone(screen).play_in(0.1, knock(microphone(screen).rate))
        assert pilot.app.screen is screen
        assert screen.is_asked
