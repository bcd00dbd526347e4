"""Files and folders for their owner alone, whatever the umask allows.

folder      a folder, made with all that is missing above it
new_file    a file to write to
"""

from __future__ import annotations

import os
from pathlib import Path


def folder(path: Path) -> None:
    """Makes the folder and those above it that are missing. Raises OSError, as when a file has its name."""
    if not path.is_dir():
        if path.parent != path:
            folder(path.parent)
        path.mkdir(mode=0o700, exist_ok=True)


def new_file(path: Path, *, may_exist: bool = False) -> int:
    """The descriptor of an empty file, open for reading and writing. Raises OSError."""
    return os.open(path, os.O_RDWR | os.O_CREAT | (os.O_TRUNC if may_exist else os.O_EXCL), 0o600)
