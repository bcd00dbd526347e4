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

from drill.errors import CannotWrite
from drill.platforms import to_the_disk

PACKAGE_NAME = "fretsure-export"
PACKAGE_FILE = "datapackage.json"
_BLOCK = 1 << 16


class Staging:
    """A folder to be, and the files written aside for it. Use `staged`."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._aside: dict[str, Path] = {}

    @contextmanager
    def open(self, name: str) -> Iterator[TextIO]:
        """A new text file, UTF-8 with the line ends that are written, on the disk when the block ends."""
        path = self.folder / f".{name}.{os.getpid()}.new"
        self._aside[name] = path
        with path.open("w", encoding="utf-8", newline="") as file:
            yield file
            file.flush()
            to_the_disk(file.fileno())

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

    def clear(self) -> None:
        """Take away what was written aside and not put in place."""
        for path in self._aside.values():
            path.unlink(missing_ok=True)


@contextmanager
def staged(folder: Path, names: tuple[str, ...]) -> Iterator[Staging]:
    """Write `names` into `folder`, all or, when something goes wrong, none.

    Raises `CannotWrite` when the disk refuses, or when a file of that name is not of our making.
    """
    staging = Staging(folder)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _refuse_to_overwrite(folder, names)
        yield staging
        staging.put_in_place()
        _sweep(folder, names)
    except OSError as error:
        raise CannotWrite(
            f"The export to {folder} could not be written ({error.strerror or error}).",
            "Make room on the disk, check the permissions, or give another folder. The record was not touched.",
        ) from error
    finally:
        staging.clear()


def _sweep(folder: Path, names: tuple[str, ...]) -> None:
    """Take away what an export that was killed left unfinished; an hour is longer than any export takes."""
    long_ago = (folder / PACKAGE_FILE).stat().st_mtime - 3600
    for unfinished in (path for name in names for path in folder.glob(f".{name}.*.new")):
        if unfinished.lstat().st_mtime < long_ago:
            unfinished.unlink()


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
        values = json.loads(package.read_bytes())
        if values["name"] != PACKAGE_NAME:
            return None
        return {str(each["path"]): str(each["hash"]) for each in (*values["resources"], *values["others"])}
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return None


def sha256(path: Path) -> str:
    """The SHA-256 of a file in hexadecimal, read in blocks."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            digest.update(block)
    return digest.hexdigest()
