"""How much there is to read, to look over and to type at a question: counted on the real drill screen.

    python tests/benchmarks/reading_load.py [--questions N] [--size COLUMNSxROWS] [--family F ...]

For each family a drill of that family alone, on a clock moved by hand, and then a drill of the default deck with one
answer in eight wrong. Counted at each question:

words    all words on the screen outside the neck and the footer; block letters count as the words that they draw,
         unless the same words are written beside them
rows     how far the eye travels: from the lowest row of the subject to the answer field, and from there to the verdict
keys     from the question to the next one, typed as shortly as the answer can be: an Enter counts where it is needed
"""

from __future__ import annotations

import argparse
import asyncio
import re
import tempfile
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path
from statistics import mean, median
from typing import NamedTuple

import checkout  # noqa: F401
from textual.pilot import Pilot
from textual.widget import Widget

from drill.decks import Focus, shipped_decks
from drill.errors import UnknownName
from drill.practice.request import DrillRequest
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.wording import to_screen
from drill.record import Record
from drill.settings import Settings
from drill.tui import FretsureApp
from drill.tui.drill_times import LESSON_S, NEW_S
from drill.tui.screens.drill import DrillScreen
from drill.tui.widgets.answer_field import AnswerField
from drill.tui.widgets.key_footer import KeyFooter
from tests.support.screens import press, shown, until
from tests.support.worlds import HandClock, make_environment

SIZE = (80, 24)
MOST_WORDS, MOST_ROWS = 8, 6
MEDIAN_KEYS, MEAN_KEYS = 1, 1.6
WRONG_EVERY = 8
MIXED = 10
"""How many times the questions of one family a mixed drill has."""
MINUTES = 60
THINKS_S, WATCHES_S = 1.0, 1.5
"""How long a question is thought about, and how long a verdict is looked at before a key asks for the next one."""
VERDICT_SIGNS = "✓✗○"


class Load(NamedTuple):
    """What one question cost."""

    words: int
    rows: int
    keys: int


class World(NamedTuple):
    """A drill under way, and the clock it goes by."""

    pilot: Pilot[None]
    clock: HandClock

    @property
    def screen(self) -> DrillScreen:
        assert isinstance(self.pilot.app.screen, DrillScreen)
        return self.pilot.app.screen

    @property
    def is_over(self) -> bool:
        return not isinstance(self.pilot.app.screen, DrillScreen)

    @property
    def lines(self) -> list[str]:
        return shown(self.pilot.app).splitlines()


def main() -> None:
    """Measure every family and a mixed drill, and print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--questions", type=int, default=12, metavar="N", help="questions of each family")
    parser.add_argument("--size", default="x".join(map(str, SIZE)), help="columns and rows of the terminal")
    parser.add_argument("--family", action="append", choices=FAMILIES, help="this family alone, without a mixed drill")
    options = parser.parse_args()
    columns, rows = map(int, options.size.split("x"))
    print(f"{'':<18}{'words':>12}{'rows':>8}{'keys':>16}    words: median and most, rows: most, keys: median and mean")
    loads = []
    for family in options.family or FAMILIES:
        request = DrillRequest(_deck_of(family), MINUTES, Focus(families=(family,)))
        found = asyncio.run(measured(request, (columns, rows), options.questions))
        print(_row(family, found), flush=True)
        loads += found
    if not options.family:
        mixed = asyncio.run(
            measured(DrillRequest(None, MINUTES), (columns, rows), MIXED * options.questions, WRONG_EVERY)
        )
        print(_row("all families", loads))
        print(_row("a mixed drill", mixed))
    print(f"{'wanted, at most':<18}{MOST_WORDS:>9}{MOST_ROWS:>11}{MEDIAN_KEYS:>10} {MEAN_KEYS:>5.2f}")
    if not options.family:
        print(_in_words(mixed))


def _deck_of(family: str) -> str:
    """The deck that asks most of it: where there are few cards, a screen in between offers more."""
    decks = shipped_decks(Settings().neck)
    return max(decks, key=lambda deck: sum(entry.item.family == family for entry in deck.entries.values())).id


def _row(title: str, loads: list[Load]) -> str:
    if not loads:
        return f"{title:<18}  nothing was asked"
    words, rows, keys = zip(*loads, strict=True)
    return f"{title:<18}{median(words):>9g} {max(words):>2}{max(rows):>8}{median(keys):>10g} {mean(keys):>5.2f}"


def _in_words(mixed: list[Load]) -> str:
    keys = [load.keys for load in mixed]
    met = median(keys) <= MEDIAN_KEYS and mean(keys) <= MEAN_KEYS
    return (
        f"The bars for keys hold over a mixed drill, one answer in {WRONG_EVERY} of it wrong: half of the answers take "
        f"at most {median(keys):g}, all of them {mean(keys):.2f} on average. They are {'' if met else 'not '}met."
    )


async def measured(request: DrillRequest, size: tuple[int, int], questions: int, wrong_every: int = 0) -> list[Load]:
    """The loads of the first questions of a drill; with `wrong_every` each so-many-th is answered wrong."""
    loads: list[Load] = []
    async with _drilling(request, size) as world:
        while len(loads) < questions and await _asked(world):
            wrong = bool(wrong_every) and len(loads) % wrong_every == wrong_every - 1
            loads.append(await _one_question(world, wrong))
    return loads


@asynccontextmanager
async def _drilling(request: DrillRequest, size: tuple[int, int]) -> AsyncIterator[World]:
    clock = HandClock()
    with tempfile.TemporaryDirectory() as folder:
        environment = make_environment(Path(folder), clock)
        with Record.open(environment.record_path, environment.now) as record:
            app = FretsureApp(environment, Settings(), record, request=request)
            async with app.run_test(size=size) as pilot:
                yield World(pilot, clock)


async def _asked(world: World) -> bool:
    """Wait for the next question; what is only shown, solved, is left by a key. False at the end of the drill."""
    await until(world.pilot, lambda: world.is_over or (world.screen.question and world.screen.verdict is None))
    while not world.is_over and getattr(question := world.screen.question, "solved", False):
        world.clock.tick(LESSON_S)
        await press(world.pilot, "enter")
        await until(world.pilot, lambda asked=question: world.is_over or world.screen.question is not asked)
    return not world.is_over


async def _one_question(world: World, wrong: bool) -> Load:
    screen = world.screen
    question = screen.question
    assert question is not None
    await world.pilot.pause(0)
    words, start = _words(world, question.card), _subject(world).region.bottom - 1
    field = screen.query_one(AnswerField).region.y
    world.clock.tick(THINKS_S)
    keys = await _answer(world, _shortest(question.card, wrong))
    verdict = next(row for row, line in enumerate(world.lines) if line.strip(" ▌│")[:1] in tuple(VERDICT_SIGNS))
    keys += await _go_on(world)
    return Load(words, abs(field - start) + abs(verdict - field), keys)


# -- reading -----------------------------------------------------------------------------------------------------------


def _words(world: World, card: Card) -> int:
    """Words on the screen; a subject that stands there in block letters alone counts as the words that it draws."""
    screen = world.screen
    hidden = [widget.region for widget in (*screen.query(KeyFooter), *screen.query("#neck")) if widget.region.area]
    rows = [line for y, line in enumerate(world.lines) if not any(region.y <= y < region.bottom for region in hidden)]
    subject = to_screen(card.ask.subject)
    written = re.search(rf"(?<!\w){re.escape(subject)}(?!\w)", " ".join(rows), re.IGNORECASE)
    return _counted(rows) + (0 if written else len(subject.split()))


def _counted(lines: list[str]) -> int:
    """Words of some lines: whatever stands between blanks and holds a letter or a digit."""
    return sum(any(map(str.isalnum, word)) for line in lines for word in line.split())


def _subject(world: World) -> Widget:
    """Where the subject stands; a screen that shows the question in one piece has it there."""
    return (world.screen.query("#subject") or world.screen.query("#question")).first()


# -- typing ------------------------------------------------------------------------------------------------------------


async def _answer(world: World, text: str) -> int:
    """Type an answer key by key, and an Enter where it has not gone by itself; the number of keys."""
    for count, key in enumerate(text, 1):
        await press(world.pilot, key)
        await world.pilot.pause(0)
        if world.screen.verdict is not None:
            return count
    await press(world.pilot, "enter")
    await until(world.pilot, lambda: world.screen.verdict is not None)
    return len(text) + 1


async def _go_on(world: World) -> int:
    """Look at the verdict; where the next question does not come by itself, ask for it. The number of keys."""
    judged = world.screen.verdict
    world.clock.tick(NEW_S if judged is not None and judged.is_new else WATCHES_S)
    world.screen.watch_clock()  # at once, where the program would look within a tenth of a second
    await world.pilot.pause(0)
    if world.is_over or world.screen.verdict is not judged:
        return 0
    await press(world.pilot, "enter")
    await until(world.pilot, lambda: world.is_over or world.screen.verdict is not judged)
    return 1


def _shortest(card: Card, wrong: bool) -> str:
    """A right answer, or the likeliest wrong one, with the fewest keys."""
    wanted = next(iter(card.mixups)).answer if wrong else card.accepts[0]
    return min((text for text in _spellings(wanted) if _read(card, text) == wanted), key=len)


def _spellings(answer: str) -> Iterator[str]:
    """Every way in which a player might write an answer: 'F', 'Fm', '3b'."""
    first, *rest = answer.split()
    yield answer
    yield first
    yield from (first + {"minor": "m", "flat": "b", "flats": "b"}.get(word, "#") for word in rest)


def _read(card: Card, text: str) -> str | None:
    try:
        return card.kind.read(text)
    except UnknownName:
        return None


if __name__ == "__main__":
    main()
