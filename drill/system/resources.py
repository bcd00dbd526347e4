"""Finds the files that ship with the program, decks and data tables, and the decks that the learner added.

In an installed wheel the program's files are inside the package (`drill/_decks`, `drill/_data`), in a checkout beside
it (`decks`, `data`). Added decks lie in the platform's data directory.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from drill.errors import BadFile

APPLICATION = "fretsure"
"""The name of the program's folders on this platform."""
_PACKAGE = Path(__file__).parent.parent


def folder(name: str, package: Path = _PACKAGE) -> Path:
    """Return the folder `name` ("decks" or "data") that ships with the program. Raises BadFile when it is missing."""
    candidates = (package / f"_{name}", package.parent / name)
    for candidate in candidates:
        if candidate.is_dir():
            return candidate
    raise BadFile(str(candidates[0]), "", "this folder of the program is missing.", "Install fretsure again.")


def data_file(name: str) -> Path:
    """Return the path of a data table, such as "tunings.toml". Raises BadFile when it is missing."""
    path = folder("data") / name
    if not path.is_file():
        raise BadFile(str(path), "", "this table of the program is missing.", "Install fretsure again.")
    return path


def deck_files() -> dict[str, Path]:
    """Return the decks that ship with the program by id (the file's name without `.toml`), sorted by id."""
    return {path.stem: path for path in sorted(folder("decks").glob("*.toml"))}


def added_folder() -> Path:
    """Return the folder of the decks that the learner added; it may not exist yet."""
    from platformdirs import user_data_path

    return user_data_path(APPLICATION, appauthor=False) / "decks"


def added_deck_files() -> dict[str, Path]:
    """Return the decks that the learner added by id, sorted by id; none where their folder cannot be read."""
    with suppress(OSError):
        return {path.stem: path for path in sorted(added_folder().glob("*.toml")) if not path.name.startswith(".")}
    return {}
