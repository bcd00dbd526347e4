"""Files that others wrote, read up to a limit, so that no device, pipe or huge file can hold the program up.

kind         what a path leads to: a file, a folder, a device ...
read_text    the text of a file
explained    turns errors of the system into sentences
parse_toml   the values in a text
"""

from __future__ import annotations

import stat
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from drill.errors import BadFile
from drill.system.toml_mistakes import likely_mistake
from drill.theory.names import quoted

FILE = "a file"
_KINDS = (
    (stat.S_ISREG, FILE),
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
)
MOST_BYTES = 20_000
"""Ten times what a guitarist writes by hand. `tomllib` takes a second for the worst text of this size, and four seconds
for twice the size."""


def kind(path: Path) -> str:
    """Say in words what the path leads to, following links. Raises OSError."""
    mode = path.stat().st_mode
    return next((name for is_kind, name in _KINDS if is_kind(mode)), "a device")


def read_text(path: Path, fix: str, most_bytes: int = MOST_BYTES) -> str:
    """Read a UTF-8 text file, with or without the byte order mark that some editors write first.

    Raises FileNotFoundError; BadFile for anything but a file (with `fix`), and for one too large or unreadable.
    """
    try:
        if (found := kind(path)) != FILE:
            raise BadFile(str(path), "", f"is {found}, not a file.", fix)
        with path.open("rb") as file:
            raw = file.read(most_bytes + 1)
        if len(raw) > most_bytes:
            raise BadFile(str(path), "", "is too large.", f"It may hold at most {most_bytes} bytes.")
        return raw.decode("utf-8-sig")
    except FileNotFoundError:
        raise
    except UnicodeDecodeError as error:
        raise BadFile(str(path), "", f"byte {error.start} is not UTF-8 text.", "Save the file as UTF-8.") from error
    except OSError as error:
        problem = f"cannot be read ({error.strerror})."
        raise BadFile(str(path), "", problem, "Check the file and its permissions.") from error


@contextmanager
def explained(path: Path) -> Iterator[None]:
    """Say of a path what the system had against it. Raises BadFile for any OSError of the block."""
    try:
        yield
    except FileNotFoundError as error:
        raise BadFile(str(path), "", "is not there.", "Check the path.") from error
    except OSError as error:
        problem = f"cannot be read ({error.strerror or error})."
        raise BadFile(str(path), "", problem, "Check the permissions.") from error


def parse_toml(text: str, file: str, fix: str) -> dict[str, Any]:
    """Parse TOML; errors call it `file`. Raises BadFile with the line that cannot be read, and what is likely wrong."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = likely_mistake(text, error)
        place, problem = f"line {found.number}", f"{quoted(found.line)} is not TOML."
        raise BadFile(file, place, problem, f"{found.reason} {fix}") from error
    except (ValueError, RecursionError) as error:  # ValueError for an integer of thousands of digits
        raise BadFile(file, "", f"is not TOML: {error}.", fix) from error
