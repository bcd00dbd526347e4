"""Files put into a folder together: all are written under temporary names first, then renamed one after the other.

A file that someone else wrote, or changed since the last export, is never overwritten.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, TextIO

from drill.errors import BadFile, CannotWrite
from drill.system import files, input_files

PACKAGE_NAME = "fretsure-export"
PACKAGE_FILE = "datapackage.json"
MOST_BYTES = 1_000_000
"""The package file of an export is about a fiftieth of this; a larger file is not ours."""
_BLOCK = 1 << 16


class Staging:
    """A folder, and the files written for it under temporary names. Use `staged`."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._temporary: dict[str, Path] = {}

    @contextmanager
    def open(self, name: str) -> Iterator[TextIO]:
        """A new text file in UTF-8, with line ends as written; it is on the disk when the block ends."""
        self._temporary[name] = path = files.temporary_path(self.folder / name)
        with files.create_text(path) as file:
            yield file

    def fingerprint(self, name: str) -> dict[str, Any]:
        """Size and SHA-256 of a temporary file, in the terms of Data Package."""
        path = self._temporary[name]
        return {"bytes": path.stat().st_size, "hash": f"sha256:{sha256(path)}"}

    def put_in_place(self) -> None:
        """Give every file its name; the package file first, for it says which others are ours."""
        for path in (self.folder / name for name in self._temporary):
            if path.exists():
                path.replace(path)  # changes nothing, but Windows refuses it while another program has the file open
        for name in sorted(self._temporary, key=lambda name: (name != PACKAGE_FILE, name)):
            self._temporary[name].replace(self.folder / name)
        files.sync_folder(self.folder)
        for name in self._temporary:
            files.remove_leftovers(self.folder / name)

    def clear(self) -> None:
        """Remove the temporary files that were not put in place."""
        for path in self._temporary.values():
            path.unlink(missing_ok=True)


@contextmanager
def staged(folder: Path, names: tuple[str, ...]) -> Iterator[Staging]:
    """Write all of `names` into `folder`, or none when something goes wrong; only their owner can read them.

    If the folder holds other files, the new ones go to a folder inside it: `Staging.folder` says which.
    Raises `CannotWrite` when the disk refuses, or when a file of that name is not ours.
    """
    with _explained(folder):
        staging = Staging(_place(folder))
        _refuse_to_overwrite(staging.folder, names)
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


def _place(folder: Path) -> Path:
    """The folder itself if it is empty or holds an earlier export; else a folder inside it."""
    for place in (folder, folder / PACKAGE_NAME):
        if place != folder and place.is_symlink():  # someone else may have put it there
            break
        files.make_folder(place)
        if _fingerprints(place / PACKAGE_FILE) is not None or not _is_used(place):
            return place
    raise CannotWrite(
        f"There are other files in {folder} and in {place}; nothing was written.",
        "Give an empty folder, or one that does not exist yet.",
    )


def _is_used(folder: Path) -> bool:
    """Whether the folder holds a visible file; hidden ones belong to the system, or to an export that was cut short."""
    return any(not path.name.startswith(".") for path in folder.iterdir())


def _refuse_to_overwrite(folder: Path, names: tuple[str, ...]) -> None:
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


def _fingerprints(package: Path) -> dict[str, str] | None:
    """The SHA-256 of each file of an earlier export, by name; None when the folder holds no export of ours."""
    try:
        values = json.loads(input_files.read_text(package, "", MOST_BYTES))
        if values["name"] != PACKAGE_NAME:
            return None
        return {str(each["path"]): str(each["hash"]) for each in (*values["resources"], *values["others"])}
    except (BadFile, OSError, ValueError, TypeError, KeyError, RecursionError):
        return None


def sha256(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal, read in blocks."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            digest.update(block)
    return digest.hexdigest()
