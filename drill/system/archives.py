"""Zip archives: those that others made are read without anything being unpacked to the disk.

is_archive       whether a file is a zip archive, by how it begins
members          the files in one, once none of them can do harm
opened           one of these files, to be read as bytes
packed           a folder as an archive
"""

from __future__ import annotations

import shutil
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import BinaryIO, cast

from drill.errors import BadFile
from drill.system import input_files

MOST_MEMBERS = 5_000
LARGEST_MEMBER = 256_000_000
"""Bytes of the largest file in an archive: a million answers as a table."""
LARGEST_RATIO = 200
"""A log is a tenth of its size in an archive; what shrinks to less than this share is made to fill a memory."""
SMALL = 1_000_000
"""No file of this size can do harm, however well it was packed."""
_BEGINNINGS = (b"PK\x03\x04", b"PK\x05\x06")
"""A local file header, and the end record of an empty archive: https://pkware.cachefly.net/webdocs/casestudies/APPNOTE.TXT"""
_DAMAGED = (
    zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError,
)  # fmt: skip
"""What zipfile raises for an archive that was cut short, garbled, or packed in a way it does not know."""


def is_archive(path: Path) -> bool:
    """Whether the file begins as a zip archive does. Raises OSError."""
    if input_files.kind(path) != input_files.FILE:
        return False
    with path.open("rb") as file:
        return file.read(4) in _BEGINNINGS


def members(path: Path) -> list[str]:
    """The names of the files in an archive. Raises BadFile where it is none, or where a file in it could do harm."""
    with _explained(path):
        if (kind := input_files.kind(path)) != input_files.FILE:
            raise BadFile(str(path), "", f"is {kind}, not a file.", "Give an archive.")
        with zipfile.ZipFile(path) as archive:
            found = archive.infolist()
    if problem := _danger(found):
        raise BadFile(str(path), "", problem, "Ask for it again.")
    return [member.filename for member in found if not member.is_dir()]


@contextmanager
def opened(path: Path, name: str) -> Iterator[BinaryIO]:
    """A file in an archive, read as it is unpacked. Raises BadFile."""
    with _explained(path), zipfile.ZipFile(path) as archive:
        try:
            member = archive.open(name)
        except KeyError as error:
            raise BadFile(f"{path}/{name}", "", "is missing from the archive.") from error
        with member as file:
            yield cast(BinaryIO, file)


def _danger(found: list[zipfile.ZipInfo]) -> str:
    """Why an archive is not opened, in words; empty where nothing speaks against it."""
    if len(found) > MOST_MEMBERS:
        return f"holds more than {MOST_MEMBERS} files."
    for member in found:
        parts = PurePosixPath(member.filename.replace("\\", "/")).parts
        if ".." in parts or member.filename.startswith(("/", "\\")) or ":" in member.filename:
            return "holds a file that would lie outside its folder."
        if member.flag_bits & 1:
            return "is locked with a password."
        is_bomb = member.file_size > SMALL and member.file_size > LARGEST_RATIO * max(1, member.compress_size)
        if is_bomb or member.file_size > LARGEST_MEMBER:
            return "holds a file that grows too large when it is unpacked."
    return ""


@contextmanager
def _explained(path: Path) -> Iterator[None]:
    """Turn errors of the system and of damaged archives into sentences."""
    try:
        with input_files.explained(path):
            yield
    except _DAMAGED as error:
        raise BadFile(str(path), "", "is a damaged archive.", "Ask for it again.") from error


# -- made here ---------------------------------------------------------------------------------------------------------

EARLIEST, LATEST = datetime(1980, 1, 1), datetime(2107, 12, 31)
"""The dates that an archive can hold: section 4.4.6, after the file system of MS-DOS."""


def packed(folder: Path, at: datetime) -> bytes:
    """A folder and the files in it as an archive of the local time `at`; the same bytes for the same files.

    Raises OSError.
    """
    made = BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for path in sorted(folder.iterdir()):
            with path.open("rb") as source, archive.open(_member(f"{folder.name}/{path.name}", at), "w") as member:
                shutil.copyfileobj(source, member)
    return made.getvalue()


def _member(name: str, at: datetime) -> zipfile.ZipInfo:
    """A file in the archive; unpacked, only its owner can read it."""
    year, month, day, hour, minute, second, *_ = min(max(at.replace(tzinfo=None), EARLIEST), LATEST).timetuple()
    member = zipfile.ZipInfo(name, (year, month, day, hour, minute, second))
    member.compress_type, member.external_attr = zipfile.ZIP_DEFLATED, 0o600 << 16
    return member
