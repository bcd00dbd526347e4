"""A sound record and an ordinary user's folder, to be put through faults."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faults.children import NOBODY
from tests.record.samples import attempt, drill, open_at


@pytest.fixture
def sound(tmp_path: Path) -> Path:
    """The path of a closed record with fifty attempts and a backup made when there were forty."""
    path = tmp_path / "record.sqlite3"
    with open_at(path) as record:
        record.merge([drill()], map(attempt, range(40)))
    with open_at(path) as record:
        record.merge([], map(attempt, range(50)))
    return path


@pytest.fixture
def open_to_all() -> Iterator[Path]:
    """A folder an ordinary user owns; pytest's own folders are closed to them."""
    folder = Path(tempfile.mkdtemp())
    if os.geteuid() == 0:
        os.chown(folder, NOBODY, NOBODY)
    yield folder
    folder.chmod(0o700)
    shutil.rmtree(folder)
