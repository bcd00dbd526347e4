"""`class`: the exports of many learners, side by side."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from contextlib import ExitStack
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from drill.cli.commands import Command, add_json_option
from drill.cli.learner import load_settings
from drill.cli.output import notify, print_json, print_lines
from drill.system.environment import Environment, expand_user

if TYPE_CHECKING:
    from drill.classroom.exports import Export
    from drill.classroom.sources import Log
    from drill.classroom.view import ClassView
    from drill.present.voice import Voice


class ClassRequest(NamedTuple):
    """What `fretsure class` was asked for."""

    folders: Sequence[str]
    html: str | None
    csv: str | None
    json: bool


def show_class(request: ClassRequest, environment: Environment) -> None:
    """Show a class: on the screen, as JSON, as tables or as a page."""
    from drill.classroom.columns import class_object
    from drill.classroom.gathering import gather
    from drill.classroom.lines import class_lines, skipped_lines
    from drill.classroom.view import ClassView
    from drill.present.dates import local
    from drill.system.files import refuse_other_ending

    if request.html:
        refuse_other_ending(expand_user(request.html), ".html", ".htm")
    voice = load_settings(environment).voice
    with ExitStack() as stack:
        unpack = partial(_unpack, environment, stack)
        roll = gather(map(expand_user, request.folders), unpack)
        view = ClassView(roll, local(environment.now(), environment).date())
    written = [*_write_page(view, request.html, voice), *_write_tables(view, request.csv)]
    if request.json:
        print_json(environment, [class_object(view)])
    elif written:
        notify(environment, skipped_lines(view.skipped))
        print_lines(environment, written)
    else:
        print_lines(environment, class_lines(view, voice.say, environment.columns))


def _write_page(view: ClassView, file: str | None, voice: Voice) -> list[str]:
    if file is None:
        return []
    from drill.classroom.page import class_page
    from drill.system.files import write_new

    path = expand_user(file)
    write_new(path, class_page(view, voice))
    return [f"The page was written to {path}."]


def _write_tables(view: ClassView, folder: str | None) -> list[str]:
    if folder is None:
        return []
    from drill.classroom.tables import write_tables

    path = expand_user(folder)
    return [f"The tables were written to {path}:", *(f"    {name}" for name in write_tables(view, path))]


def _unpack(environment: Environment, stack: ExitStack, log: Log) -> Export:
    """Work out what the answers of a bare log lead to, in a record that is gone when the class is shown."""
    from tempfile import TemporaryDirectory

    from drill.classroom.logs import export_of

    notify(environment, [f"{log.path} is only a log; working out its strengths takes a moment."])
    return export_of(log.path, Path(stack.enter_context(TemporaryDirectory(prefix="fretsure-class-"))))


def _class_options(parser: argparse.ArgumentParser) -> None:
    folders = "folders with exports, zip archives of exports, or exported logs"
    parser.add_argument("folders", metavar="DIR", nargs="+", help=folders)
    parser.add_argument("--html", metavar="FILE", help="write the class to a new HTML page, to read or print")
    parser.add_argument("--csv", metavar="DIR", help="write the class into a folder as CSV tables")
    add_json_option(parser)


COMMANDS = (
    Command(
        "class",
        "Show many learners' exports side by side.",
        "fretsure class exports --html class.html",
        _class_options,
        ClassRequest,
        show_class,
    ),
)
