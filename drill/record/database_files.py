"""The files of a database: readable by their owner only, moved and replaced so that a crash loses nothing."""

from __future__ import annotations

import errno
import os
import shutil
from pathlib import Path

from drill.record.names import SIDE_SUFFIXES
from drill.system import files
from drill.system.platforms import sync_file

WITHOUT_LOG, WITH_LOG = b"\x01\x01", b"\x02\x02"
"""What the header says of a file that is written in place, and of one that has a write-ahead log."""


def log_mode(path: Path) -> bytes:
    """The two bytes by which the header says how the file is written.

    Bytes 18 and 19: https://www.sqlite.org/fileformat2.html#file_format_version_numbers
    """
    with path.open("rb") as file:
        return file.read(20)[18:]


def side_files(path: Path) -> tuple[Path, ...]:
    """The files SQLite keeps beside a database while it is in use: https://www.sqlite.org/tempfiles.html"""
    return tuple(path.with_name(path.name + suffix) for suffix in SIDE_SUFFIXES)


def existing_side_files(path: Path) -> tuple[Path, ...]:
    """The side files that are there. They are beside the file itself, also when `path` is a link to it."""
    return tuple(side for side in side_files(Path(os.path.realpath(path))) if os.path.lexists(side))


def private_folder(path: Path) -> None:
    """Creates the folder for its owner only if it is missing. Raises NotADirectoryError when a file has its name."""
    try:
        files.make_folder(path)
    except FileExistsError as error:
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(path)) from error


def private_file(path: Path) -> None:
    """Creates an empty file for its owner only; replaces one of that name, with its side files."""
    remove(path)
    os.close(files.create_file(path))


def make_durable(path: Path) -> None:
    """Makes the file readable by its owner only, and has it on the disk when this returns."""
    path.chmod(0o600)
    with path.open("rb+") as file:
        sync_file(file.fileno())


def put_in_place(temporary: Path, target: Path) -> None:
    """Gives the finished file its name: after a crash there is the old file or the new one, nothing between."""
    make_durable(temporary)
    temporary.replace(target)
    files.sync_folder(target.parent)


def put_if_free(temporary: Path, target: Path) -> bool:
    """Gives the finished file its name. Returns False, and leaves the other file alone, if the name is taken."""
    make_durable(temporary)
    try:
        target.hardlink_to(temporary)
    except FileExistsError:
        return False
    except OSError:  # a file system without links, such as that of a memory stick
        if os.path.lexists(target):
            return False
        try:
            temporary.rename(target)
        except FileExistsError:  # raised on Windows, where another program was faster
            return False
    files.sync_folder(target.parent)
    return True


def move(source: Path, target: Path) -> None:
    """Gives the file another name, on another disk if need be; after a crash it has one of them, or both."""
    try:
        source.rename(target)
    except FileNotFoundError:
        raise
    except OSError:
        shutil.copy2(source, target)
        make_durable(target)
        source.unlink()
    files.sync_folder(target.parent)
    files.sync_folder(source.parent)


def remove(path: Path) -> None:
    """Deletes a database with its side files, if it is there."""
    for leftover in (path, *side_files(path)):
        leftover.unlink(missing_ok=True)
