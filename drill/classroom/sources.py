"""Where exports lie: in folders, in zip archives, or as bare logs. Nothing is ever unpacked to the disk.

find       every export below some paths, and what looks like one and is none
Source     one export: its small files as text, its large ones as lines
Skipped    what was passed over, and why
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath
from typing import BinaryIO, NamedTuple

from drill.errors import BadFile
from drill.export.staging import MOST_BYTES, PACKAGE_FILE
from drill.system import archives, input_files

MOST_FILES = 50_000
"""A class of a hundred with an export a week has some ten thousand."""
LONGEST_LINE = 100_000


ASK = "Ask the student for a new one: fretsure export --one NAME.zip"
FOREIGN = "Move it elsewhere; if a student sent it, ask for: fretsure export --one NAME.zip"
DATABASES = (".sqlite3", ".sqlite", ".db")
"""How files of records and backups end."""


class Skipped(NamedTuple):
    """Something that looks like an export and cannot be read as one: what is wrong with it, and what to do."""

    where: str
    why: str
    fix: str = ""

    @property
    def sentence(self) -> str:
        return f"{self.where}: {self.why} {self.fix}".rstrip()


class Folder(NamedTuple):
    """An export in a folder, which people know as `called` if that is not its path."""

    path: Path
    called: str = ""

    @property
    def where(self) -> str:
        """Where it lies, for people."""
        return self.called or str(self.path)

    @property
    def file(self) -> str:
        """The name of the folder or the file that it came in."""
        return Path(self.where).name

    def text(self, name: str) -> str:
        """A small file of it. Raises BadFile."""
        try:
            return input_files.read_text(self.path / name, "", MOST_BYTES)
        except FileNotFoundError as error:
            raise self._missing(name) from error

    def lines(self, name: str) -> Iterator[bytes]:
        """The lines of a file of it, with their ends. Raises BadFile."""
        path = self.path / name
        if not os.path.lexists(path):
            raise self._missing(name)
        with input_files.explained(path):
            if (found := input_files.kind(path)) != input_files.FILE:
                raise BadFile(str(path), "", f"is {found}, not a file.")
            with path.open("rb") as file:
                yield from _lines(file, str(path))

    def _missing(self, name: str) -> BadFile:
        return BadFile(str(self.path / name), "", "is missing from the export.", ASK)


class Archive(NamedTuple):
    """An export in a zip archive, below a folder of it; read as a `Folder` is."""

    path: Path
    inside: str

    @property
    def where(self) -> str:
        return str(self.path / self.inside) if self.inside else str(self.path)

    @property
    def file(self) -> str:
        return self.path.name

    def text(self, name: str) -> str:
        with archives.opened(self.path, self._inside(name)) as file:
            raw = file.read(MOST_BYTES + 1)
        if len(raw) > MOST_BYTES:
            raise BadFile(f"{self.where}/{name}", "", "is too large.")
        return raw.decode("utf-8-sig", "replace")

    def lines(self, name: str) -> Iterator[bytes]:
        with archives.opened(self.path, self._inside(name)) as file:
            yield from _lines(file, f"{self.where}/{name}")

    def _inside(self, name: str) -> str:
        return f"{self.inside}/{name}" if self.inside else name


class Log(NamedTuple):
    """A log alone: strengths have to be worked out from it."""

    path: Path


Source = Folder | Archive
Found = Source | Log | Skipped


def find(paths: Iterable[Path]) -> Iterator[Found]:
    """Every export in these folders, archives and logs, by their names. Raises BadFile where there is no such path."""
    for path in paths:
        with input_files.explained(path):
            is_folder = input_files.kind(path) == "a folder"
        if is_folder:
            yield from _below(path)
        elif path.name == PACKAGE_FILE:
            yield Folder(path.parent)
        else:
            yield from _in_file(path) or [Skipped(str(path), "is no export.", "Give a folder, a zip file or a log.")]


def _below(top: Path) -> Iterator[Found]:
    seen = 0
    for folder, inner, names in os.walk(top):  # links to folders are not followed
        inner.sort()
        seen += len(names)
        if seen > MOST_FILES:
            yield Skipped(
                folder,
                f"and what follows was not looked at: there are more than {MOST_FILES} files.",
                "Give the folders of one class only.",
            )
            return
        place = Path(folder)
        listed: set[str] = set()
        if PACKAGE_FILE in names:
            yield Folder(place)
            listed = _own_logs(Folder(place), names)
        elif alone := [name for name in sorted(names) if _is_table(name)]:
            yield Skipped(str(place / alone[0]), "is one table of an export; the rest is missing.", ASK)
        for name in sorted(set(names) - listed):
            yield from _in_file(place / name)


def _is_table(name: str) -> bool:
    """Whether a file is called like the answers of an export."""
    return name.casefold().startswith("attempts") and name.casefold().endswith(".csv")


def _own_logs(source: Folder, names: Iterable[str]) -> set[str]:
    """The logs that belong to the export in a folder: what it lists, or all there are if it cannot be read."""
    logs = {name for name in names if name.casefold().endswith(".jsonl")}
    try:
        text = source.text(PACKAGE_FILE)
    except (BadFile, OSError):
        return logs
    return {name for name in logs if json.dumps(name) in text} or logs


def _in_file(path: Path) -> list[Found]:
    """What a file by its ending may hold; nothing for any other file."""
    if path.suffix.casefold() == ".jsonl":
        return [Log(path)]
    if path.suffix.casefold() in DATABASES:
        return [Skipped(str(path), "is a record or its backup, and no export.", ASK)]
    return _in_archive(path) if path.suffix.casefold() == ".zip" else []


def _in_archive(path: Path) -> list[Found]:
    try:
        packages = map(PurePosixPath, archives.members(path))
    except BadFile as error:
        return [Skipped(str(path), error.problem, ASK)]
    inside = sorted(str(each.parent) for each in packages if each.name == PACKAGE_FILE)
    found: list[Found] = [Archive(path, "" if folder == "." else folder) for folder in inside]
    return found or [Skipped(str(path), "holds no export of fretsure.", FOREIGN)]


def _lines(file: BinaryIO, where: str) -> Iterator[bytes]:
    while line := file.readline(LONGEST_LINE + 1):
        if len(line) > LONGEST_LINE:
            raise BadFile(where, "", f"has a line longer than {LONGEST_LINE} bytes.")
        yield line
