"""The tables of a class as files: new ones only, in a folder that is made if it does not exist."""

from __future__ import annotations

import io
import os
from pathlib import Path

from drill.classroom.columns import TABLES, rows_of
from drill.classroom.view import ClassView
from drill.errors import CannotWrite
from drill.system.files import make_folder, write_new


def write_tables(view: ClassView, folder: Path) -> tuple[str, ...]:
    """Write every table; returns their names. Raises CannotWrite, and then no file was written over another."""
    try:
        make_folder(folder)
    except OSError as error:
        raise CannotWrite(f"{folder} is not a folder that can be made ({error.strerror}).", "Give another.") from error
    for table in TABLES:
        if os.path.lexists(folder / table.file):
            raise CannotWrite(f"{folder / table.file} already exists and was left alone.", "Give another folder.")
    for table in TABLES:
        text = io.StringIO()
        table.write(text, rows_of(table, view))
        write_new(folder / table.file, text.getvalue())
    return tuple(table.file for table in TABLES)
