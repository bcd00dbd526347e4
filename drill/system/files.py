"""Files and folders for their owner alone, whatever the umask allows.

folder         a folder, made with all that is missing above it
new_file       a file to write to, where there is none yet
aside          a name beside a file, to write under until it is whole
new_text       a new text file, on the disk when it is written
replaced       a text in a file's place, whole or not at all
sweep          takes away what a program that was killed left aside
sync_folder    the names in a folder are on the disk
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TextIO

from drill.system.platforms import to_the_disk

LONG_AGO_S = 3600
"""What was begun aside so long ago is not being written any more."""
_NEW = os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


def folder(path: Path) -> None:
    """Makes the folder and those above it that are missing. Raises OSError, as when a file has its name."""
    if not path.is_dir():
        if path.parent != path:
            folder(path.parent)
        path.mkdir(mode=0o700, exist_ok=True)


def new_file(path: Path) -> int:
    """The descriptor of a new, empty file, open for reading and writing.

    Raises OSError, also where there is a file or a link already: someone may have put it there to have it followed.
    """
    return os.open(path, _NEW, 0o600)


def aside(path: Path) -> Path:
    """A hidden name beside the file, for what shall take its place. Nobody can foretell it and put a link there."""
    return path.with_name(f".{path.name}.{os.urandom(8).hex()}.new")


@contextmanager
def new_text(path: Path) -> Iterator[TextIO]:
    """A new text file in UTF-8 with the line ends that are written, on the disk when the block ends. Raises OSError."""
    with os.fdopen(new_file(path), "w", encoding="utf-8", newline="") as file:
        yield file
        file.flush()
        to_the_disk(file.fileno())


@contextmanager
def replaced(path: Path) -> Iterator[TextIO]:
    """A text that takes the file's place when the block ends, or, when something goes wrong, leaves it as it was.

    A link of that name is replaced, not followed. Raises OSError.
    """
    temporary = aside(path)
    try:
        with new_text(temporary) as file:
            yield file
        temporary.replace(path)
        sync_folder(path.parent)
    finally:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)


def sweep(path: Path) -> None:
    """Takes away what programs that were killed left under a name `aside` gave them."""
    ours = re.compile(rf"\.{re.escape(path.name)}\.[0-9a-f]+\.new")
    with suppress(OSError):
        now_s = path.stat().st_mtime
        for unfinished in (each for each in path.parent.iterdir() if ours.fullmatch(each.name)):
            if unfinished.lstat().st_mtime < now_s - LONG_AGO_S:
                unfinished.unlink()


def sync_folder(path: Path) -> None:
    """The names in the folder are on the disk when this returns, where the system allows a folder to be opened."""
    with suppress(OSError):
        descriptor = os.open(path, os.O_RDONLY)
        try:
            to_the_disk(descriptor)
        finally:
            os.close(descriptor)
