"""Files that others wrote, read with a bound, so that no device, pipe or heap of text can hold the program up.

kind     what lies at a path: a file, a folder, a device ...
text     what is written in a file
toml     the values in a text
"""

from __future__ import annotations

import stat
import tomllib
from pathlib import Path
from typing import Any

from drill.errors import BadFile

FILE = "a file"
_KINDS = (
    (stat.S_ISREG, FILE),
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
)
MOST_BYTES = 20_000
"""What a guitarist writes by hand is a tenth of this. `tomllib` takes a second for the worst text of this size, and
four times as long for twice as much."""


def kind(path: Path) -> str:
    """What lies at the path, links followed, in words. Raises OSError."""
    mode = path.stat().st_mode
    return next((name for is_kind, name in _KINDS if is_kind(mode)), "a device")


def text(path: Path, fix: str, most_bytes: int = MOST_BYTES) -> str:
    """What is written in a file, UTF-8 with or without the mark that some editors put first.

    Raises FileNotFoundError; BadFile for what is no file (`fix` says what to do then), too large or cannot be read.
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


def toml(text: str, file: str, fix: str) -> dict[str, Any]:
    """The values written as TOML; `file` is the name errors give it. Raises BadFile."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # ValueError also for a number of thousands of digits
        raise BadFile(file, "", f"is not TOML: {error}.", fix) from error
