"""The learner's own decks: a deck file is put among the decks for good, and taken out again."""

from __future__ import annotations

import re
from pathlib import Path

from drill.decks.checks import check_deck
from drill.errors import BadFile, CannotWrite, UnknownName, UsageProblem
from drill.system import files, input_files, resources
from drill.system.platforms import shell_quoted
from drill.theory.names import quoted

LONGEST_ID = 60
_NOT_IN_NAMES = re.compile(r"[^a-z0-9]+")
_DEVICES = re.compile(r"con|prn|aux|nul|com[0-9]|lpt[0-9]")
"""Names that Windows keeps for devices, whatever follows the dot.

https://learn.microsoft.com/en-us/windows/win32/fileio/naming-a-file
"""


def deck_name(path: Path) -> str:
    """The name under which a deck file is kept: letters, digits and hyphens. Raises `UsageProblem` if none is left.

    >>> deck_name(Path("For Thursday (flats).toml"))
    'for-thursday-flats'
    """
    name = _NOT_IN_NAMES.sub("-", path.stem.lower()).strip("-")[:LONGEST_ID].rstrip("-")
    if not name or _DEVICES.fullmatch(name):
        problem = f"{quoted(path.name)} cannot be the name of a deck."
        raise UsageProblem(problem, "Name the file with letters, digits and hyphens, such as flat-keys.toml.")
    return name


def add_deck(path: Path, *, replace: bool = False) -> str:
    """Put a deck file among the learner's decks, in the place of the one it updates if told so; returns its name there.

    Raises `BadFile` with every mistake in it, and `CannotWrite` where another deck has that name.
    """
    refuse_mistakes(path)
    text = input_files.read_text(path, "Give the path of a deck file.")
    name = deck_name(path)
    if name in resources.deck_files():
        raise CannotWrite(f"The deck {quoted(name)} ships with the program and stays.", "Give the file another name.")
    is_update = name in resources.added_deck_files()
    if is_update and not replace:
        how = f"fretsure decks add {shell_quoted(str(path))} --replace"
        raise CannotWrite(
            f"There is already a deck {quoted(name)}; nothing was overwritten.",
            f"Give the file another name, or put it in the place of the other: {how}",
        )
    folder = resources.added_folder()
    try:
        files.make_folder(folder)
    except OSError as error:
        raise CannotWrite(
            f"The folder {folder} cannot be made ({error.strerror}).", "Check the permissions of the folder above it."
        ) from error
    target = folder / f"{name}.toml"
    if is_update:
        _overwrite(target, text)
    else:
        files.write_new(target, text)
    return name


def _overwrite(path: Path, text: str) -> None:
    """Put a text in the place of a file, whole or not at all. Raises `CannotWrite`."""
    try:
        with files.atomic_write(path) as file:
            file.write(text)
    except OSError as error:
        fix = "Make room on the disk, or check the permissions of the folder."
        raise CannotWrite(f"{path} cannot be written ({error.strerror}).", fix) from error


def remove_deck(name: str) -> None:
    """Take a deck that was added out of the learner's decks. Raises `UsageProblem`, `UnknownName`, `CannotWrite`."""
    added = resources.added_deck_files()
    if name not in added and name in resources.deck_files():
        raise UsageProblem(f"The deck {quoted(name)} ships with the program and stays.", _removable())
    if name not in added:
        raise UnknownName(f"There is no added deck {quoted(name)}.", _removable())
    try:
        added[name].unlink()
    except OSError as error:
        raise CannotWrite(
            f"{added[name]} cannot be deleted ({error.strerror}).", "Check the permissions of its folder."
        ) from error


def _removable() -> str:
    added = resources.added_deck_files()
    return f"Added decks: {', '.join(added)}." if added else "No deck was added so far: fretsure decks add FILE"


def refuse_mistakes(path: Path) -> None:
    """Raise `BadFile` with every mistake in a deck file, one a line, if there is any."""
    if problems := check_deck(path):
        first, *others = problems
        more = "".join(f"\n{path}, {each.field}: {each.problem} {each.fix}" for each in others)
        raise BadFile(str(path), first.field, first.problem, first.fix + more)
