"""What the tests of the screens share: the screen as text, waiting for a condition, a drill played by hand."""

from __future__ import annotations

from collections.abc import Callable

from textual import events
from textual.app import App
from textual.keys import _character_to_key
from textual.pilot import Pilot
from textual.strip import Strip
from textual.widgets import Input

from drill.tui import FretsureApp
from drill.tui.drill_times import LESSON_S, TOO_SOON_S
from drill.tui.screens.drill import DrillScreen
from tests.support.reading import says
from tests.support.worlds import HandClock

LONGEST_WAIT = 500
"""Turns of the event loop before a condition counts as never coming true."""


def shown(app: App[None]) -> str:
    """The screen as a reader sees it, line by line: blank while it has not been laid out yet."""
    strips = app.screen._compositor.render_strips() or [Strip.blank(app.size.width)] * app.size.height
    return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips)


async def until(pilot: Pilot[None], condition: Callable[[], object]) -> None:
    """Let the program work until the condition holds, and every screen is built: one that is left before that fails."""
    for _ in range(LONGEST_WAIT):
        if condition() and all(screen.is_mounted for screen in pilot.app.screen_stack):
            return
        await pilot.pause(0.01)
    stack = ", ".join(type(screen).__name__ for screen in pilot.app.screen_stack)
    raise AssertionError(f"never came true; of the screens {stack} the last was:\n{shown(pilot.app)}")


async def sees(pilot: Pilot[None], words: str) -> str:
    """Wait until the screen shows these words; gives the screen."""
    await until(pilot, lambda: words in shown(pilot.app))
    return shown(pilot.app)


async def reads(pilot: Pilot[None], words: str) -> str:
    """Wait until the screen says these words, wherever its lines break; gives the screen."""
    await until(pilot, lambda: says(shown(pilot.app), words))
    return shown(pilot.app)


async def resized(pilot: Pilot[None], size: tuple[int, int]) -> None:
    """Make the window another size, and wait until the screen in front has found its place in it."""
    await pilot.resize_terminal(*size)
    await until(pilot, lambda: pilot.app.screen.size == size)
    await pilot.pause()


CHARACTERS = {"space": " ", "enter": "\r", "question_mark": "?", "number_sign": "#", "tab": "\t"}


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after the other, as a terminal sends them; the caller waits for what should come of it."""
    for key in keys:
        character = key if len(key) == 1 else CHARACTERS.get(key)
        pilot.app.post_message(events.Key(_character_to_key(key) if len(key) == 1 else key, character))
    await pilot.pause(0.01)


async def type_in(pilot: Pilot[None], text: str) -> None:
    """Type a text into the focused field and wait until it stands there."""
    field = pilot.app.focused
    assert isinstance(field, Input)
    wanted = field.value + text
    await press(pilot, *text)
    await until(pilot, lambda: field.value == wanted)


async def look_up_at_home(pilot: Pilot[None], text: str) -> None:
    """Leave the welcome for home, open the look-up page and look a key or a loop up."""
    await press(pilot, "escape", "l")
    await sees(pilot, "Type a key, a scale or the chords of a loop")
    await type_in(pilot, text)
    await press(pilot, "enter")


def drilling(app: App[None]) -> DrillScreen:
    """The drill on the screen."""
    assert isinstance(app.screen, DrillScreen)
    return app.screen


async def begin(pilot: Pilot[None]) -> DrillScreen:
    """Wait for the first question that is asked; solved cards before it are left by Enter."""
    await until(pilot, lambda: isinstance(pilot.app.screen, DrillScreen) and pilot.app.screen.question)
    await pilot.pause()  # until the screen has come to the front, where its half second without Enter begins anew
    await leave_solved(pilot)
    return drilling(pilot.app)


def half_a_second(pilot: Pilot[None], seconds: float = TOO_SOON_S) -> None:
    """Let the hand-moved clock run on until an Enter is heeded again after a question or an answer."""
    app = pilot.app
    assert isinstance(app, FretsureApp)
    clock = app.environment.monotonic.__self__  # type: ignore[attr-defined]
    assert isinstance(clock, HandClock)
    clock.tick(seconds)


async def leave_solved(pilot: Pilot[None]) -> None:
    """Go on from solved cards to the next question, or to the end."""
    while isinstance(screen := pilot.app.screen, DrillScreen) and (question := screen.question) and question.solved:
        half_a_second(pilot, LESSON_S)
        await press(pilot, "enter")
        await until(pilot, lambda screen=screen, question=question: screen.question is not question)


async def answer(pilot: Pilot[None], text: str) -> None:
    """Type an answer, press Enter, which does nothing if the answer went by itself, and wait for the verdict."""
    screen = drilling(pilot.app)
    await press(pilot, *text, "enter")
    await until(pilot, lambda: screen.verdict is not None)


async def go_on(pilot: Pilot[None]) -> None:
    """Press Enter and wait for the next question, or for the end."""
    screen = drilling(pilot.app)
    half_a_second(pilot)
    await press(pilot, "enter")
    await until(pilot, lambda: pilot.app.screen is not screen or screen.verdict is None)
    await leave_solved(pilot)


async def answer_rightly(pilot: Pilot[None]) -> None:
    """Give the right answer to the question on the screen."""
    question = drilling(pilot.app).question
    assert question is not None
    await answer(pilot, question.card.accepts[0])
