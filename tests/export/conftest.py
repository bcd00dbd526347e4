"""Worlds with the invented record in them, each in a folder of its own."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from drill.decks import load_deck
from drill.export import export
from drill.practice.demo import fill
from drill.practice.learner_store import LearnerStore
from drill.progress import Progress
from drill.record import AttemptRow, DrillRow, Record
from drill.settings import Settings
from drill.system.environment import Environment
from tests.support.worlds import MONDAY_MORNING, HandClock

SETTINGS = Settings()


def world(folder: Path) -> Environment:
    """A world whose clock stands still."""
    clock = HandClock()
    return Environment.real(folder / "record.sqlite3")._replace(
        now=clock.now,
        monotonic=clock.monotonic,
        utc_offset_minutes=clock.utc_offset_minutes,
        config_path=folder / "settings.toml",
        is_record_typed=False,  # the learner's own, whose folder is made
        stdout=io.StringIO(),
        stderr=io.StringIO(),
    )


@contextmanager
def progress_of(environment: Environment, settings: Settings = SETTINGS) -> Iterator[Progress]:
    """Where the learner of this world stands."""
    with Record.open(environment.record_path, environment.now) as record:
        deck = load_deck(settings.deck, settings.neck)
        store = LearnerStore.of(record)
        yield Progress(store.learner, record, deck, settings, environment.now(), store.calibration)


def exported(environment: Environment, folder: Path, settings: Settings = SETTINGS) -> Path:
    """The folder with an export of this world's record."""
    with progress_of(environment, settings) as progress:
        export(progress, folder)
    return folder


@pytest.fixture(scope="session")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Environment:
    """A world with the invented record; nobody may write into it."""
    environment = world(tmp_path_factory.mktemp("invented"))
    fill(environment)
    return environment


@pytest.fixture(scope="session")
def package(invented: Environment, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The export of the invented record."""
    return exported(invented, tmp_path_factory.mktemp("package") / "export")


DRILL = DrillRow("drill-1", round(1000 * MONDAY_MORNING), None, "naturals", 5, "{}", "standard", 3)


def attempt(number: int, **others: object) -> AttemptRow:
    """An answer of the drill, one a minute."""
    asked_at = DRILL.started_at + 60_000 * number
    values = {
        "uid": f"uid-{number:06d}", "drill": DRILL.id, "card": "note-at-fret:string=6:fret=3", "family": "note-at-fret",
        "deck": "naturals", "kind": "asked", "asked_at": asked_at, "answered_at": asked_at + 1500, "utc_offset_min": 60,
        "given": "G", "correct": True, "mixup": None, "thinking_ms": 1000, "target_ms": 1500,
    }  # fmt: skip
    return AttemptRow(**(values | others))  # type: ignore[arg-type]


HOSTILE = (
    "=1+1",
    'a,b\r\n"c"',
    "'quoted'",
    "\x1b[2J",
    "<b>&",
    "; DROP TABLE attempts",
    "é ♭ 🎸",
    "\u202eabc",
    "NA",
    "1e5",
)


@pytest.fixture(scope="session")
def nasty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The export of a learner whose answers and mix-ups hold whatever a file could trip over."""
    folder = tmp_path_factory.mktemp("nasty")
    here = world(folder)
    with Record.open(here.record_path, here.now) as record:
        record.start_drill(DRILL)
        for number, text in enumerate(HOSTILE):
            record.append(attempt(number, given=text, mixup=text, correct=False, deck=text))
        record.append(attempt(50, card="no-such-family:x=1", family="no-such-family"))
        record.append(attempt(51, kind="shown", given="", correct=None, thinking_ms=None))
        record.call('=Ana, "the" 1st')
    return exported(here, folder / "export")


@pytest.fixture(params=["of three months", "hostile", "empty"])
def each_export(request: pytest.FixtureRequest, package: Path, nasty: Path, tmp_path: Path) -> Path:
    """An export of three months, a hostile one and an empty one in turn."""
    if request.param == "empty":
        return exported(world(tmp_path / "home"), tmp_path / "export")
    return package if request.param == "of three months" else nasty


def resources(export: Path) -> dict[str, dict[str, Any]]:
    """What the package says of its files, by name."""
    return {each["name"]: each for each in json.loads((export / "datapackage.json").read_text())["resources"]}
