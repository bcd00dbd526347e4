"""Files put into a folder together: all are written under temporary names first, then renamed one after the other.

A file that someone else wrote, or changed since the last export, is never overwritten, nor is another learner's export.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any, TextIO

from drill.errors import BadFile, CannotWrite
from drill.record import LearnerRow
from drill.system import files, input_files

PACKAGE_NAME = "fretsure-export"
PACKAGE_FILE = "datapackage.json"
MOST_BYTES = 1_000_000
"""The package file of an export is about a fiftieth of this; a larger file is not ours."""
LONGEST_NAME, LONGEST_IDENTITY = 40, 8
"""So many characters of the learner's name and of the identity stand in names of files."""
_BLOCK = 1 << 16


def called(who: LearnerRow) -> str:
    """The learner in the name of a file: name and identity, in letters and figures alone.

    >>> called(LearnerRow("1a2b3c4d5e6f7081", "Ana Öz / 7b"))
    'ana-öz-7b-1a2b3c4d'
    """
    words = re.sub(r"[\W_]+", "-", (who.name or "").casefold())[:LONGEST_NAME]
    return f"{words}-{re.sub(r'[^0-9a-z]+', '', who.id.casefold())[:LONGEST_IDENTITY]}".strip("-")


def file_name(base: str, who: LearnerRow) -> str:
    """The name that a file of an export has for this learner; as long as there is no name, the base name."""
    if base == PACKAGE_FILE or not who.name:
        return base
    stem, dot, ending = base.partition(".")
    return f"{stem}-{called(who)}{dot}{ending}"


class Staging:
    """A folder, and the files written for it under temporary names. Use `staged`."""

    def __init__(self, folder: Path, names: dict[str, str]) -> None:
        self.folder = folder
        self._names = names
        self._temporary: dict[str, Path] = {}

    @contextmanager
    def open(self, name: str) -> Iterator[TextIO]:
        """A new text file in UTF-8, with line ends as written; it is on the disk when the block ends."""
        name = self._names[name]
        self._temporary[name] = path = files.temporary_path(self.folder / name)
        with files.create_text(path) as file:
            yield file

    def fingerprint(self, name: str) -> dict[str, Any]:
        """Path, size and SHA-256 of a temporary file, in the terms of Data Package."""
        path = self._temporary[self._names[name]]
        return {"path": self._names[name], "bytes": path.stat().st_size, "hash": f"sha256:{sha256(path)}"}

    def put_in_place(self) -> None:
        """Give every file its name; the package file first, for it says which others are ours."""
        renamed = _renamed(self.folder, self._names)
        for path in (self.folder / name for name in self._temporary):
            if path.exists():
                path.replace(path)  # changes nothing, but Windows refuses it while another program has the file open
        for name in sorted(self._temporary, key=lambda name: (name != PACKAGE_FILE, name)):
            self._temporary[name].replace(self.folder / name)
        for path in renamed:
            path.unlink(missing_ok=True)
        files.sync_folder(self.folder)
        for name in self._temporary:
            files.remove_leftovers(self.folder / name)

    def clear(self) -> None:
        """Remove the temporary files that were not put in place."""
        for path in self._temporary.values():
            path.unlink(missing_ok=True)


@contextmanager
def staged(folder: Path, names: tuple[str, ...], who: LearnerRow) -> Iterator[Staging]:
    """Write all of `names` into `folder`, or none when something goes wrong; only their owner can read them.

    If the folder holds other files, or another learner's export, the new ones go to a folder inside it:
    `Staging.folder` says which.
    Raises `CannotWrite` when the disk refuses, or when a file of that name is not ours.
    """
    with _explained(folder):
        written = {name: file_name(name, who) for name in names}
        staging = Staging(_place(folder, who), written)
        _refuse_to_overwrite(staging.folder, written.values())
        try:
            yield staging
            staging.put_in_place()
        finally:
            staging.clear()


@contextmanager
def _explained(folder: Path) -> Iterator[None]:
    """Turn errors of the system into sentences for the learner."""
    try:
        yield
    except (FileExistsError, NotADirectoryError) as error:
        raise CannotWrite(
            f"The export could not be written: {error.filename} is not a folder.",
            "Give the name of a folder; it is made if it does not exist. The record was not touched.",
        ) from error
    except OSError as error:
        raise CannotWrite(
            f"The export to {folder} could not be written ({error.strerror or error}).",
            "Make room on the disk, check the permissions, or give another folder. The record was not touched.",
        ) from error


def _place(folder: Path, who: LearnerRow) -> Path:
    """The folder itself if it is empty or holds an earlier export of this learner; else a folder inside it."""
    for place in _places(folder, who):
        if place != folder and place.is_symlink():  # someone else may have put it there
            break
        files.make_folder(place)
        if _exported_by(place / PACKAGE_FILE) == who.id or not _is_used(place):
            return place
    raise CannotWrite(
        f"There are other files in {folder} and in {place}; nothing was written.",
        "Give an empty folder, or one that does not exist yet.",
    )


def _places(folder: Path, who: LearnerRow) -> Iterator[Path]:
    """Where the export may go; into a folder with the learner's name only beside the export of another."""
    holds_anothers = False
    for place in (folder, folder / PACKAGE_NAME):
        if not holds_anothers:
            yield place
        holds_anothers = holds_anothers or _fingerprints(place / PACKAGE_FILE) is not None
    if holds_anothers:
        yield folder / f"{PACKAGE_NAME}-{called(who)}"


def own_exports(folder: Path, who: LearnerRow) -> frozenset[Path]:
    """The folders at `folder` that hold an export of this learner, which a new one would replace."""
    with suppress(OSError):  # whoever exports there says what is wrong
        return frozenset(place for place in _places(folder, who) if _exported_by(place / PACKAGE_FILE) == who.id)
    return frozenset()


def _is_used(folder: Path) -> bool:
    """Whether the folder holds a visible file; hidden ones belong to the system, or to an export that was cut short."""
    return any(not path.name.startswith(".") for path in folder.iterdir())


def _refuse_to_overwrite(folder: Path, names: Iterable[str]) -> None:
    ours = _fingerprints(folder / PACKAGE_FILE)
    for name in names:
        path = folder / name
        if not os.path.lexists(path):
            continue
        if ours is None or path.is_symlink() or not path.is_file():
            raise _left_alone(path, "was not written by an export of fretsure")
        if name != PACKAGE_FILE and ours.get(name) != f"sha256:{sha256(path)}":
            raise _left_alone(path, "was changed since it was exported")


def _left_alone(path: Path, why: str) -> CannotWrite:
    return CannotWrite(f"{path} {why}; nothing was overwritten.", "Move it away or give another folder.")


def _renamed(folder: Path, names: dict[str, str]) -> list[Path]:
    """Files of the earlier export that have another name now, as when the learner gave a name since."""
    ours = _fingerprints(folder / PACKAGE_FILE) or {}
    bases = tuple(base.partition(".")[0] for base in names)
    gone = (name for name in ours.keys() - names.values() if name.startswith(bases) and Path(name).name == name)
    return [path for name in gone if _is_file(path := folder / name) and ours[name] == f"sha256:{sha256(path)}"]


def _is_file(path: Path) -> bool:
    return path.is_file() and not path.is_symlink()


def _exported_by(package: Path) -> str | None:
    """The identity of the learner whose export a folder holds; None when it holds no export of ours, or nobody's."""
    try:
        return str(_package(package)["learner"]["id"])
    except (BadFile, OSError, ValueError, TypeError, KeyError, RecursionError):
        return None


def _fingerprints(package: Path) -> dict[str, str] | None:
    """The SHA-256 of each file of an earlier export, by name; None when the folder holds no export of ours."""
    try:
        values = _package(package)
        return {str(each["path"]): str(each["hash"]) for each in (*values["resources"], *values["others"])}
    except (BadFile, OSError, ValueError, TypeError, KeyError, RecursionError):
        return None


def _package(package: Path) -> Any:
    """What the package file of an export of ours says. Raises KeyError for any other, and what a bad file raises."""
    values = json.loads(input_files.read_text(package, "", MOST_BYTES))
    if values["name"] != PACKAGE_NAME:
        raise KeyError(PACKAGE_NAME)
    return values


def sha256(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal, read in blocks."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            digest.update(block)
    return digest.hexdigest()
