"""Files and folders that only their owner can read, whatever the umask allows.

make_folder        a folder, with every missing one above it
create_file        a new, empty file; never an existing one
create_text        a new text file, synced to the disk when it is written
create_whole       the bytes of a new file, synced to the disk; after a failure there is none
refuse_existing    says early that a new file's name is taken
write_new          the same for a file that the learner named, with a failure in words
atomic_write       a text in a file's place, whole or not at all
temporary_path     a name beside a file, to write under until the file is whole
remove_leftovers   deletes the temporary files of a program that was killed
sync_folder        syncs the names in a folder to the disk

Files that others wrote are read through `input_files`.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TextIO

from drill.errors import CannotWrite, UsageProblem
from drill.system.platforms import sync_file

ABANDONED_S = 3600
"""A temporary file this old is no longer being written."""
_NEW = os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


def make_folder(path: Path) -> None:
    """Make the folder and those above it that are missing. Raises OSError, as when a file has its name."""
    if not path.is_dir():
        if path.parent != path:
            make_folder(path.parent)
        path.mkdir(mode=0o700, exist_ok=True)


def create_file(path: Path) -> int:
    """Return the descriptor of a new, empty file, open for reading and writing.

    Raises OSError, also where a file or a link exists: somebody may have planted the link to have it followed.
    """
    return os.open(path, _NEW, 0o600)


def temporary_path(path: Path) -> Path:
    """Return a hidden name beside the file for its replacement. It is random, so nobody can plant a link there."""
    return path.with_name(f".{path.name}.{os.urandom(8).hex()}.new")


@contextmanager
def create_text(path: Path) -> Iterator[TextIO]:
    """Open a new UTF-8 text file, without translating line ends; sync it when the block ends. Raises OSError."""
    with os.fdopen(create_file(path), "w", encoding="utf-8", newline="") as file:
        yield file
        file.flush()
        sync_file(file.fileno())


def create_whole(path: Path, data: bytes) -> None:
    """Write a new file, whole or not at all. Raises OSError, also where a file or a link of that name exists."""
    descriptor = create_file(path)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            sync_file(file.fileno())
    except OSError:
        with suppress(OSError):
            path.unlink(missing_ok=True)
        raise


def refuse_existing(path: Path) -> None:
    """Raises CannotWrite where a new file cannot get this name: something has it, or its folder is missing.

    Long work should ask before.
    """
    if os.path.lexists(path):
        raise taken(path)
    refuse_without_folder(path)


def refuse_other_ending(path: Path, *endings: str) -> None:
    """Raises UsageProblem where a new file would bear the ending of another kind, by which programs misread it."""
    if path.suffix and path.suffix.casefold() not in endings:
        fix = f"Give it the name {path.with_suffix(endings[0])}"
        raise UsageProblem(f"{path} ends in {path.suffix}, but what is written is {endings[0]}.", fix)


def refuse_without_folder(path: Path) -> None:
    """Raises CannotWrite where the folder that a new file is to lie in does not exist, or is none."""
    if not path.parent.is_dir():
        is_there = os.path.lexists(path.parent)
        problem = f"{path.parent} is {'no folder' if is_there else 'not there'}, so {path.name} cannot be written."
        raise CannotWrite(problem, "Give a file in a folder that exists." if is_there else _make(path.parent))


def _make(folder: Path) -> str:
    from drill.system.platforms import shell_quoted  # here: few commands need it

    return f"Make the folder first (mkdir {shell_quoted(str(folder))}), or give a file in one that exists."


def taken(path: Path) -> CannotWrite:
    """The error for a new file whose name something else has."""
    return CannotWrite(f"{path} already exists and was left alone.", "Give another name.")


def write_new(path: Path, content: bytes | str) -> None:
    """Write a new file, whole or not at all. Raises CannotWrite, also where something has that name already."""
    refuse_without_folder(path)
    try:
        create_whole(path, content.encode() if isinstance(content, str) else content)
    except FileExistsError as error:
        raise taken(path) from error
    except (OSError, ValueError) as error:
        fix = "Make room on the disk, check the permissions of the folder, or give another name."
        reason = getattr(error, "strerror", None) or str(error)
        raise CannotWrite(f"{path} cannot be written ({reason}).", fix) from error


@contextmanager
def atomic_write(path: Path) -> Iterator[TextIO]:
    """Open a text that replaces the file when the block ends. If anything goes wrong, the file stays as it was.

    A link of that name is replaced, not followed. Raises OSError.
    """
    temporary = temporary_path(path)
    try:
        with create_text(temporary) as file:
            yield file
        temporary.replace(path)
        sync_folder(path.parent)
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)


def remove_leftovers(path: Path) -> None:
    """Delete what killed programs left under a name from `temporary_path`."""
    ours = re.compile(rf"\.{re.escape(path.name)}\.[0-9a-f]+\.new")
    with suppress(OSError):
        remove_abandoned((each for each in path.parent.iterdir() if ours.fullmatch(each.name)), path)


def remove_abandoned(unfinished: Iterable[Path], just_made: Path) -> None:
    """Delete files that have not been written for an hour when another was made. Raises OSError for the latter."""
    long_ago = just_made.stat().st_mtime - ABANDONED_S
    for path in unfinished:
        with suppress(OSError):
            if path.lstat().st_mtime < long_ago:
                path.unlink()


def sync_folder(path: Path) -> None:
    """Sync the names in the folder to the disk, where the system allows a folder to be opened."""
    with suppress(OSError):
        descriptor = os.open(path, os.O_RDONLY)
        try:
            sync_file(descriptor)
        finally:
            os.close(descriptor)
