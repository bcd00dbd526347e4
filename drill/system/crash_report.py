"""What becomes of a mistake of the program itself: a sentence for the learner, the details in a file for a report."""

from __future__ import annotations

import platform
import traceback
from contextlib import suppress
from pathlib import Path

from drill import __version__
from drill.errors import FretsureError, ProgramFault
from drill.system import files

NAME = "fretsure-fault.txt"


def kept(error: BaseException, record: Path) -> FretsureError:
    """An error the learner can read: itself if it is one; else one that names the file its details were written to."""
    if isinstance(error, FretsureError):
        return error
    fix = "Start it again; if it happens again, please report it with what you did."
    details = record.with_name(NAME)
    with suppress(OSError, ValueError):
        _write(details, error)
        fix = f"Start it again; what went wrong is written in {details}, for a report."
    return ProgramFault(
        f"The program made a mistake and had to stop ({type(error).__name__}). Every answer given is kept.", fix
    )


def _write(path: Path, error: BaseException) -> None:
    files.folder(path.parent)
    with files.replaced(path) as file:
        file.write(f"fretsure {__version__}, Python {platform.python_version()}, {platform.system()}\n\n")
        for line in traceback.format_exception(error):
            file.write(line.encode("utf-8", "backslashreplace").decode("utf-8"))
