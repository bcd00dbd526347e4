"""The first screen and the first start."""

from __future__ import annotations

from pathlib import Path

import pytest

from drill import settings
from drill.decks import Focus
from drill.present.cautions import FIRST_CAUTIONS
from drill.present.neck_drawing import RAMP
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import Spot
from drill.tui.drill_times import SUMMARY_S
from drill.tui.screens.drill import DrillScreen
from drill.tui.screens.home import OF_KEYS, ways
from drill.tui.services import Services
from drill.tui.views import HomeView
from drill.tui.widgets.ways import Ways
from tests.support.asking import ask
from tests.support.screens import answer_rightly, begin, go_on, press, reads, sees, shown, until
from tests.support.worlds import HandClock
from tests.tui.conftest import MakeApp


@pytest.mark.long
async def test_the_first_start_shows_the_cautions_and_leads_on(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        screen = " ".join((await sees(pilot, "Welcome to fretsure")).split())
        for caution in FIRST_CAUTIONS:
            assert caution in screen
        assert "Enter: the idea." in screen
        await press(pilot, "escape")
        screen = await sees(pilot, "Enter starts your first 5 minutes.")
        for way in ("t Today", "f Focus", "l Look up", "p Progress", "d Decks", "s Set-up"):
            assert way in screen
        assert "1/4" not in screen, "nothing was asked in part"
        await press(pilot, "enter")
        await begin(pilot)


async def test_a_key_press_is_measured_and_kept(make_app: MakeApp, clock: HandClock, record: Record) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "Welcome")
        await press(pilot, "escape", "k")
        screen = await sees(pilot, "0 of 8")
        assert "^q Quit" in screen, "a letter is what is measured"
        assert "Continue" not in screen
        await press(pilot, "Z")
        await sees(pilot, "That was a different key.")
        for done in range(1, 9):
            clock.tick(0.25)
            await press(pilot, app.screen.wanted)  # type: ignore[attr-defined]
            await sees(pilot, f"{done} of 8" if done < 8 else "A key press takes you")
            await press(pilot, *(["enter"] if done < 8 else []))  # which goes on only at the end
        await sees(pilot, "Enter Continue")
        await press(pilot, "enter")
        await sees(pilot, "Enter starts your first")
    assert [row.thinking_ms for row in record.attempts()] == [250] * 7


@pytest.mark.long
async def test_home_after_a_drill_shows_what_is_known_and_what_comes_next(make_app: MakeApp, clock: HandClock) -> None:
    app = make_app(begin=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await begin(pilot)
        for _ in range(3):
            clock.tick(1)
            await answer_rightly(pilot)
            await go_on(pilot)
        await press(pilot, "escape")
        await sees(pilot, "3 of 3 right")
        clock.tick(SUMMARY_S)
        await press(pilot, "enter")
        screen = await reads(pilot, "5 minutes at most")
        assert OF_KEYS in screen
        asked = [line for line in screen.splitlines() if line.strip().startswith(("5 A", "6 E"))]
        assert any(char in RAMP for line in asked for char in line)
        assert "Today brings " in screen and " for the first time" in screen
        assert "3 cards in time so far." in screen
        assert "▁ unsure to █ sure; ▄45 is 45% sure" in screen
        assert "1/4 one of four measured" in screen and "2/4" in screen
        assert "fresh" not in screen.split("Enter")[0]
        clock.tick(86_400)
    again = make_app()
    async with again.run_test(size=(80, 24)) as pilot:
        assert "Welcome" not in await reads(pilot, "5 minutes at most")


@pytest.mark.long
async def test_no_line_of_a_low_screen_is_wasted(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape")
        lines = (await sees(pilot, "t Today")).splitlines()
        assert all(line.strip() for line in lines)
        assert any("p Progress" in line for line in lines)


@pytest.mark.long
@pytest.mark.parametrize("size", [(40, 12), (20, 6)])
async def test_home_on_a_small_terminal_leads_to_a_drill(make_app: MakeApp, size: tuple[int, int]) -> None:
    app = make_app()
    async with app.run_test(size=size) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        await press(pilot, "t")
        await begin(pilot)


@pytest.mark.long
async def test_a_click_on_a_way_goes_there(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "t Today")
        await pilot.click(Ways, offset=(5, 0))
        await until(pilot, lambda: isinstance(app.screen, DrillScreen))


@pytest.mark.long
async def test_keys_stand_over_their_relatives_around_the_circle_of_fifths(make_app: MakeApp) -> None:
    """Order of the majors C G D A E B F# Db Ab Eb Bb F: the circle of fifths as open textbooks print it."""
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        lines = (await sees(pilot, "major C ")).splitlines()
        (majors,) = [line.split()[1:] for line in lines if line.startswith(" major")]
        (minors,) = [line.split()[1:] for line in lines if line.startswith(" minor")]
        assert majors == "C G D A E B F♯ D♭ A♭ E♭ B♭ F".split()  # noqa: SIM905
        assert minors == "Am Em Bm F♯m C♯m G♯m D♯m B♭m Fm Cm Gm Dm".split()  # noqa: SIM905


@pytest.mark.long(but=1)
@pytest.mark.parametrize("columns", [40, 60, 80])
async def test_every_key_stands_there_whole_however_narrow_the_screen(make_app: MakeApp, columns: int) -> None:
    app = make_app()
    async with app.run_test(size=(columns, 50)) as pilot:
        await press(pilot, "escape")
        lines = [line.split() for line in (await sees(pilot, "major C ")).splitlines()]
        majors = [key for line in lines if line[:1] == ["major"] for key in line[1:]]
        minors = [key for line in lines if line[:1] == ["minor"] for key in line[1:]]
        assert sorted(majors) == sorted("C G D A E B F♯ D♭ A♭ E♭ B♭ F".split())  # noqa: SIM905
        assert sorted(minors) == sorted("Am Em Bm F♯m C♯m G♯m D♯m B♭m Fm Cm Gm Dm".split())  # noqa: SIM905


@pytest.mark.long
async def test_markup_in_what_the_learner_wrote_is_only_text(make_app: MakeApp, tmp_path: Path) -> None:
    deck = tmp_path / "mine.toml"
    deck.write_text('title = "[/b] [red]mine"\nabout = "[/]"\n[[part]]\nfamilies = ["note-at-fret"]\n')
    app = make_app({"deck": str(deck), "learner": "[/"})
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await sees(pilot, "fretsure · [/b] [red]mine")
        await press(pilot, "d")
        await sees(pilot, "● [/b] [red]mine")


async def test_both_themes_show_the_same_words(make_app: MakeApp, fake_environment: Environment) -> None:
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        rosewood = await sees(pilot, "Enter Open")
        await press(pilot, "f4")
        await until(pilot, lambda: app.theme == "maple" == settings.load(fake_environment.config_path).colours)
        assert shown(app) == rosewood


async def test_a_drill_that_cannot_begin_says_why_at_home(make_app: MakeApp) -> None:
    app = make_app(begin=True, focus=Focus(strings=(9,)))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await sees(pilot, "t Today")
        await sees(pilot, "Strings: 1, the highest, to 6.")


async def test_a_figure_below_a_tenth_is_left_to_the_block(make_app: MakeApp, monkeypatch: pytest.MonkeyPatch) -> None:
    home = Services.home

    def measured(services: Services) -> HomeView:
        view = home(services)
        first = view.pairs[0]._replace(minor_readiness=0.01, major_readiness=0.42)
        return view._replace(pairs=(first, *view.pairs[1:]), strengths={Spot(6, 3): 0.04, Spot(5, 3): 0.55})

    monkeypatch.setattr(Services, "home", measured)
    app = make_app({"start": "shapes"})
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await sees(pilot, "42")
        assert "55" in screen
        assert "01" not in screen and "04" not in screen


@pytest.mark.long
async def test_what_comes_after_a_known_deck_is_told_for_as_long_as_it_stands(
    make_app: MakeApp, record: Record, fake_environment: Environment, clock: HandClock
) -> None:
    services = Services(fake_environment, Settings(deck="naturals"), record, minutes=5)
    for _ in range(12):
        all_right(services, clock)
        clock.tick(86_400.0)
    app = make_app({"deck": "naturals"})
    async with app.run_test(size=(80, 24)) as pilot:
        await sees(pilot, "Next, in Set-up (s): the deck “")
        await press(pilot, "p")
        await sees(pilot, "[Neck]")
        await press(pilot, "escape")
        await sees(pilot, "Next, in Set-up (s): the deck “")
        await press(pilot, "p")
        await sees(pilot, "[Neck]")
        app.services.change("deck", "two-shapes")
        await press(pilot, "escape")
        await sees(pilot, "Today brings")
        await until(pilot, lambda: "Next, in Set-up" not in shown(app))


def all_right(services: Services, clock: HandClock) -> None:
    """A drill in which every answer comes right at once."""
    session = services.start(Focus())
    while (question := ask(session)) is not None:
        clock.tick(1.0)
        session.first_response()
        session.answer(question.card.accepts[0])
        clock.tick(1.0)
    session.finish()


LONG_NOTICE = (
    "A new record begins at /home/ann/documents/music/guitar/theory/every-day/of-the-year/record.sqlite3: there was "
    "none. If you have one elsewhere, correct --record."
)


@pytest.mark.long
async def test_how_a_new_record_began_is_told_whole_until_something_is_answered(
    make_app: MakeApp, record: Record, clock: HandClock
) -> None:
    record.notices.append(LONG_NOTICE)
    app = make_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "escape")
        await reads(pilot, LONG_NOTICE)
        await press(pilot, "enter")
        await begin(pilot)
        assert record.notices
        await answer_rightly(pilot)
        await press(pilot, "escape")
        await sees(pilot, "1 of 1 right")
        assert not record.notices, "what is printed at the end"
        clock.tick(SUMMARY_S)
        await press(pilot, "enter")
        await sees(pilot, "Today brings")
        assert "new record" not in shown(app)


@pytest.mark.long
async def test_what_a_way_does_is_told_whole_in_a_narrow_window(make_app: MakeApp) -> None:
    app = make_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await press(pilot, "escape")
        for way in ways():
            await reads(pilot, way.help)
            await press(pilot, "right")
