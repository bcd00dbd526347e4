"""Writes the shell completions and the manual page anew: python -m tests.shell [FOLDER], by default data/shell."""

from __future__ import annotations

import sys
from pathlib import Path

from tests.shell.completions import completions
from tests.shell.manual import manual

FOLDER = Path(__file__).parents[2] / "data" / "shell"


def files() -> dict[str, str]:
    """What each file in the folder holds, by its name."""
    return {**completions(), "fretsure.1": manual()}


if __name__ == "__main__":
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in files().items():
        (folder / name).write_text(text, encoding="utf-8")
        print(folder / name)
