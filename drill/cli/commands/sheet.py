"""`sheet`: a practice page to print."""

from __future__ import annotations

import argparse
from typing import NamedTuple

from drill.cli.commands import Command, add_deck_option
from drill.cli.learner import chosen_deck, load_settings, open_progress
from drill.cli.output import print_lines
from drill.errors import UsageProblem
from drill.system.environment import Environment, expand_user
from drill.system.files import write_new
from drill.system.platforms import shell_quoted

PAGES = (".html", ".htm")
TO_PDF = "The browser can print it into a PDF. "


class SheetRequest(NamedTuple):
    """What `fretsure sheet` was asked for."""

    file: str
    deck: str | None
    weakest: bool
    answers: bool


def write_sheet(request: SheetRequest, environment: Environment) -> None:
    """Write a practice sheet of a deck, or of the learner's weakest cards, to a new file."""
    file = expand_user(request.file)
    if file.suffix.casefold() not in PAGES:
        page = file.parent / f"{file.stem or 'sheet'}{PAGES[0]}"
        fix = f"{TO_PDF if file.suffix.casefold() == '.pdf' else ''}Write: fretsure sheet {shell_quoted(str(page))}"
        raise UsageProblem(f"{file} does not end in {PAGES[0]}, and a sheet is a page for a browser.", fix)
    write_new(file, _page(request, environment))
    print_lines(environment, [f"The sheet is in {request.file}. Open it in a browser and print it."])


def _page(request: SheetRequest, environment: Environment) -> str:
    from drill.export.sheet import Exercise, mixed, sheet, weakest

    settings = load_settings(environment)
    if request.weakest:
        with open_progress(request.deck, environment) as progress:
            deck, exercise = progress.deck, Exercise.of(weakest(progress))
    else:
        deck = chosen_deck(request.deck, settings)
        exercise = Exercise.of(mixed(deck, environment.rng))
    return sheet(deck, exercise, settings, weak=request.weakest, answers=request.answers)


def _sheet_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE.html", help="the page to write; the file must not exist yet")
    add_deck_option(parser)
    parser.add_argument("--weakest", action="store_true", help="take the cards that come in time least often")
    parser.add_argument("--answers", action="store_true", help="put the answers on a second page")


COMMANDS = (
    Command(
        "sheet",
        "Write a practice page to print.",
        "fretsure sheet thursday.html --deck two-shapes --answers",
        _sheet_options,
        SheetRequest,
        write_sheet,
    ),
)
