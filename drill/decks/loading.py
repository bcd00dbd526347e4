"""Decks by name or by path: those that ship, those that the learner added, and any file."""

from __future__ import annotations

import difflib
from contextlib import suppress
from datetime import date
from functools import lru_cache
from pathlib import Path

from drill.decks import deck_file
from drill.decks.deck import Deck
from drill.decks.layout import build_deck, neck_for
from drill.decks.targets import BAR_S
from drill.errors import BadFile, FretsureError, UnknownName, UsageProblem
from drill.system import resources
from drill.theory.names import LONGEST_NAME, quoted
from drill.theory.neck import Neck


def load_deck(name: str, neck: Neck, bar_s: float = BAR_S) -> Deck:
    """A shipped or added deck by name, or a deck file by path, on the neck (on its own tuning, if it names one).

    Targets follow the length of a bar, in seconds.

    Raises `UnknownName` with the nearest names, `BadFile` for the first mistake in the file, or `UsageProblem` where
    this instrument cannot be asked anything of it.
    """
    path = _find(name)
    deck = _read(path, neck, bar_s)
    if not deck.entries:
        raise UsageProblem(f"The deck “{deck.title}” has nothing to ask on this instrument.", " ".join(deck.left_out))
    return deck


def shipped_decks(neck: Neck, bar_s: float = BAR_S) -> tuple[Deck, ...]:
    """Every deck that ships with the program, from a beginner's on, also those that are empty on this instrument."""
    decks = (_read(path, neck, bar_s) for path in resources.deck_files().values())
    return tuple(sorted(decks, key=lambda deck: deck.stage))


def added_decks(neck: Neck, bar_s: float = BAR_S) -> tuple[list[Deck], list[FretsureError]]:
    """Every deck that the learner added, by name, and the errors of those that cannot be read any more."""
    decks: list[Deck] = []
    errors: list[FretsureError] = []
    for path in resources.added_deck_files().values():
        try:
            decks.append(_read(path, neck, bar_s))
        except FretsureError as error:
            errors.append(error)
    return decks, errors


def decks_with_homework(neck: Neck, bar_s: float = BAR_S, since: date = date.min) -> list[Deck]:
    """The added decks with which something is set that was not over before `since`.

    One that cannot be read is left out, as `added_decks` tells.
    """
    found: list[Deck] = []
    for path in resources.added_deck_files().values():
        with suppress(FretsureError, OSError):
            file = deck_file.read(path)
            homework = file.head.homework
            if homework and (homework.until or date.max) >= since and not file.problems:
                found.append(_read(path, neck, bar_s))
    return [deck for deck in found if deck.entries]


def next_deck(deck: Deck, neck: Neck, bar_s: float = BAR_S) -> Deck | None:
    """The deck that comes when this one is known; None if it leads to none, or to none that this neck can be asked.

    A deck that cannot be asked on this neck is passed over for the one after it. Raises as `load_deck` does.
    """
    passed = {deck.id}
    while deck.next and deck.next not in passed:
        passed.add(deck.next)
        deck = _read(_find(deck.next), neck, bar_s)
        if deck.entries:
            return deck
    return None


def _find(name: str) -> Path:
    known = resources.deck_files()
    if name in known:
        return known[name]
    known |= {name: path for name, path in resources.added_deck_files().items() if name not in known}
    if name in known:
        return known[name]
    if name.endswith(".toml") or Path(name).name != name:
        return Path(name)
    near = difflib.get_close_matches(name[:LONGEST_NAME], known, n=2, cutoff=0.4)
    meant = f"Did you mean {' or '.join(near)}? " if near else ""
    raise UnknownName(f"There is no deck {quoted(name)}.", f"{meant}Decks: {', '.join(known)}, or the path of a file.")


def _read(path: Path, neck: Neck, bar_s: float) -> Deck:
    with suppress(OSError):  # which reading the file explains
        stat = path.stat()
        return _laid_out(path, (stat.st_mtime_ns, stat.st_size), neck, bar_s)
    return _lay_out(path, neck, bar_s)


@lru_cache(maxsize=32)
def _laid_out(path: Path, written: tuple[int, int], neck: Neck, bar_s: float) -> Deck:
    """A deck as it is laid out while its file stays as it was `written`: screens ask for all of them at each key."""
    return _lay_out(path, neck, bar_s)


def _lay_out(path: Path, neck: Neck, bar_s: float) -> Deck:
    file = deck_file.read(path)
    if file.problems:
        first = file.problems[0]
        raise BadFile(str(path), first.field, first.problem, first.fix)
    return build_deck(path.stem, file, neck_for(file, neck), bar_s)
