"""Completions for bash, zsh and fish: shtab reads the parser, and what each value may be is added here."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable, Iterator

import shtab

from drill.cli.commands.decks import ACTIONS
from drill.cli.parser import build_parser
from drill.questions.catalogue import FAMILIES
from drill.system.resources import deck_files
from drill.system.tunings import tunings
from drill.theory.keys import KEYS, PRACTICAL_KEYS
from drill.theory.neck import STANDARD
from drill.theory.scales import SCALES
from drill.theory.shapes import five_shapes

NAMES = {"bash": "fretsure.bash", "zsh": "_fretsure", "fish": "fretsure.fish"}
"""The file for each shell."""
FISH_FILES = "__fish_complete_path (commandline -ct)"

Ways = shtab.CompleteType
"""How each shell finds the values of one argument."""


def completions() -> dict[str, str]:
    """The completions for each shell, by the name of their file."""
    parser = build_parser()
    for action in _actions(parser):
        if action.dest in VALUES:
            action.complete = VALUES[action.dest]  # where shtab looks for it
    scripts = {shell: shtab.complete(parser, shell).rstrip() + "\n" for shell in NAMES}
    # shtab gives an argument that may be repeated one place in zsh; `*` gives it all that follow
    scripts["zsh"] = re.sub(r'"\(\*\)::?', '"*:', scripts["zsh"])
    return {NAMES[shell]: script for shell, script in scripts.items()}


def _actions(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """Every argument and option of the parser and of its commands."""
    for action in parser._actions:
        yield action
        if isinstance(action, argparse._SubParsersAction):
            for command in action.choices.values():
                yield from _actions(command)


def _words(name: str, words: Iterable[object]) -> Ways:
    """One of these words; `name` is for the shell's own function."""
    listed = " ".join(map(str, words))
    quoted = listed.replace("#", r"\#")  # zsh would read F#m as a pattern
    return {
        "bash": f"_fretsure_{name}",
        "zsh": f"({quoted})",
        "fish": listed,
        "preamble": {"bash": f'_fretsure_{name}() {{\n  compgen -W "{listed}" -- "$1"\n}}'},
    }


def _deck() -> Ways:
    """A deck that ships, or a file."""
    names = " ".join(deck_files())
    return {
        "bash": "_fretsure_deck_or_file",
        "zsh": "_fretsure_deck_or_file",
        "fish": f"{names} ({FISH_FILES})",
        "preamble": {
            "bash": f'_fretsure_deck_or_file() {{\n  compgen -W "{names}" -- "$1"\n  compgen -f -- "$1"\n}}',
            "zsh": f"_fretsure_deck_or_file() {{\n  _alternative 'decks:deck:({names})' 'files:deck file:_files'\n}}",
        },
    }


VALUES: dict[str, Ways] = {
    "record": shtab.FILE,
    "deck": _deck(),
    "action": _words("action", ACTIONS),
    "target": shtab.FILE,
    "key": _words("key", (key.short for key in KEYS)),
    "chords": _words("chord", (key.short for key in KEYS)),
    "scale": _words("scale", (name.replace(" ", "-") for name in SCALES)),
    "family": _words("family", FAMILIES),
    "shape": _words("shape", (shape.id for shape in five_shapes(PRACTICAL_KEYS[0], STANDARD))),
    "string": _words("string", max((tuning.strings for tuning in tunings().values()), key=len)),
    "folder": shtab.DIRECTORY,
    "file": shtab.FILE,
}
"""How the values of an argument are found, by the name under which the parser keeps it."""
