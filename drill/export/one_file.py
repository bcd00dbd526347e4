"""An export as one small file that can be mailed: a zip archive with a folder in it.

The folder bears the learner's name and identity, so that the files of a class can be unpacked side by side.
"""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from drill.errors import CannotWrite
from drill.export.package import Watch, export, owner, unwatched
from drill.export.staging import PACKAGE_NAME, called
from drill.present.dates import moment
from drill.progress import Progress
from drill.system import archives, files


def export_one(progress: Progress, path: Path, watch: Watch = unwatched) -> None:
    """Write the export into a new archive. Raises `CannotWrite`, also where something has that name already."""
    files.refuse_existing(path)
    try:
        with TemporaryDirectory(prefix="fretsure-export-") as folder:
            made = export(progress, Path(folder) / f"{PACKAGE_NAME}-{called(owner(progress))}", watch)
            local = moment(progress.now_s) + timedelta(minutes=progress.utc_offset_minutes)
            archived = archives.packed(made, local)
    except OSError as error:
        problem = f"Temporary files cannot be written ({error.strerror or error}); nothing was exported."
        raise CannotWrite(
            problem, "Make room on the disk, or let the folder for temporary files be written to."
        ) from error
    files.write_new(path, archived)
