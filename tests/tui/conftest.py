"""The full-screen program on a clock moved by hand, with a record and settings in a folder of its own."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from drill.practice.request import DrillRequest
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment
from drill.tui import FretsureApp
from tests.support.asking import introduce

MakeApp = Callable[..., FretsureApp]


@pytest.fixture
def make_app(fake_environment: Environment, record: Record) -> MakeApp:
    """An app over the test's world; settings by name. With `begin` it starts the drill that the options request."""

    def make(settings: dict[str, str | int] | None = None, *, begin: bool = False, **options: object) -> FretsureApp:
        if begin:
            introduce(record, fake_environment.now())
        request = DrillRequest(**options) if begin else None  # type: ignore[arg-type]
        return FretsureApp(fake_environment, Settings(**(settings or {})), record, request=request)  # type: ignore[arg-type]

    return make
