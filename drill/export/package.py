"""The whole export: a Tabular Data Package, the log, its schema, and the report.

Once the learner has a name, the names of the files bear it and the identity, so that the files of a class can lie in
one folder; `datapackage.json` has the name that the standard gives it.

https://specs.frictionlessdata.io/tabular-data-package/
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple, TextIO

from drill.export.model import json_schema, written
from drill.export.report import report
from drill.export.staging import PACKAGE_FILE, PACKAGE_NAME, Staging, file_name, staged
from drill.export.tables import ATTEMPTS, CARDS, DAYS, KEYS, LANDINGS, TABLES, card_rows
from drill.present.dates import iso_utc
from drill.progress import Progress
from drill.progress.columns import exact_writers
from drill.progress.homework import assignments
from drill.record import AttemptRow, LearnerRow, Record

LOG, SCHEMA, PAGE = "attempts.jsonl", "attempts.schema.json", "report.html"
FILES = (PACKAGE_FILE, *(table.file for table in TABLES), LOG, SCHEMA, PAGE)
"""Every file of an export, by the name it has while the learner has none."""


class Asked(NamedTuple):
    """What a log asks about: the cards of its answers, and the keys of its landings."""

    cards: set[str]
    landed: set[str]


Watch = Callable[[Iterable[AttemptRow], int], Iterator[AttemptRow]]
"""Passes attempts on; it is given their number, so that it can show how many are done."""


def unwatched(rows: Iterable[AttemptRow], total: int) -> Iterator[AttemptRow]:
    """Passes attempts on and shows nothing."""
    return iter(rows)


def owner(progress: Progress) -> LearnerRow:
    """Whose export it will be: the name kept in the record, or else the one in the settings."""
    who = progress.log.identify()
    return who._replace(name=who.name or progress.settings.learner.strip() or who.name)


def files_of(who: LearnerRow) -> tuple[str, ...]:
    """The name of every file of this learner's export."""
    return tuple(file_name(name, who) for name in FILES)


def export(progress: Progress, folder: Path, watch: Watch = unwatched) -> Path:
    """Write all files into `folder`, or into a new folder inside it if it holds other files; returns which.

    A long log is streamed. Raises `CannotWrite`, and then nothing was changed.
    """
    who = owner(progress)
    progress = replace(progress, settings=progress.settings._replace(learner=who.name or ""))
    with staged(folder, FILES, who) as staging:
        asked = _write_log(progress, staging, watch, who)
        writers = exact_writers(progress)
        for table, rows in ((CARDS, card_rows(progress)), (KEYS, progress.keys_as_played), (DAYS, progress.days)):
            with staging.open(table.file) as file:
                table.write(file, rows, writers)
        _write_text(staging, SCHEMA, _json(json_schema()))
        _write_text(staging, PAGE, report(progress))
        _write_text(staging, PACKAGE_FILE, _json(_package(progress, staging, who, asked)))
    return staging.folder


def _write_log(progress: Progress, staging: Staging, watch: Watch, who: LearnerRow) -> Asked:
    """Write the log as CSV and as JSON Lines in one pass; returns what it asks about."""
    log, cards = progress.log, set[str]()
    with staging.open(ATTEMPTS.file) as table, staging.open(LOG) as lines:
        write_row = ATTEMPTS.writer(table)
        _write_line(lines, written(who))
        for drill in log.drills():
            _write_line(lines, written(drill))
        for attempt in watch(log.attempts(), log.attempt_count()):
            write_row(attempt)
            cards.add(attempt.card)
            _write_line(lines, written(attempt))
        landed = _write_landings(log, staging, lines)
    return Asked(cards, landed)


def _write_landings(log: Record, staging: Staging, lines: TextIO) -> set[str]:
    """Write the landings of rounds as CSV and as lines of the log; returns the keys in them."""
    keys = set[str]()
    with staging.open(LANDINGS.file) as table:
        write_row = LANDINGS.writer(table)
        for landing in log.landings():
            write_row(landing)
            keys.add(landing.key)
            _write_line(lines, written(landing))
    return keys


def _write_line(file: TextIO, line: str) -> None:
    file.write(f"{line}\n")


def _write_text(staging: Staging, name: str, text: str) -> None:
    with staging.open(name) as file:
        file.write(text)


def _json(value: Any) -> str:
    return json.dumps(value, indent=2) + "\n"


def _package(progress: Progress, staging: Staging, who: LearnerRow, asked: Asked) -> dict[str, Any]:
    described = _described(progress, asked)
    return {
        "profile": "tabular-data-package",
        "name": PACKAGE_NAME,
        "title": "Drills of fretboard theory",
        "description": f"Answers, landings, cards, keys and days of one learner, as of the moment of the export, "
        f"for the deck “{progress.deck.title}” at {progress.settings.tempo_bpm} bpm.",
        "learner": {"id": who.id, "name": who.name},
        "created": iso_utc(progress.now_s),
        "deck": progress.deck.id,
        "tuning": progress.deck.neck.tuning.id,
        **({"homework": homework} if (homework := [each.as_object() for each in assignments(progress)]) else {}),
        "resources": [described[table.name] | staging.fingerprint(table.file) for table in TABLES],
        "others": [staging.fingerprint(name) for name in (LOG, SCHEMA, PAGE)],
    }


def _described(progress: Progress, asked: Asked) -> dict[str, dict[str, Any]]:
    """Each table by its name. A field is said to hold cards or keys of their table only where each is in it.

    Cards that no family knows any more, cards shown and never asked, and keys that are not everyday ones are not.
    """
    cards = {row.status.card for row in card_rows(progress)}
    keys = {row.key.name for row in progress.keys}
    weakest = {key.needed[0].status.card for key in progress.keys}
    described = {table.name: table.resource() for table in TABLES}
    for table, field, held, other, there in (
        (ATTEMPTS, "card", asked.cards, CARDS, cards),
        (LANDINGS, "key", asked.landed, KEYS, keys),
        (KEYS, "weakest", weakest, CARDS, cards),
    ):
        if held <= there:
            described[table.name] = table.referring(field, other)
    return described
