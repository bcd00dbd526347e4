"""Files put into a folder together: all written aside first, then each given its name at once.

Nothing that someone else wrote, or changed since, is overwritten.
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
"""A description of an export is a fiftieth of this."""
_BLOCK = 1 << 16


class Staging:
    """A folder to be, and the files written aside for it. Use `staged`."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._aside: dict[str, Path] = {}

    @contextmanager
    def open(self, name: str) -> Iterator[TextIO]:
        """A new text file, UTF-8 with the line ends that are written, on the disk when the block ends."""
        self._aside[name] = path = files.temporary_path(self.folder / name)
        with files.create_text(path) as file:
            yield file

    def fingerprint(self, name: str) -> dict[str, Any]:
        """Size and SHA-256 of a file written aside, as Data Package names them."""
        path = self._aside[name]
        return {"bytes": path.stat().st_size, "hash": f"sha256:{sha256(path)}"}

    def put_in_place(self) -> None:
        """Give every file its name; the package first, which says that the others are ours."""
        for path in (self.folder / name for name in self._aside):
            if path.exists():
                path.replace(path)  # changes nothing, but Windows refuses it while another program has the file open
        for name in sorted(self._aside, key=lambda name: (name != PACKAGE_FILE, name)):
            self._aside[name].replace(self.folder / name)
        files.sync_folder(self.folder)
        for name in self._aside:
            files.remove_leftovers(self.folder / name)

    def clear(self) -> None:
        """Take away what was written aside and not put in place."""
        for path in self._aside.values():
            path.unlink(missing_ok=True)


@contextmanager
def staged(folder: Path, names: tuple[str, ...]) -> Iterator[Staging]:
    """Write `names` into `folder`, all or, when something goes wrong, none; for their owner only.

    Where there are other files in it, they go to a folder of their own inside: `Staging.folder` says where.
    Raises `CannotWrite` when the disk refuses, or when a file of that name is not of our making.
    """
    with _told(folder):
        staging = Staging(_place(folder))
        _refuse_to_overwrite(staging.folder, names)
        try:
            yield staging
            staging.put_in_place()
        finally:
            staging.clear()


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    try:
        yield
    except (FileExistsError, NotADirectoryError) as error:
        raise CannotWrite(
            f"The export could not be written: {error.filename} is there and is not a folder.",
            "Give the name of a folder; a new one is made. The record was not touched.",
        ) from error
    except OSError as error:
        raise CannotWrite(
            f"The export to {folder} could not be written ({error.strerror or error}).",
            "Make room on the disk, check the permissions, or give another folder. The record was not touched.",
        ) from error


def _place(folder: Path) -> Path:
    """The folder itself if it is empty or holds an earlier export; else one of its own in there, among other files."""
    for place in (folder, folder / PACKAGE_NAME):
        if place != folder and place.is_symlink():  # which someone else may have laid there
            break
        files.make_folder(place)
        if _fingerprints(place / PACKAGE_FILE) is not None or not _is_used(place):
            return place
    raise CannotWrite(
        f"There are other files in {folder}, and in {place} too; nothing was written.",
        "Give a folder that is empty or not there yet.",
    )


def _is_used(folder: Path) -> bool:
    """Whether anything is seen in the folder; hidden files are notes of the system, or left by an export cut short."""
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
    return CannotWrite(f"{path} is there and {why}; nothing was overwritten.", "Move it away or give another folder.")


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
