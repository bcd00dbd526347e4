"""Draws the README's pictures anew: python -m tests.pictures [FOLDER], by default data/pictures."""

from __future__ import annotations

import asyncio
import sys
import tempfile
from pathlib import Path

from tests.pictures.drawing import FOLDER, drawn


def main() -> None:
    """Draw every picture into the folder, and say where each lies."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as world:
        for name, picture in asyncio.run(drawn(Path(world))).items():
            (folder / name).write_text(picture, encoding="utf-8")
            print(folder / name)


if __name__ == "__main__":
    main()
