"""A practice sheet from Progress: by a key, beside earlier ones, and with words where it cannot be written."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.screens import press, sees, until
from tests.tui.conftest import MakeApp


@pytest.fixture
def at_desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The current folder, empty."""
    folder = tmp_path / "desk"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return folder


async def test_a_key_writes_a_sheet_and_never_over_another(make_app: MakeApp, at_desk: Path) -> None:
    app = make_app()
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        app.open("progress")
        await sees(pilot, "p writes a sheet")
        await press(pilot, "p")
        await sees(pilot, "Open it in a browser and print it")
        await press(pilot, "p")
        await until(pilot, lambda: len(list(at_desk.iterdir())) == 2)
    pages = sorted(at_desk.iterdir())
    assert [page.name for page in pages] == ["practice-sheet-2026-01-05-2.html", "practice-sheet-2026-01-05.html"]
    assert all("Practice sheet" in page.read_text(encoding="utf-8") for page in pages)


async def test_where_it_cannot_be_written_that_is_said(make_app: MakeApp, at_desk: Path) -> None:
    app = make_app()
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        app.open("progress")
        await sees(pilot, "p writes a sheet")
        at_desk.rmdir()
        await press(pilot, "p")
        await sees(pilot, "no longer exists")
