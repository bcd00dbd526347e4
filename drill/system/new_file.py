"""Files that the learner names for a result: made new, never written over another."""

from __future__ import annotations

from pathlib import Path

from drill.errors import CannotWrite
from drill.system import files


def save_new(path: Path, text: str, what: str) -> None:
    """Write a text to a new file. `what` says what it is: 'picture'.

    Raises `CannotWrite` where a file or a link of that name exists, where its folder does not, or where the disk
    refuses; then no part of the text is left behind.
    """
    files.refuse_without_folder(path)
    try:
        files.create_whole(path, text.encode())
    except FileExistsError:
        raise CannotWrite(
            f"{path} already exists and was left alone.", f"Choose another name for the {what}."
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise CannotWrite(
            f"The {what} could not be written to {path} ({reason}).", "Give a file in a folder that you can write to."
        ) from error
