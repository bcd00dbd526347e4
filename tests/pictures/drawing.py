"""The README's pictures, drawn by the program itself: Home after three months of sample data, and a verdict."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

from drill.decks import Focus
from drill.practice.demo import SETTINGS, fill
from drill.record import Record
from drill.theory.keys import parse_key
from drill.tui import FretsureApp
from drill.tui.commands import find
from tests.support.screens import answer, begin, sees, shown, until
from tests.support.worlds import HandClock, make_environment

FOLDER = Path(__file__).parents[2] / "data" / "pictures"
SIZE = (80, 24)
ASKED = Focus(keys=(parse_key("Ab"),), families=("shape-anchor",), strings=(5,))
GIVEN = "1"
"""The fret of the same shape on the other anchor string."""
MARKED = "✗"
"""How a wrong answer is marked, in the verdict and on the neck."""
THOUGHT_S = 2.1
SETTLED_S = 0.3
"""After so long a screen has been laid out, its footer and all."""


async def drawn(folder: Path) -> dict[str, str]:
    """Each picture as SVG by the name of its file; the files of the two worlds go into the folder."""
    return {"home.svg": await _home(folder / "sample"), "drill.svg": await _drill(folder / "new")}


async def _home(folder: Path) -> str:
    """Home after three months."""
    environment = make_environment(folder, HandClock())
    fill(environment)
    with Record.open(environment.record_path, environment.now) as record:
        app = FretsureApp(environment, SETTINGS, record)
        async with app.run_test(size=SIZE) as pilot:
            await sees(pilot, "Today brings")
            await sees(pilot, "Quit")
            await pilot.pause(SETTLED_S)
            return tidy(app.export_screenshot(title="fretsure", simplify=True))


async def _drill(folder: Path) -> str:
    """The verdict on a wrong answer, with the reason and both places on the neck."""
    clock = HandClock()
    environment = make_environment(folder, clock)
    with Record.open(environment.record_path, environment.now) as record:
        app = FretsureApp(environment, SETTINGS, record)
        async with app.run_test(size=SIZE) as pilot:
            await sees(pilot, "t Today")
            app.start_drill(ASKED, narrow=True)
            await begin(pilot)
            clock.tick(THOUGHT_S)
            await answer(pilot, GIVEN)
            await until(pilot, lambda: shown(app).count(MARKED) == 2 and find("not-known").title not in shown(app))
            await pilot.pause(SETTLED_S)
            return tidy(app.export_screenshot(title="fretsure", simplify=True))


def tidy(svg: str) -> str:
    """The picture without fonts from the network and without names that differ from time to time."""
    svg = re.sub(r"@font-face\s*\{.*?\}\s*", "", svg, flags=re.DOTALL)
    svg = re.sub(r"terminal-\d+", "t", svg).replace("Fira Code", "ui-monospace, Menlo, Consolas")
    return re.sub(r"[ \t]+\n", "\n", svg)


def lines(svg: str) -> list[str]:
    """What a picture says, line by line, from the left; how a line falls into pieces hangs on a blinking cursor."""
    rows: dict[float, list[tuple[float, str]]] = {}
    for piece in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text"):
        text = "".join(piece.itertext()).replace("\N{NO-BREAK SPACE}", " ")
        rows.setdefault(float(piece.get("y", 0)), []).append((float(piece.get("x", 0)), text))
    return [" ".join("".join(text for _, text in sorted(rows[y])).split()) for y in sorted(rows)]
