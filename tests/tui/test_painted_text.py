"""Control characters of any origin are shown, and never reach the terminal from a screen."""

from __future__ import annotations

from pathlib import Path

import pytest

from drill.errors import BadFile
from drill.record import Record
from tests.faults.hostile_backups import ACTS_ON_A_TERMINAL, PAINT
from tests.support.records import attempt, drill
from tests.support.screens import press, sees, shown
from tests.tui.conftest import MakeApp

DECK = """
title = "Turned \u202e around"
about = "It says \u2067 what it is not."
[[part]]
families = ["note-at-fret"]
"""


async def test_text_from_elsewhere_acts_on_no_screen(make_app: MakeApp, record: Record, tmp_path: Path) -> None:
    path = tmp_path / "painted.toml"
    path.write_text(DECK, encoding="utf-8")
    record.start_drill(drill())
    record.append(attempt(1, given=PAINT, correct=False, mixup="one fret off"))
    record.notices.append(f"A notice \x1b[31m of {PAINT}")
    app = make_app({"deck": str(path)})
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        screens = [await sees(pilot, r"Turned \u202e around"), await sees(pilot, r"A notice \x1b[31m of \x1b]0;owned")]
        app.report(BadFile(f"music\x1b[2J{PAINT}.toml", "", "is not TOML.", f"Look {PAINT} at it."))
        screens.append(await sees(pilot, r"music\x1b[2J"))
        await press(pilot, "d")
        screens.append(await sees(pilot, r"It says \u2067 what it is not."))
    assert [ACTS_ON_A_TERMINAL.search(screen) for screen in screens] == [None] * len(screens)


@pytest.mark.long(but=1)
@pytest.mark.parametrize("given", [PAINT, "\u202e"])
async def test_a_mixup_with_control_characters_is_told(make_app: MakeApp, record: Record, given: str) -> None:
    record.start_drill(drill())
    record.append(attempt(1, given=given, correct=False, mixup="one fret off"))
    app = make_app({"deck": "naturals"})
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "escape", "p")
        await sees(pilot, "Next page")
        while "You said " not in shown(app):
            await press(pilot, "tab")
        screen = shown(app)
        assert r"\u202e" in screen
        assert not ACTS_ON_A_TERMINAL.search(screen)
