"""`export`, `backup` and `restore`: what leaves the record, and what comes back."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple, TextIO

from drill.cli.commands import Command, add_deck_option
from drill.cli.learner import load_settings, open_progress, open_record
from drill.cli.output import print_lines
from drill.cli.owners import ask, ask_whose, ask_whose_backup, named, taken_over
from drill.errors import FretsureError, UsageProblem
from drill.system.environment import Environment, expand_user, resolved
from drill.system.files import refuse_existing, refuse_other_ending, write_new
from drill.system.platforms import shell_quoted
from drill.system.slow_notice import notify_if_slow

if TYPE_CHECKING:
    from drill.export.package import Watch
    from drill.progress import Progress
    from drill.record import AttemptRow, Whose

STEP = 2000
"""The progress bar is drawn again after so many attempts."""
CELLS = 30


class ExportRequest(NamedTuple):
    """What `fretsure export` was asked for: where to write what, and what the learner is called from now on."""

    folder: str | None = None
    deck: str | None = None
    one: str | None = None
    calendar: str | None = None
    name: str | None = None


class FileRequest(NamedTuple):
    """The file that `fretsure backup` was given."""

    file: str


class RestoreRequest(NamedTuple):
    """The file that `fretsure restore` was given, and whether the learner says that its answers are their own."""

    file: str
    mine: bool


def export_record(request: ExportRequest, environment: Environment) -> None:
    """Write what was asked for: open data with a report into a folder or one file, the daily drill for a calendar."""
    one, calendar = (None if file is None else expand_user(file) for file in (request.one, request.calendar))
    if one and one.suffix.casefold() != ".zip":
        problem = f"{one} does not end in .zip, by which fretsure class knows an export."
        raise UsageProblem(problem, f"Write: fretsure export --one {one.stem or 'mine'}.zip")
    if request.folder is not None:
        _refuse_file_name(expand_user(request.folder))
    for file in filter(None, (one, calendar)):
        refuse_existing(file)
    if calendar:
        refuse_other_ending(calendar, ".ics")
    with open_progress(request.deck, environment) as progress:
        if request.name is not None:
            print_lines(environment, name_lines(progress, request.name))
        elif not calendar:
            ask_for_name(progress, environment)
        if request.folder is not None:
            print_lines(environment, export_lines(progress, environment, expand_user(request.folder)))
        if one:
            print_lines(environment, one_file_lines(progress, environment, one))
        if calendar:
            print_lines(environment, calendar_lines(progress, environment, calendar))


OPTIONS_OF = {".zip": "--one", ".ics": "--calendar"}
"""The option that writes one file of this ending."""


def _refuse_file_name(folder: Path) -> None:
    """Raise UsageProblem for a new folder that bears the name of a file: its option was forgotten."""
    option = OPTIONS_OF.get(folder.suffix.casefold())
    if option and not folder.is_dir():
        fix = f"For one file, write: fretsure export {option} {shell_quoted(str(folder))}"
        raise UsageProblem(f"{folder} is the name of a file, and export alone writes a folder.", fix)


def back_up(request: FileRequest, environment: Environment) -> None:
    """Copy the whole record into a file."""
    from drill.record import name_if_nameless

    target = resolved(expand_user(request.file))
    with open_record(environment) as record:
        if not environment.is_record_typed:  # the settings are of whoever sits here, and not of every record there is
            with suppress(FretsureError):  # no bad setting keeps a record from being copied
                name_if_nameless(record, load_settings(environment).learner)
        record.backup(target)
    print_lines(environment, [f"The record was copied to {target}."])


def restore_record(request: RestoreRequest, environment: Environment) -> None:
    """Put a backup in the record's place, or merge an exported log into the record."""
    print_lines(environment, restore_lines(environment, expand_user(request.file), mine=request.mine))


def ask_for_name(progress: Progress, environment: Environment) -> None:
    """At the first export at a terminal, ask what the learner is called; never again, whatever the answer."""
    if not environment.is_terminal or progress.settings.learner.strip() or progress.log.identify().name is not None:
        return
    ask(environment, "What is your name? Your teacher will see it in the export; Enter leaves it out.")
    progress.log.call(as_name(environment.stdin.readline()))


def name_lines(progress: Progress, typed: str) -> Iterator[str]:
    """Give the learner a name, or another one, for all exports to come; none at all if it is empty."""
    name = progress.log.call(as_name(typed)).name
    yield f"From now on your exports carry the name {name}." if name else "From now on your exports carry no name."


def as_name(typed: str) -> str:
    """What was typed as a name, on one line and without what would act on a terminal."""
    from drill.settings import LONGEST_LEARNER

    return "".join(filter(str.isprintable, " ".join(typed.split())))[:LONGEST_LEARNER]


def export_lines(progress: Progress, environment: Environment, folder: Path) -> Iterator[str]:
    """Export, then say what was written. Raises `CannotWrite`."""
    from drill.export.package import export, files_of, owner
    from drill.export.staging import own_exports

    earlier = own_exports(folder, owner(progress))
    place = export(progress, folder, progress_bar(environment.stderr, visible=_can_redraw(environment)))
    because = "" if place == folder else f", because {folder} contains other files"
    yield f"Exported to {place}{because}{', replacing your earlier export there' if place in earlier else ''}:"
    yield from (f"    {name}" for name in files_of(owner(progress)))


def one_file_lines(progress: Progress, environment: Environment, file: Path) -> Iterator[str]:
    """Export into one new archive, then say so. Raises `CannotWrite`."""
    from drill.export.one_file import export_one

    export_one(progress, file, progress_bar(environment.stderr, visible=_can_redraw(environment)))
    yield f"Exported to {file}. It can be mailed as it is; fretsure class and fretsure restore read it."


def calendar_lines(progress: Progress, environment: Environment, file: Path) -> Iterator[str]:
    """Write the daily drill for a calendar, then say so. Raises `CannotWrite`."""
    from drill.export.calendar_file import calendar, last_day, usual_minute
    from drill.present.dates import day_in_words

    offset = environment.utc_offset_minutes
    write_new(file, calendar(progress, offset))
    hour, minute = divmod(usual_minute(progress, offset), 60)
    until = last_day(progress)
    lasts = f", until {day_in_words(until)}," if until else ""
    yield (
        f"The daily drill at {hour}:{minute:02}{lasts} is in {file}. "
        "Open it with your calendar; move it there as you like."
    )


def restore_lines(environment: Environment, source: Path, *, mine: bool = False) -> Iterator[str]:
    """Put a backup in the record's place, or merge an exported log; another's only if it is `mine` after all.

    Raises `BadFile`, `CannotWrite` and `UsageProblem`.
    """
    from drill.export.reading import is_backup

    taken = _restore_backup if is_backup(source) else _merge_log
    return taken(environment, source, mine=mine)


def _restore_backup(environment: Environment, source: Path, *, mine: bool) -> Iterator[str]:
    from drill.record import restore, whose

    notices: list[str] = []
    here = whose(environment.record_path)
    try_out = partial(_try_out, environment, source, here, mine)
    saved = restore(environment.record_path, source, environment.now(), vet=try_out, notices=notices)
    yield f"Restored from {source}."
    there = whose(environment.record_path)
    if there and there.owner and not (here and here.owner == there.owner):
        yield f"The record now belongs to {named(there.owner)}."
    if saved is not None:
        yield f"Your previous record is saved in {saved}."
    yield from notices


def _merge_log(environment: Environment, source: Path, *, mine: bool) -> Iterator[str]:
    from drill.export.reading import inspect, take
    from drill.present.figures import how_many

    with open_record(environment) as record:
        log = inspect(source, record)
        if not mine:
            ask_whose(log, record, environment)
        was_empty, before, mine_before = record.first_moment() is None, record.answer_count(), record.owner
        kept = None if was_empty else record.keep_copy()
        _, changed = take(log, record)
        added, owner = record.answer_count() - before, record.owner
    new = how_many(added, "was new and was added", "were new and were added")
    known = how_many(log.answers - added, "was already here", "were already here")
    yield f"Of {how_many(log.answers, 'answer')} in {source}, {new}; {known}."
    if was_empty and owner:
        yield taken_over(owner, source, environment, is_sure=mine or environment.is_terminal)
    elif owner != mine_before:
        was = named(mine_before, "nobody")
        yield f"The record belonged to {was} and now belongs to {named(owner)}, whose answers are older."
    if kept is not None and changed:
        yield f"A copy of the record as it was before is in {kept}."


def _try_out(environment: Environment, source: Path, here: Whose | None, mine: bool, copy: Path) -> None:
    """Use the copy of a backup as the program would, before it replaces anything. Raises what that would raise.

    Then ask whether it may, unless it is known to be of the learner whose record lies `here`, or is said to be `mine`.
    """
    from drill.export.reading import vet
    from drill.practice.learner_store import LearnerStore
    from drill.record import Record, whose

    with notify_if_slow(environment.stderr), Record.open(copy, environment.now) as record:
        vet(record, source)
        LearnerStore.of(record)
    there = whose(copy)
    if there and not mine:
        ask_whose_backup(source, there, here, environment)


def progress_bar(stream: TextIO, *, visible: bool) -> Watch:
    """Return what passes attempts on and, if `visible`, draws on `stream` how far it has come."""

    def watch(rows: Iterable[AttemptRow], total: int) -> Iterator[AttemptRow]:
        for number, row in enumerate(rows):
            if visible and number % STEP == 0:
                _draw(stream, number, total)
            yield row
        if visible:
            _draw(stream, total, total)
            stream.write("\n")
            stream.flush()

    return watch


def _draw(stream: TextIO, done: int, total: int) -> None:
    from drill.present.figures import per_cent

    share = done / total if total else 1.0
    cells = round(CELLS * share)
    stream.write(f"\r[{'#' * cells}{'.' * (CELLS - cells)}] {per_cent(share):>4} of the answers")
    stream.flush()


def _can_redraw(environment: Environment) -> bool:
    return environment.stderr.isatty() and environment.variables.get("TERM", "") != "dumb"


def _export_options(parser: argparse.ArgumentParser) -> None:
    folder = "the folder to write to; it is made if it does not exist"
    places = parser.add_mutually_exclusive_group(required=True)
    places.add_argument("folder", metavar="DIR", nargs="?", help=folder)
    places.add_argument("--one", metavar="FILE.zip", help="write all of it into one new file, small enough to mail")
    places.add_argument("--calendar", metavar="FILE.ics", help="write the daily drill into a new file for a calendar")
    parser.add_argument("--name", metavar="NAME", help="your name, from now on, in all that you export")
    add_deck_option(parser)


def _backup_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="the copy to write; the file must not exist yet")


def _restore_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a backup, the zip file of an export, or its log, attempts.jsonl")
    parser.add_argument("--mine", action="store_true", help="the log or the backup is yours, whoever it names")


COMMANDS = (
    Command(
        "export",
        "Export your data and a report for a teacher.",
        "fretsure export for-my-teacher",
        _export_options,
        ExportRequest,
        export_record,
    ),
    Command(
        "backup",
        "Copy the whole record into a file.",
        "fretsure backup record-copy.sqlite3",
        _backup_options,
        FileRequest,
        back_up,
    ),
    Command(
        "restore",
        "Restore a backup or import an exported log.",
        "fretsure restore attempts.jsonl",
        _restore_options,
        RestoreRequest,
        restore_record,
    ),
)
