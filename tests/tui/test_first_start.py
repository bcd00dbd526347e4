"""The first start: cautions, the idea, where to begin, and the first drill."""

from __future__ import annotations

import re

import pytest

from drill import settings
from drill.present.cautions import CAUTIONS
from drill.present.idea import headlines
from drill.present.placement import BEGINS, QUESTIONS, READY
from drill.record import Record
from drill.system.environment import Environment
from drill.theory.neck import STANDARD, Neck
from drill.tui.screens.drill import DrillScreen
from tests.support.screens import press, reads, sees, shown, until
from tests.tui.conftest import MakeApp


@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_five_keys_lead_from_the_cautions_to_the_first_question(
    size: tuple[int, int], make_app: MakeApp, fake_environment: Environment
) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await reads(pilot, CAUTIONS[0])
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


@pytest.mark.parametrize("size", [(80, 24), (40, 12)])
async def test_the_first_drill_waits_until_the_learner_is_ready(
    size: tuple[int, int], make_app: MakeApp, record: Record
) -> None:
    app = make_app()
    async with app.run_test(size=size, notifications=True) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "enter", "enter", "n")
        for words in (BEGINS["notes"], READY, "Enter starts 5 minutes."):
            await reads(pilot, words)
        assert not list(record.drills())
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.question)
        assert not app._notifications, "a note would cover the neck"


@pytest.mark.parametrize("way", [("n", "enter"), ("escape", "t")])
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


async def test_the_whole_idea_is_on_the_smallest_screen(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "enter")
        screen = await reads(pilot, "Two anchors:")
        for line in headlines(Neck(STANDARD)):
            assert str(line) in screen
        assert "◆1m" in screen and "●4M" in screen
        assert "Enter" in screen


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


WORDS_A_SECOND = 238 / 60
"""How fast adults read plain prose silently: Brysbaert, Journal of Memory and Language 109 (2019),
https://doi.org/10.1016/j.jml.2019.104047."""
KEY_S = 1.35 + 0.28
"""Mental preparation and a keystroke of an average typist, in seconds: Card, Moran and Newell, Communications of
the ACM 23 (1980), https://doi.org/10.1145/358886.358895."""
LONGEST_S = 60.0


class Reader:
    """Reads every line once: neither the footer nor the drawing of a neck, nor a line that was there before."""

    def __init__(self) -> None:
        self.lines: dict[str, int] = {}

    def read(self, screen: str) -> None:
        for line in screen.splitlines()[:-1]:
            if not re.search("[─━█▀▄]", line):
                self.lines[line] = sum(bool(re.search("[A-Za-z]", word)) for word in line.split())

    @property
    def words(self) -> int:
        return sum(self.lines.values())


@pytest.mark.parametrize("answers", ["n", "yn", "yyy"])
async def test_a_newcomer_reads_and_presses_for_less_than_a_minute(make_app: MakeApp, answers: str) -> None:
    """Counted, not timed: all words on the way to the first question, and the keys that lead there."""
    app, reader, keys = make_app(), Reader(), ["enter", "enter", *answers, "enter"]
    pages = [CAUTIONS[0], "Two anchors:", *QUESTIONS[: len(answers)], READY]
    async with app.run_test(size=(80, 24)) as pilot:
        for key, words in zip(["", *keys[:-1]], pages, strict=True):
            await press(pilot, *filter(None, [key]))
            reader.read(await reads(pilot, words))
        await press(pilot, keys[-1])
        await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.question)
    assert reader.words > 100
    assert reader.words / WORDS_A_SECOND + len(keys) * KEY_S <= LONGEST_S
