"""A sound record, to be put through faults."""

from __future__ import annotations

from pathlib import Path

import pytest

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
