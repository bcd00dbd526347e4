"""The screens, one module each; each is imported when it is first shown, so that a start loads no other."""

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
    "idea": "IdeaScreen",
    "key-press": "KeyPressScreen",
    "letters": "LettersScreen",
    "look-up": "LookUpScreen",
    "placement": "PlacementScreen",
    "progress": "ProgressScreen",
    "ready": "ReadyScreen",
    "round": "RoundScreen",
    "set-up": "SetUpScreen",
    "sound-check": "SoundCheckScreen",
    "tuning-check": "TuningCheckScreen",
    "welcome": "WelcomeScreen",
}
"""Screens by their name in the table of commands; each is in a module of that name."""


def page(name: str) -> type[BaseScreen]:
    """The class of the screen with this name."""
    module = import_module(f"{__name__}.{name.replace('-', '_')}")
    screen: type[BaseScreen] = getattr(module, PAGES[name])
    return screen
