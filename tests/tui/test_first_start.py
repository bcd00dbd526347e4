"""The first start: cautions, the idea, where to begin, and the first drill."""

from __future__ import annotations

import pytest

from drill import settings
from drill.present import letters
from drill.present.cautions import FIRST_CAUTIONS
from drill.present.idea import headlines
from drill.present.placement import BEGINS, QUESTIONS, READY, READY_TO_PLAY
from drill.questions.wording import to_screen
from drill.record import Record
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from drill.tui.screens.drill import DrillScreen
from tests.support.asking import introduce
from tests.support.screens import press, reads, sees, shown, until
from tests.tui.conftest import MakeApp


@pytest.mark.long
@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_five_keys_lead_from_the_cautions_to_the_first_question(
    size: tuple[int, int], make_app: MakeApp, fake_environment: Environment
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await reads(pilot, FIRST_CAUTIONS[0])
        await press(pilot, "enter")
        await reads(pilot, "Two anchors:")
        await press(pilot, "enter")
        await reads(pilot, QUESTIONS[0])
        await press(pilot, "y")
        await reads(pilot, QUESTIONS[1])
        await press(pilot, "n")
        await reads(pilot, BEGINS["shapes"])
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.question)
    assert settings.load(fake_environment.config_path).start == "shapes"


@pytest.mark.long
@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_the_first_drill_waits_until_the_learner_is_ready(
    size: tuple[int, int], make_app: MakeApp, record: Record
) -> None:
    app = make_app()
    async with app.run_test(size=size, notifications=True) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter", "enter", "n", "enter")
        for words in (BEGINS["notes"], READY, "Enter starts 5 minutes."):
            await reads(pilot, words)
        assert not list(record.drills())
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.question)
        assert not app._notifications, "a note would cover the neck"


@pytest.mark.long
async def test_who_answers_on_the_guitar_is_told_to_take_it(make_app: MakeApp) -> None:
    async with make_app({"answers": "hands free"}).run_test(size=(80, 24)) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter", "enter", "n", "enter")
        await reads(pilot, READY_TO_PLAY)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("way", [("n", "enter", "enter"), ("escape", "t")])
async def test_the_welcome_comes_once_even_if_nothing_was_answered(way: tuple[str, ...], make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter", "enter")
        await reads(pilot, QUESTIONS[0])
        await press(pilot, *way)
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.question)
        await press(pilot, "escape")
        await sees(pilot, "After the drill")
    again = make_app()
    async with again.run_test(size=(80, 24)) as pilot:
        assert "Welcome" not in await sees(pilot, "t Today")


@pytest.mark.long
async def test_the_whole_idea_is_on_the_smallest_screen(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "enter")
        screen = await reads(pilot, "Two anchors:")
        for line in headlines(Neck(STANDARD)):
            assert str(line) in screen
        assert "◆1m" in screen and "●4M" in screen
        assert "Enter" in screen


@pytest.mark.long
@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_whoever_knows_no_notes_is_taught_the_letters_before_any_is_asked(
    size: tuple[int, int], make_app: MakeApp
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter", "enter", "n")
        lines = letters.headlines()
        screen = await sees(pilot, lines[-1].lead)
        assert "(B)┯(C)┯━━━┯(D)┯━━━┯(E)" in screen, "the A string"
        assert "(F)┷━━━┷(G)┷━━━┷(A)┷━━━┷(B)" in screen, "the low E string"
        for line in lines:
            assert line.lead in screen
            assert to_screen(line.rest).partition(".")[0] in " ".join(screen.split())
        await press(pilot, "enter")
        await reads(pilot, BEGINS["notes"])
    knows = make_app({"start": "undecided"})
    async with knows.run_test(size=size) as pilot:
        await press(pilot, "enter", "enter", "y", "n")
        await reads(pilot, BEGINS["shapes"])
        assert "Letters:" not in shown(knows)


async def test_back_leads_from_the_letters_to_the_questions_which_are_asked_anew(
    make_app: MakeApp, fake_environment: Environment
) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter", "enter", "n", "enter")
        await reads(pilot, READY)
        for screen_behind in ("Letters:", QUESTIONS[0]):
            await press(pilot, "escape")
            await reads(pilot, screen_behind)
        assert settings.load(fake_environment.config_path).start == "undecided"
        await press(pilot, "y", "n")
        await reads(pilot, BEGINS["shapes"])
        await press(pilot, "escape")
        await reads(pilot, QUESTIONS[0])
    assert settings.load(fake_environment.config_path).start == "undecided"


@pytest.mark.long
async def test_back_leads_from_the_idea_to_the_cautions(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await reads(pilot, FIRST_CAUTIONS[0])
        await press(pilot, "enter")
        await reads(pilot, "Two anchors:")
        await press(pilot, "escape")
        await reads(pilot, FIRST_CAUTIONS[0])
        await press(pilot, "escape")
        await sees(pilot, "t Today")


@pytest.mark.long
async def test_the_letters_stand_on_the_instrument_of_the_deck(make_app: MakeApp) -> None:
    """A deck may bring its own instrument, whatever is set; its questions are asked there."""
    app = make_app({"start": "notes", "deck": "bass"})
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "t Today")
        await press(pilot, "f1")
        await sees(pilot, "this screen")
        await press(pilot, "n")
        await sees(pilot, "4 E (E)")


@pytest.mark.long
async def test_help_explains_the_letters_at_leisure_and_leads_back(
    make_app: MakeApp, fake_environment: Environment, record: Record
) -> None:
    introduce(record, fake_environment.now())
    app = make_app({"start": "notes"})
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "t Today")
        await press(pilot, "f1")
        await sees(pilot, "this screen")
        await press(pilot, "n")
        for line in letters.sentences(Neck(STANDARD)):
            await reads(pilot, to_screen(str(line)))
        await sees(pilot, "Enter goes back.")
        await press(pilot, "enter")
        await sees(pilot, "this screen")


@pytest.mark.long
async def test_answers_can_be_chosen_by_arrow_and_by_mouse(make_app: MakeApp, fake_environment: Environment) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter", "enter")
        await reads(pilot, QUESTIONS[0])
        await press(pilot, "enter")
        await reads(pilot, QUESTIONS[1])
        await pilot.click("#answers", offset=(3, 0))
        await reads(pilot, QUESTIONS[2])
        await press(pilot, "down", "enter")
        await reads(pilot, BEGINS["shapes"])
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.question)
    assert settings.load(fake_environment.config_path).start == "shapes"


@pytest.mark.long
async def test_whoever_skips_the_questions_begins_undecided_at_home(
    make_app: MakeApp, fake_environment: Environment
) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter", "enter")
        await reads(pilot, QUESTIONS[0])
        await press(pilot, "escape")
        await sees(pilot, "Enter starts your first 5 minutes.")
    assert settings.load(fake_environment.config_path).start == "undecided"


async def test_home_and_help_show_the_idea_again_and_lead_back(make_app: MakeApp) -> None:
    app = make_app({"start": "speed"})
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "t Today")
        for way, words in (((), "Enter starts your first"), (("f1",), "this screen")):
            await press(pilot, *way)
            await sees(pilot, words)
            await press(pilot, "i")
            await sees(pilot, "Two tonics:")
            await press(pilot, "enter")
            await sees(pilot, words)
            assert "Do you" not in shown(app)
