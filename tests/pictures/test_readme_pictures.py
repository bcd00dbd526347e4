"""The README's pictures are those that the program draws now, small, and sound as SVG."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from tests.pictures.drawing import FOLDER, drawn, lines

README = (FOLDER.parents[1] / "README.md").read_text(encoding="utf-8")
LARGEST = 60_000
"""Bytes of a picture: a README that is slow to open is not read."""


@pytest.mark.long
async def test_the_pictures_say_what_the_screens_say_now(tmp_path: Path) -> None:
    """Compared by what each line says; if this fails, draw them anew: python -m tests.pictures."""
    for name, picture in (await drawn(tmp_path)).items():
        assert lines((FOLDER / name).read_text(encoding="utf-8")) == lines(picture), name


@pytest.mark.parametrize("name", sorted(path.name for path in FOLDER.iterdir()))
def test_a_picture_is_shown_small_and_needs_no_network(name: str) -> None:
    text = (FOLDER / name).read_text(encoding="utf-8")
    assert f"data/pictures/{name}" in README
    assert len(text.encode()) <= LARGEST
    assert ElementTree.fromstring(text).tag == "{http://www.w3.org/2000/svg}svg"
    assert not re.search(r"(href|src|url)\s*[=(]\s*['\"]?https?:", text)
