"""Decks by name or by path."""

from __future__ import annotations

import difflib
from pathlib import Path

from drill.decks import deck_file
from drill.decks.deck import Deck
from drill.decks.layout import build_deck, neck_for
from drill.errors import BadFile, UnknownName, UsageProblem
from drill.system import resources
from drill.theory.names import LONGEST_NAME, quoted
from drill.theory.neck import Neck


def load_deck(name: str, neck: Neck) -> Deck:
    """A shipped deck by name, or a deck file by path, on the neck (on its own tuning, if it names one).

    Raises `UnknownName` with the nearest names, `BadFile` for the first mistake in the file, or `UsageProblem` where
    this instrument cannot be asked anything of it.
    """
    path = _find(name)
    deck = _read(path, neck)
    if not deck.entries:
        raise UsageProblem(f"The deck “{deck.title}” has nothing to ask on this instrument.", " ".join(deck.left_out))
    return deck


def shipped_decks(neck: Neck) -> tuple[Deck, ...]:
    """Every deck that ships with the program, from a beginner's on, also those that are empty on this instrument."""
    decks = (_read(path, neck) for path in resources.deck_files().values())
    return tuple(sorted(decks, key=lambda deck: deck.stage))


def _find(name: str) -> Path:
    shipped = resources.deck_files()
    if name in shipped:
        return shipped[name]
    if name.endswith(".toml") or Path(name).name != name:
        return Path(name)
    near = difflib.get_close_matches(name[:LONGEST_NAME], shipped, n=2, cutoff=0.4)
    meant = f"Did you mean {' or '.join(near)}? " if near else ""
    raise UnknownName(
        f"There is no deck {quoted(name)}.", f"{meant}Decks: {', '.join(shipped)}, or the path of a file."
    )


def _read(path: Path, neck: Neck) -> Deck:
    file = deck_file.read(path)
    if file.problems:
        first = file.problems[0]
        raise BadFile(str(path), first.field, first.problem, first.fix)
    return build_deck(path.stem, file, neck_for(file, neck))
