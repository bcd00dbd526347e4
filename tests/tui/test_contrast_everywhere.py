"""What is painted on every screen can be read, in each of the four themes and without colour, in 80x24.

Measured on the painted cells, by the formula of WCAG 2.2 (relative luminance as defined there): at least 4.5 to 1 for
text (success criterion 1.4.3, Contrast (Minimum)) and 3 to 1 for block letters and lines that mean something (1.4.3 on
large text, 1.4.11, Non-text Contrast). What the terminal's own colours are is the learner's choice: there, and without
colour, nothing may be painted in a colour of ours, or in the colour of its background.
"""

from __future__ import annotations

import shutil
from collections.abc import AsyncIterator, Iterator
from pathlib import Path
from typing import NamedTuple

import pytest
from rich.color import Color, ColorType
from rich.segment import Segment
from textual.command import CommandPalette
from textual.pilot import Pilot

from drill.decks import Focus
from drill.errors import UsageProblem
from drill.lookup.loops import LoopView
from drill.practice.demo import fill
from drill.practice.learner_store import LearnerStore
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.chords import parse_chords
from drill.theory.keys import parse_key
from drill.tui import FretsureApp
from drill.tui.screens.play import PlayScreen
from drill.tui.screens.round import RoundScreen
from drill.tui.themes import THEMES
from tests.support.microphone import MicrophoneShop
from tests.support.screens import begin, half_a_second, press, reads, sees, type_in, until
from tests.support.speakers import SpeakerShop
from tests.support.worlds import HandClock, make_environment
from tests.tui.test_themes import contrast

pytestmark = pytest.mark.long

SIZE = (80, 24)
TEXT, GRAPHICS = 4.5, 3.0
DRAWN = set("─━│║┃┬┼┿┯┷┴┐┤┥┑┙┘┕└├┝═╌▀▄█▌▐░▒▓▁▂▃▅▆▇●○◆◉·")
"""What is drawn and not written: strings, frets, blocks, beats and dots."""
ORNAMENT = set("▔▁🔎")
"""Frame and sign of the palette, which mean nothing."""
ANCHORS = Focus(families=("shape-anchor",))
MODES = [*(theme.name for theme in THEMES), "NO_COLOR"]


class Painted(NamedTuple):
    """A run of cells of one style."""

    text: str
    ink: Color | None
    paper: Color | None

    @classmethod
    def of(cls, segment: Segment) -> Painted:
        style = segment.style
        if style is None:
            return cls(segment.text, None, None)
        ink, paper = (style.bgcolor, style.color) if style.reverse else (style.color, style.bgcolor)
        return cls(segment.text, ink, paper)

    @property
    def least(self) -> float:
        """The contrast that this text needs; 0 for blanks."""
        signs = set(self.text) - {" "} - ORNAMENT
        return 0.0 if not signs else GRAPHICS if signs <= DRAWN else TEXT

    def trouble(self, *, ours: bool) -> str:
        """What is wrong with it, in words; `ours` says whether colours are the program's and not the terminal's."""
        wrong = "" if not self.least else self._too_faint() if ours else self._not_the_terminals()
        return wrong and f"{self.text.strip()!r} {wrong}"

    def _not_the_terminals(self) -> str:
        chosen = [color for color in (self.ink, self.paper) if color is not None and not color.is_default]
        if any(color.type is ColorType.TRUECOLOR for color in chosen):
            return "is painted in a colour of the program's"
        return "is painted on its own colour" if len(chosen) == 2 and chosen[0] == chosen[1] else ""

    def _too_faint(self) -> str:
        if not (self.ink and self.paper and self.ink.triplet and self.paper.triplet):
            return f"has no colour of its own: {self.ink} on {self.paper}"
        ink, paper = self.ink.triplet.hex, self.paper.triplet.hex
        measured = contrast(ink, paper)
        return "" if measured >= self.least else f"has {measured:.2f} to 1: {ink} on {paper}"


def painted(app: FretsureApp) -> Iterator[Painted]:
    """All that is in front: what lies dimmed below the palette cannot be used, and needs no contrast (1.4.3)."""
    strips = app.screen._compositor.render_strips()
    if isinstance(app.screen, CommandPalette):
        top, bottom = app.screen.query_one("#--input").region.y, app.screen.query_one("#--results").region.bottom
        strips = strips[top:bottom]
    for strip in strips:
        yield from map(Painted.of, strip)


# -- the walk ----------------------------------------------------------------------------------------------------------


async def opened(pilot: Pilot[None], name: str, words: str) -> str:
    """Open a page, and give its name once it says these words."""
    app = pilot.app
    assert isinstance(app, FretsureApp)
    app.open(name)
    await reads(pilot, words)
    return name


async def pages(pilot: Pilot[None]) -> AsyncIterator[str]:
    """Every page that opens by its name."""
    app = pilot.app
    assert isinstance(app, FretsureApp)
    for name, words in (
        ("welcome", "Playing can hurt"),
        ("idea", "One shape"),
        ("letters", "then A again"),
        ("placement", "the low strings"),
        ("ready", "No guitar yet"),
        ("decks", "○ "),
        ("set-up", "Note names"),
        ("help", "Help"),
        ("key-press", "key"),
        ("sound-check", "Enter begins"),
    ):
        yield await opened(pilot, name, words)
        await press(pilot, "down")
        await pilot.pause()
        yield f"{name}, a row further"
    await opened(pilot, "progress", "[Neck]")
    for number in range(6):
        await pilot.pause()
        yield f"progress {number + 1}"
        await press(pilot, "tab")
    app.go_home()


async def looked_up(pilot: Pilot[None]) -> AsyncIterator[str]:
    """What is looked up, and what is typed into Focus."""
    app = pilot.app
    assert isinstance(app, FretsureApp)
    for typed, words in (("Bb minor", "B♭"), ("A dorian", "dorian"), ("Am F C G", "Am"), ("nonsense", "nonsense")):
        yield await opened(pilot, "look-up", "Type a key, a scale")
        await type_in(pilot, typed)
        await press(pilot, "enter")
        await reads(pilot, words)
        await pilot.pause()
        yield f"look-up of {typed}"
    yield await opened(pilot, "focus", "My weakest")
    await press(pilot, "down", "space")
    await pilot.pause()
    yield "focus, a line chosen"
    await press(pilot, "A")
    await pilot.pause()
    yield "focus, typed in"
    app.go_home()


async def drilled(pilot: Pilot[None]) -> AsyncIterator[str]:
    """A drill from the choice of a wider focus to its pause."""
    app = pilot.app
    assert isinstance(app, FretsureApp)
    app.start_drill(Focus(keys=(parse_key("A"),), families=("signature",)))
    await until(pilot, lambda: getattr(app.screen, "where", "") == "widen" and bool(app.screen.query("#hint")))
    await pilot.pause()
    yield "widen"
    app.pop_screen()
    app.start_drill(ANCHORS, narrow=True)
    drill = await begin(pilot)
    await pilot.pause()
    yield "question"
    half_a_second(pilot)
    await press(pilot, "enter")
    await reads(pilot, "Nothing typed yet.")
    yield "message"
    wrong = next(str(fret) for fret in range(2, 10) if str(fret) not in drill.question.card.accepts)  # type: ignore[union-attr]
    await press(pilot, "1")
    yield "answer begun"
    await press(pilot, "backspace", wrong)
    await sees(pilot, "✗ Wrong")
    await pilot.pause(0.05)
    yield "wrong"
    half_a_second(pilot)
    await press(pilot, "enter")
    await until(pilot, lambda: drill.is_asked)
    await press(pilot, "question_mark")
    await sees(pilot, "○ Not known")
    yield "not known"
    half_a_second(pilot)
    await press(pilot, "enter")
    await until(pilot, lambda: drill.is_asked)
    await press(pilot, *drill.question.card.accepts[0], "enter")  # type: ignore[union-attr]
    await sees(pilot, "✓ Right")
    await pilot.pause(0.05)
    yield "right"
    half_a_second(pilot)
    await press(pilot, "space")
    await sees(pilot, "You stopped the clock.")
    yield "pause"


async def ended(pilot: Pilot[None]) -> AsyncIterator[str]:
    """From the pause to what comes after a drill, with notices and the palette above it."""
    app = pilot.app
    assert isinstance(app, FretsureApp)
    await press(pilot, "e")
    await until(pilot, lambda: getattr(app.screen, "where", "") == "after")
    await pilot.pause()
    yield "after"
    app.report(UsageProblem("Something is missing.", "Look at it."))
    app.notify("Copied.")
    await sees(pilot, "Something is missing.")
    yield "notices"
    app.action_command_palette()
    await pilot.pause(0.1)
    await press(pilot, "l", "o")
    await sees(pilot, "Lowest string")
    yield "palette"
    await press(pilot, "escape")
    await until(pilot, lambda: not isinstance(app.screen, CommandPalette))


async def played(pilot: Pilot[None]) -> AsyncIterator[str]:
    """Whatever sounds or listens."""
    app = pilot.app
    assert isinstance(app, FretsureApp)
    app.push_screen(RoundScreen((parse_key("F#m"), parse_key("Bb"))))
    await sees(pilot, "●  ○  ○  ○")
    yield "round"
    app.pop_screen()
    chords = parse_chords("Am F C G")
    app.push_screen(PlayScreen.of(LoopView.of(chords, app.services.settings.neck), app.services.settings))
    await sees(pilot, "Stop, start")
    await pilot.pause()
    yield "play"
    app.pop_screen()
    app.services.listen = True
    app.start_drill(Focus(families=("relative-minor",)), narrow=True)
    await until(pilot, lambda: getattr(app.screen, "where", "") == "tuning-check")
    await pilot.pause(0.1)
    yield "tuning-check"
    await press(pilot, "enter")
    await begin(pilot)
    await sees(pilot, "listening")
    yield "drill by ear"


async def every_station(pilot: Pilot[None]) -> AsyncIterator[str]:
    """Walk through the program; gives each screen's name while it is in front."""
    await press(pilot, "escape")
    await sees(pilot, "Today brings")
    await sees(pilot, "Quit")
    yield "home"
    for walk in (pages, looked_up, drilled, ended, played):
        async for name in walk(pilot):
            yield name


# -- the measure -------------------------------------------------------------------------------------------------------


def in_the(
    mode: str, environment: Environment, clock: HandClock, record: Record, monkeypatch: pytest.MonkeyPatch
) -> FretsureApp:
    """The program with three months of sample data, a sound card and a microphone, in a theme or without colour."""
    if mode == "NO_COLOR":
        monkeypatch.setenv("NO_COLOR", "1")
        environment = environment._replace(variables={**environment.variables, "NO_COLOR": "1"})
    environment = environment._replace(open_speaker=SpeakerShop(clock), open_duplex=MicrophoneShop(clock))
    settings = Settings(start="shapes", colours="rosewood" if mode == "NO_COLOR" else mode)  # type: ignore[arg-type]
    return FretsureApp(environment, settings, record)


@pytest.fixture(scope="module")
def three_months(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The record of the sample data, with what follows from it."""
    environment = make_environment(tmp_path_factory.mktemp("three months"), HandClock())
    fill(environment)
    with Record.open(environment.record_path, environment.now) as record:
        assert LearnerStore.of(record).is_current
    return environment.record_path


@pytest.mark.parametrize("mode", MODES)
async def test_every_screen_can_be_read(
    mode: str, fake_environment: Environment, clock: HandClock, three_months: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake_environment.record_path.parent.mkdir()
    shutil.copy(three_months, fake_environment.record_path)
    with Record.open(fake_environment.record_path, fake_environment.now) as record:
        app = in_the(mode, fake_environment, clock, record, monkeypatch)
        ours = not (mode == "NO_COLOR" or app.native_ansi_color)
        met: set[str] = set()
        trouble: dict[str, None] = {}
        async with app.run_test(size=SIZE, notifications=True) as pilot:
            async for station in every_station(pilot):
                met.add(getattr(app.screen, "where", "") or station)
                for run in painted(app):
                    if words := run.trouble(ours=ours):
                        trouble.setdefault(f"{station}: {words}")
    assert not trouble, "\n".join(trouble)
    assert met >= {
        "home", "welcome", "idea", "placement", "ready", "decks", "set-up", "help", "key-press", "sound-check",
        "progress", "look-up", "focus", "widen", "drill", "pause", "after", "round", "play", "tuning-check", "palette",
    }  # fmt: skip
