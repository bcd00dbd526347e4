"""The full-screen program, over the learner's open record."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from drill.cli.learner import load_settings, open_record
from drill.system.environment import Environment
from drill.system.slow_notice import notify_if_slow

if TYPE_CHECKING:
    from drill.practice.request import DrillRequest
    from drill.tui.screens.base import BaseScreen


def run_screens(
    environment: Environment, request: DrillRequest | None = None, first: Callable[[], BaseScreen] | None = None
) -> None:
    """Open the full program: straight into the drill that was requested, on the `first` screen given, or at home."""
    from drill.practice.learner_store import LearnerStore
    from drill.system.steady import steady_clock
    from drill.tui import run_app

    settings = load_settings(environment)
    with open_record(environment, on_screens=True) as record, steady_clock(environment.monotonic) as steady:
        environment = environment._replace(monotonic=steady)
        with notify_if_slow(environment.stderr):  # before the first screen, which would cover the notice
            store = LearnerStore.begin(record, environment.monotonic)
        run_app(environment, settings, record, store, request, first)
