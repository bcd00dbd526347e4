"""Keys from Home to what is most often wished for, and a newcomer's minute: counted by pressing them.

python tests/benchmarks/wishes.py prints both. Each wish is tried on a fresh record in a window of 80x24; where its keys
lead is checked by what stands there.
"""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from textual.pilot import Pilot

from drill.decks import Focus, load_deck
from drill.record import Record
from drill.settings import Settings
from drill.theory.keys import parse_key
from drill.tui import FretsureApp
from drill.tui.screens.drill import DrillScreen
from tests.support.screens import press, reads, shown, until
from tests.support.worlds import HandClock, make_environment

SIZE = (80, 24)
MOST_KEYS = 4
WORDS_A_SECOND = 4.0
"""A little above the 238 words a minute at which adults read plain prose silently: Brysbaert, Journal of Memory and
Language 109 (2019), https://doi.org/10.1016/j.jml.2019.104047."""
KEY_S = 1.35 + 0.28
"""Mental preparation and a keystroke of an average typist, in seconds: Card, Moran and Newell, Communications of
the ACM 23 (1980), https://doi.org/10.1145/358886.358895."""
LONGEST_S = {"n": 60.0, "yn": 50.0, "yyn": 50.0, "yyy": 50.0}
"""By the answers where to begin: whoever knows no notes yet has more to be taught."""
SETTLED_S = 0.2
"""After so long a page has been laid out; what its first frame showed for a moment is nothing to read."""
TWO_SHAPES = load_deck("two-shapes", Settings().neck)


class Wish(NamedTuple):
    """What is wished for, the keys that lead there from Home, and how one sees that one is there."""

    name: str
    keys: tuple[str, ...]
    came: Callable[[FretsureApp], object]


def _drills(focus: Focus) -> Callable[[FretsureApp], object]:
    """A drill of just the cards in focus."""
    return lambda app: (
        isinstance(app.screen, DrillScreen)
        and app.screen.question
        and app.screen.session.deck.entries.keys() == TWO_SHAPES.in_focus(focus).keys()
    )


def _at(where: str, words: str) -> Callable[[FretsureApp], object]:
    """A screen by its name, which says these words."""
    return lambda app: getattr(app.screen, "where", "") == where and words in shown(app)


WISHES = (
    Wish("drill", ("enter",), _drills(Focus())),
    Wish("drill one key", ("f", *"am", "enter"), _drills(Focus(keys=(parse_key("Am"),)))),
    Wish("drill one string", ("f", "5", "enter"), _drills(Focus(strings=(5,)))),
    Wish("look up a key", ("l", *"bm", "enter"), _at("look-up", "relative D major")),
    Wish("a loop", ("o",), _at("play", "C  G  Am  F")),
    Wish("see progress", ("p",), _at("progress", "[Neck]")),
    Wish("change the deck", ("d", "down", "enter"), lambda app: app.services.settings.deck != Settings().deck),
    Wish("change the tuning", ("s", "right"), lambda app: app.services.settings.tuning != Settings().tuning),
    Wish("change the tempo", ("s", "t", "t", "right"), lambda app: app.services.settings.tempo_bpm == 81),
    Wish("help", ("question_mark",), _at("help", "Home: this screen")),
)
"""The ten most frequent wishes."""


async def granted(wish: Wish, folder: Path) -> None:
    """Press the keys of a wish at Home; raises AssertionError where they lead elsewhere."""
    environment = make_environment(folder, HandClock())
    with Record.open(environment.record_path, environment.now) as record:
        app = FretsureApp(environment, Settings(start="shapes"), record)
        async with app.run_test(size=SIZE) as pilot:
            await until(pilot, lambda: _at("home", "t Today")(app))
            await _pressed(pilot, app, wish.keys)
            await until(pilot, lambda: wish.came(app))


async def _pressed(pilot: Pilot[None], app: FretsureApp, keys: tuple[str, ...]) -> None:
    """Press the first key, wait for the screen it opens, then type on as a person does."""
    first, *others = keys
    await press(pilot, first)
    if others:
        await until(pilot, lambda: getattr(app.screen, "where", "") != "home" and app.screen.focused is not None)
    for key in others:
        await press(pilot, key)


# -- the first minute --------------------------------------------------------------------------------------------------


class Start(NamedTuple):
    """A way through the first start: its keys, and the words to read on it."""

    keys: int
    words: int

    @property
    def seconds(self) -> float:
        """The time of a newcomer who reads every word once."""
        return self.words / WORDS_A_SECOND + self.keys * KEY_S


async def first_start(answers: str, folder: Path) -> Start:
    """Go from the first start to the first question, with these answers to the questions where to begin."""
    from drill.present.cautions import FIRST_CAUTIONS
    from drill.present.placement import QUESTIONS, READY

    letters = ["Letters:"] if answers == "n" else []
    keys = ["enter", "enter", *answers, *("enter" for _ in letters), "enter"]
    pages = [FIRST_CAUTIONS[0], "Two anchors:", *QUESTIONS[: len(answers)], *letters, READY]
    lines: dict[str, int] = {}
    environment = make_environment(folder, HandClock())
    with Record.open(environment.record_path, environment.now) as record:
        app = FretsureApp(environment, Settings(), record)
        async with app.run_test(size=SIZE) as pilot:
            for key, words in zip(["", *keys[:-1]], pages, strict=True):
                await press(pilot, *filter(None, [key]))
                await reads(pilot, words)
                await pilot.pause(SETTLED_S)
                lines |= dict(_read(shown(app)))
            await press(pilot, keys[-1])
            await until(pilot, lambda: isinstance(app.screen, DrillScreen) and app.screen.question)
    return Start(len(keys), sum(lines.values()))


def _read(screen: str) -> Iterator[tuple[str, int]]:
    """Each line with its words: neither the footer nor the drawing of a neck or of large letters."""
    for line in screen.splitlines()[:-1]:
        if not re.search("[─━█▀▄]", line):
            yield line, sum(bool(re.search("[A-Za-z]", word)) for word in line.split())


async def main() -> None:
    """Print both."""
    with tempfile.TemporaryDirectory() as folder:
        print("wish                 keys  pressed at Home")
        for number, wish in enumerate(WISHES):
            await granted(wish, Path(folder) / f"wish-{number}")
            print(f"{wish.name:<20} {len(wish.keys):>4}  {' '.join(wish.keys)}")
        print(f"\nfirst start          keys  words  seconds at {WORDS_A_SECOND:g} words a second and {KEY_S:g} s a key")
        for answers in LONGEST_S:
            start = await first_start(answers, Path(folder) / answers)
            print(f"answers {answers:<12} {start.keys:>4} {start.words:>6} {start.seconds:>8.1f}")


if __name__ == "__main__":
    asyncio.run(main())
