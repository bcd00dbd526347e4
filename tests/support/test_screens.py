"""A test may read a screen at any moment, even before the screen has found its place in the window."""

from __future__ import annotations

from textual.app import App
from textual.screen import Screen

from tests.support.screens import shown


async def test_a_screen_that_is_not_laid_out_yet_is_a_blank_window() -> None:
    app: App[None] = App()
    async with app.run_test(size=(40, 12)):
        app.push_screen(Screen())
        assert shown(app).split("\n") == [""] * 12
