"""A sound record and a folder that can be closed, to be put through faults."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support import disk
from tests.support.records import attempt, drill, open_at


@pytest.fixture(autouse=True)
def forced_onto_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    disk.forced(monkeypatch)


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
def closable(tmp_path: Path) -> Iterator[Path]:
    """A folder whose permissions a test may take away."""
    folder = tmp_path / "closable"
    folder.mkdir()
    yield folder
    folder.chmod(0o700)
