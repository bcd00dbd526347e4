"""What `fretsure export` and `fretsure restore` do and say."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from pathlib import Path
from typing import TextIO

from drill.export.package import FILES, export
from drill.export.reading import is_backup, merge, vet
from drill.practice.learner_store import LearnerStore
from drill.present.figures import how_many, per_cent
from drill.progress import Progress
from drill.record import AttemptRow, Record, restore
from drill.system.environment import Environment
from drill.system.slow_notice import notify_if_slow

STEP = 2000
"""Attempts between two strokes of the progress bar."""
CELLS = 30


def export_lines(progress: Progress, environment: Environment, folder: Path) -> Iterator[str]:
    """Export, then say what was written. Raises `CannotWrite`."""
    place = export(progress, folder, bar_on(environment.stderr, shown=_can_redraw(environment)))
    yield f"Exported to {place}:" if place == folder else f"Exported to {place}, for {folder} holds other files:"
    yield from (f"    {name}" for name in FILES)


def restore_lines(environment: Environment, source: Path) -> Iterator[str]:
    """Put a backup in the record's place, or merge an exported log. Raises `BadFile` and `CannotWrite`."""
    if is_backup(source):
        notices: list[str] = []
        with notify_if_slow(environment.stderr):
            try_out = partial(_try_out, environment, source)
            kept = restore(environment.record_path, source, environment.now(), vet=try_out, notices=notices)
        yield f"Restored from {source}."
        if kept is not None:
            yield f"The record as it was before is kept in {kept}."
        yield from notices
        return
    with Record.open(environment.record_path, environment.now) as record:
        found, added = merge(source, record)
    new = how_many(added, "was new and was added", "were new and were added")
    known = how_many(found - added, "was here already", "were here already")
    yield f"Of {how_many(found, 'answer')} in {source}, {new}; {known}."


def _try_out(environment: Environment, source: Path, copy: Path) -> None:
    """Uses the copy of a backup as the program would, before it replaces anything. Raises what would be raised then."""
    with Record.open(copy, environment.now) as record:
        vet(record, source)
        LearnerStore.of(record)


def bar_on(stream: TextIO, *, shown: bool) -> Callable[[Iterable[AttemptRow], int], Iterator[AttemptRow]]:
    """Passes attempts on and, if `shown`, draws on `stream` how far it has come."""

    def watch(rows: Iterable[AttemptRow], total: int) -> Iterator[AttemptRow]:
        for number, row in enumerate(rows):
            if shown and number % STEP == 0:
                _draw(stream, number, total)
            yield row
        if shown:
            _draw(stream, total, total)
            stream.write("\n")
            stream.flush()

    return watch


def _draw(stream: TextIO, done: int, total: int) -> None:
    share = done / total if total else 1.0
    cells = round(CELLS * share)
    stream.write(f"\r[{'#' * cells}{'.' * (CELLS - cells)}] {per_cent(share):>4} of {how_many(total, 'answer')}")
    stream.flush()


def _can_redraw(environment: Environment) -> bool:
    return environment.stderr.isatty() and environment.variables.get("TERM", "") != "dumb"
