"""The report of an internal error: one sentence for the learner, the details in a file to send to the developers."""

from __future__ import annotations

import platform
import traceback
from contextlib import suppress
from pathlib import Path

from drill import __version__
from drill.errors import ALL_SAVED, FretsureError, ProgramFault
from drill.system import files

NAME = "fretsure-fault.txt"


def report_crash(error: BaseException, record: Path) -> FretsureError:
    """Return an error the learner can read.

    A FretsureError is returned as it is. For any other the details are written to a file beside the record, which the
    returned `ProgramFault` names.
    """
    if isinstance(error, FretsureError):
        return error
    fix = "Start it again; if it happens again, please report it and say what you did."
    details = record.with_name(NAME)
    with suppress(OSError, ValueError):
        _write(details, error)
        fix = f"Start it again. The details are in {details}; please send them if you report this."
    return ProgramFault(
        f"fretsure hit an internal error and had to stop ({type(error).__name__}). {ALL_SAVED}",
        fix,
    )


def _write(path: Path, error: BaseException) -> None:
    files.make_folder(path.parent)
    with files.atomic_write(path) as file:
        file.write(f"fretsure {__version__}, Python {platform.python_version()}, {platform.system()}\n\n")
        for line in traceback.format_exception(error):
            file.write(line.encode("utf-8", "backslashreplace").decode("utf-8"))
