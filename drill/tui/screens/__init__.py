"""The screens, one module each. One is imported when it is first shown: a start pays only for what it shows."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drill.tui.screens.base import BaseScreen

PAGES: Mapping[str, str] = {
    "decks": "DecksScreen",
    "focus": "FocusScreen",
    "help": "HelpScreen",
    "key-press": "KeyPressScreen",
    "look-up": "LookUpScreen",
    "progress": "ProgressScreen",
    "set-up": "SetUpScreen",
    "welcome": "WelcomeScreen",
}
"""Screens that Home and commands open by the name they have in the table of commands; each in a module of that name."""


def page(name: str) -> type[BaseScreen]:
    """The screen of a name."""
    module = import_module(f"{__name__}.{name.replace('-', '_')}")
    screen: type[BaseScreen] = getattr(module, PAGES[name])
    return screen
