"""A bare log made into an export: what its answers lead to is worked out anew, which takes a moment."""

from __future__ import annotations

from pathlib import Path

from drill.classroom.exports import Export, read_export
from drill.classroom.sources import Folder
from drill.decks import Deck, load_deck, shipped_decks
from drill.errors import FretsureError
from drill.export.package import export
from drill.export.reading import merge
from drill.practice.learner_store import LearnerStore
from drill.progress import Progress
from drill.record import DrillRow, Record
from drill.settings import Settings


def export_of(log: Path, folder: Path) -> Export:
    """The export that the log's learner would have made after the last answer, written to a folder. Raises BadFile.

    A log does not say what was set: of the homework among the teacher's own decks, that is told which it has drills of.
    """
    now_s = 0.0
    with Record.open(folder / "record.sqlite3", lambda: now_s) as record:
        merge(log, record)
        now_s = max((row.answered_at for row in record.last_answers()), default=0) / 1000
        drills = list(record.drills())
        deck, settings = _deck(drills)
        store = LearnerStore.of(record)
        progress = Progress(store.learner, record, deck, settings, now_s, store.calibration)
        made = Folder(export(progress, folder / "export"))
    read, drilled = read_export(made), {drill.deck for drill in drills}
    homework = tuple(each for each in read.homework if each.deck in drilled)
    return read._replace(source=made._replace(called=str(log)), made_s=log.stat().st_mtime, homework=homework)


def _deck(drills: list[DrillRow]) -> tuple[Deck, Settings]:
    """The shipped deck that was drilled last, on its instrument; else the usual ones. No path in a log is followed."""
    for drill in reversed(drills):
        settings = Settings(tuning=drill.tuning)
        try:
            shipped = {deck.id: deck for deck in shipped_decks(settings.neck)}
            return shipped[drill.deck], settings._replace(deck=drill.deck)
        except (FretsureError, KeyError):
            continue
    settings = Settings()
    return load_deck(settings.deck, settings.neck), settings
