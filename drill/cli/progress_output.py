"""What `fretsure progress` prints."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import partial

from drill.present.dates import local
from drill.progress.columns import card_history_object, progress_object
from drill.progress.lines import Lines
from drill.progress.overview import Progress
from drill.system.environment import Environment


def lines(progress: Progress, environment: Environment, width: int | None, *, as_json: bool) -> Iterator[str]:
    """Everything, as text or as one JSON object on one line."""
    if as_json:
        yield json.dumps(progress_object(progress))
    else:
        yield from _lines(progress, environment, width).all()


def card_lines(progress: Progress, environment: Environment, card: str, *, as_json: bool) -> Iterator[str]:
    """One card, as text or as one JSON object on one line. Raises `UnknownName`."""
    history = progress.card_history(card)
    if as_json:
        yield json.dumps(card_history_object(history, progress))
    else:
        yield from _lines(progress, environment, None).card_history(history)


def _lines(progress: Progress, environment: Environment, width: int | None) -> Lines:
    return Lines(progress, partial(local, environment=environment), width)
