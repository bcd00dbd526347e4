"""The command line: what was asked for, and the one function that does it.

Results go to standard output, messages to X does not need are not imported.
"""

from __future__ import annotations

import argparse
import os
import signal
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from drill import __version__
from drill.environment import Environment
from drill.errors import CannotWrite, FretsureError, UsageProblem
from drill.streams import silence, visible

if TYPE_CHECKING:
    from drill.decks import Deck, Focus
    from drill.drawing import Look
    from drill.progress import Progress
    from drill.settings import Settings
    from drill.theory.neck import Neck

INTERRUPTED, BROKEN_PIPE = 130, 141
Command = Callable[[argparse.Namespace, Environment], None]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; returns the exit code. No traceback reaches the learner."""
    options = build_parser().parse_args(arguments)
    environment = Environment.real(options.record, getattr(options, "seed", None))
    try:
        with _stopping_in_order():
            options.command(options, environment)
            environment.stdout.flush()
    except KeyboardInterrupt:
        _complain(environment, "\nfretsure: interrupted. Every answer given so far is kept.")
        return INTERRUPTED
    except BrokenPipeError:  # whoever read our output has left
        silence(environment.stdout)
        return BROKEN_PIPE
    except Exception as error:
        known = _known(error, environment)
        _complain(environment, f"fretsure: {known}")
        return known.exit_code
    return 0


@contextmanager
def _stopping_in_order() -> Iterator[None]:
    """A signal to stop ends a command as Ctrl+C does: the record is closed. One told to be ignored stays ignored."""
    signals = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    heeded = [number for number in signals if signal.getsignal(number) is signal.SIG_DFL]
    for number in heeded:
        signal.signal(number, _stop)
    try:
        yield
    finally:
        for number in heeded:
            signal.signal(number, signal.SIG_DFL)


def _stop(number: int, frame: object) -> None:
    signal.signal(number, signal.SIG_IGN)  # once is enough
    raise KeyboardInterrupt


def _known(error: Exception, environment: Environment) -> FretsureError:
    """The error as one that can be told. What fails without naming a file is our own output."""
    if isinstance(error, OSError) and error.filename is None:
        silence(environment.stdout)
        return CannotWrite(f"The output cannot be written ({error.strerror}).", "Every answer given so far is kept.")
    from drill import faults

    return faults.kept(error, environment.record_path)


def _complain(environment: Environment, sentence: str) -> None:
    with suppress(OSError):
        print(visible(sentence), file=environment.stderr)


def build_parser() -> argparse.ArgumentParser:
    """Every command with its options, its help and an example."""
    everywhere = argparse.ArgumentParser(add_help=False)
    everywhere.add_argument("--record", metavar="PATH", help="the record to use instead of your own")
    parser = argparse.ArgumentParser(
        prog="fretsure",
        parents=[everywhere],
        description="A timed, spaced drill of fretboard theory. Without a command: open the program.",
        epilog="Example: fretsure today --minutes 5",
    )
    parser.add_argument("--version", action="version", version=f"fretsure {__version__}")
    parser.set_defaults(command=open_program)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")

    def add(name: str, command: Command, help: str, example: str) -> argparse.ArgumentParser:
        # SUPPRESS: a --record given before the command must not be forgotten by the command's own default
        own = argparse.ArgumentParser(add_help=False, argument_default=argparse.SUPPRESS)
        own.add_argument("--record", metavar="PATH", help="the record to use instead of your own")
        made = commands.add_parser(
            name, parents=[own], help=help, description=help, epilog=f"Example: {example}", allow_abbrev=False
        )
        made.set_defaults(command=command)
        return made

    _drill_options(add("today", drill_today, "Today's drill.", "fretsure today --minutes 5"))
    focus = add("focus", drill_focus, "A drill of one string, key, family or shape.", 'fretsure focus --key "Bb minor"')
    _drill_options(focus)
    focus.add_argument("--string", metavar="N", action="append", default=[], help="a string, 1 is the highest")
    focus.add_argument("--key", metavar="K", action="append", default=[], help="a key, such as Bb or F#m")
    focus.add_argument("--family", metavar="F", action="append", default=[], help="a family: see fretsure decks --json")
    focus.add_argument("--shape", metavar="S", action="append", default=[], help="a shape, such as string-6")
    focus.add_argument("--weakest", action="store_true", help="whatever is weakest now, with the reason")
    key = add("key", look_up_key, "Where a key lives on the neck.", "fretsure key F#m")
    key.add_argument("key", metavar="KEY", nargs="+", help="a key, such as Bb, F#m or “E minor”")
    key.add_argument("--all", action="store_true", help="all five shapes, one by one")
    _json_option(key)
    _add_lists(add)
    _add_record(add)
    return parser


def _add_lists(add: Callable[..., argparse.ArgumentParser]) -> None:
    decks = add("decks", list_decks, "The decks there are; check a deck file.", "fretsure decks check my-deck.toml")
    decks.add_argument("check", nargs="*", metavar="check FILE", help="check a deck file and name every mistake")
    _json_option(decks)
    cards = add("cards", list_cards, "Every card of a deck with its answers.", "fretsure cards --family shape-anchor")
    cards.add_argument("--deck", metavar="D", help="a deck's name, or the path of a deck file")
    cards.add_argument("--family", metavar="F", action="append", default=[], help="only this family")
    _json_option(cards)


def _add_record(add: Callable[..., argparse.ArgumentParser]) -> None:
    progress = add("progress", show_progress, "Where you stand, and what to drill next.", "fretsure progress --json")
    progress.add_argument("--deck", metavar="D", help="a deck's name, or the path of a deck file")
    progress.add_argument("--card", metavar="ID", help="one card: its history, and why it is or is not asked")
    _json_option(progress)
    handing_on = add(
        "export", export_record, "Hand on figures and a page for a teacher.", "fretsure export for-my-teacher"
    )
    handing_on.add_argument("folder", metavar="DIR", help="the folder to write; it is made if it is not there")
    handing_on.add_argument("--deck", metavar="D", help="a deck's name, or the path of a deck file")
    backup = add("backup", back_up, "Copy the whole record into a file.", "fretsure backup record-copy.sqlite3")
    backup.add_argument("file", metavar="FILE", help="where the copy goes; no file may be there yet")
    restore = add(
        "restore", restore_record, "Take a backup or an exported log back.", "fretsure restore attempts.jsonl"
    )
    restore.add_argument("file", metavar="FILE", help="a backup, or the attempts.jsonl of an export")


def _drill_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--minutes", metavar="N", type=_minutes, help="how long, 1 to 60 minutes")
    parser.add_argument("--deck", metavar="D", help="a deck's name, or the path of a deck file")
    parser.add_argument("--plain", action="store_true", help="line by line, for screen readers and pipes")
    parser.add_argument("--seed", metavar="N", type=int, help="repeat the choices of chance")
    _json_option(parser)


def _json_option(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="JSON, complete and exact, for programs")


def _minutes(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text[:4]) <= 60):
        raise argparse.ArgumentTypeError(f"{text[:20]!r} does not fit: write whole minutes from 1 to 60")
    return int(text)


# -- commands ----------------------------------------------------------------------------------------------------------


def open_program(options: argparse.Namespace, environment: Environment) -> None:
    """The full program; without a terminal, today's drill line by line."""
    if not environment.is_terminal:
        _drill_plainly(options, environment, None)
        return
    _run_screens(environment, None, None, None)


def drill_today(options: argparse.Namespace, environment: Environment) -> None:
    """Today's drill over the whole deck."""
    _drill(options, environment, None)


def drill_focus(options: argparse.Namespace, environment: Environment) -> None:
    """A drill of what the focus leaves of the deck, or of what is weakest."""
    _drill(options, environment, _weakest(options, environment) if options.weakest else _focus(options))


def look_up_key(options: argparse.Namespace, environment: Environment) -> None:
    """Where a key lives, drawn or as JSON."""
    from drill.lookup import KeyView, key_json, key_lines
    from drill.theory.keys import parse_key

    neck, look = _neck_and_look(environment)
    view = KeyView.of(parse_key(" ".join(options.key), look.language), neck)
    if options.json:
        _print(environment, [key_json(view)])
    else:
        _print(environment, key_lines(view, look, all_shapes=options.all, width=_width(environment)))


def list_decks(options: argparse.Namespace, environment: Environment) -> None:
    """The shipped decks, or the check of one file."""
    from pathlib import Path

    from drill import listing, resources

    if options.check:
        if options.check[0] != "check" or len(options.check) != 2:
            raise UsageProblem(
                "decks takes nothing, or: decks check FILE.", "Example: fretsure decks check my-deck.toml"
            )
        _print(environment, listing.check_lines(Path(options.check[1])))
        return
    decks = [_deck(name, _settings(environment)) for name in resources.deck_files()]
    _print(environment, listing.deck_objects(decks) if options.json else listing.deck_lines(decks))


def list_cards(options: argparse.Namespace, environment: Environment) -> None:
    """Every card of a deck."""
    from drill import listing
    from drill.decks import Focus
    from drill.questions.catalogue import find_family

    settings = _settings(environment)
    deck = _deck(options.deck or settings.deck, settings)
    if options.family:
        deck = deck.focused(Focus(families=tuple(find_family(name).id for name in options.family)))
    _print(environment, listing.card_objects(deck) if options.json else listing.card_lines(deck, settings.look))


def show_progress(options: argparse.Namespace, environment: Environment) -> None:
    """Tables for a terminal, or everything as JSON; of the whole deck or of one card."""
    from drill.progress import command

    with _progress(options, environment) as progress:
        if options.card:
            _print(environment, command.card_lines(progress, environment, options.card, as_json=options.json))
        else:
            _print(environment, command.lines(progress, environment, _width(environment), as_json=options.json))


def export_record(options: argparse.Namespace, environment: Environment) -> None:
    """Open data and a page for a teacher."""
    from pathlib import Path

    from drill.export import command

    with _progress(options, environment) as progress:
        _print(environment, command.export_lines(progress, environment, Path(options.folder).expanduser()))


def back_up(options: argparse.Namespace, environment: Environment) -> None:
    """A whole copy of the record."""
    from pathlib import Path

    from drill.record import Record

    target = Path(options.file).expanduser().absolute()
    with Record.open(environment.record_path, environment.now) as record:
        record.backup(target)
        _tell(environment, record.notices)
    _print(environment, [f"The record was copied to {target}."])


def restore_record(options: argparse.Namespace, environment: Environment) -> None:
    """A backup in the record's place, or an exported log merged into it."""
    from pathlib import Path

    from drill.export import command

    _print(environment, command.restore_lines(environment, Path(options.file).expanduser()))


def _drill(options: argparse.Namespace, environment: Environment, focus: Focus | None) -> None:
    if options.json and not options.plain:
        raise UsageProblem("--json goes with --plain.", "Example: fretsure today --plain --json")
    if options.plain or not environment.is_terminal:
        _drill_plainly(options, environment, focus)
    else:
        _run_screens(environment, options.deck, options.minutes, focus, begin=True)


def _drill_plainly(options: argparse.Namespace, environment: Environment, focus: Focus | None) -> None:
    from drill import plain
    from drill.record import Record
    from drill.session import Session

    settings = _settings(environment)
    deck = _deck(getattr(options, "deck", None) or settings.deck, settings)
    with Record.open(environment.record_path, environment.now) as record:
        minutes, seed = getattr(options, "minutes", None), getattr(options, "seed", None)
        session = Session.start(environment, settings, record, deck, minutes, focus, seed)
        run = plain.drill_in_json if getattr(options, "json", False) else plain.drill_in_words
        run(session, environment)
        _tell(environment, record.notices)


def _run_screens(
    environment: Environment, deck: str | None, minutes: int | None, focus: Focus | None, *, begin: bool = False
) -> None:
    from drill.record import Record
    from drill.tui import run_app

    settings = _settings(environment)
    with Record.open(environment.record_path, environment.now) as record:
        run_app(environment, settings, record, deck=deck, minutes=minutes, focus=focus, begin=begin)
        _tell(environment, record.notices)


# -- what several commands need ----------------------------------------------------------------------------------------


def _settings(environment: Environment) -> Settings:
    from drill import settings

    return settings.load(environment.config_path)


def _neck_and_look(environment: Environment) -> tuple[Neck, Look]:
    """The learner's neck; with no settings file the standard one, without loading what reads the file."""
    from drill.drawing import Look
    from drill.theory.neck import STANDARD, Neck

    if not environment.config_path.exists():
        return Neck(STANDARD), Look()
    settings = _settings(environment)
    return settings.neck, settings.look


def _deck(name: str, settings: Settings) -> Deck:
    from drill.decks import load_deck

    return load_deck(name, settings.neck)


@contextmanager
def _progress(options: argparse.Namespace, environment: Environment) -> Iterator[Progress]:
    """The learner's progress through a deck, while their record is open."""
    from drill.progress import Progress
    from drill.recall import Recall
    from drill.record import Record

    settings = _settings(environment)
    deck = _deck(options.deck or settings.deck, settings)
    with Record.open(environment.record_path, environment.now) as record:
        yield Progress.of(record, Recall.of(record).learner, deck, settings, environment.now())
        _tell(environment, record.notices)


def _weakest(options: argparse.Namespace, environment: Environment) -> Focus:
    from drill.questions.wording import to_screen

    if options.string or options.key or options.family or options.shape:
        raise UsageProblem("--weakest chooses the focus by itself.", "Leave out the others: fretsure focus --weakest")
    with _progress(options, environment) as progress:
        weakest = progress.weakest
    language = progress.settings.note_language
    _tell(environment, [f"{to_screen(weakest.label, language)}. {to_screen(weakest.why, language)}"])
    return weakest.focus


def _focus(options: argparse.Namespace) -> Focus:
    from drill.decks import Focus
    from drill.questions.catalogue import find_family
    from drill.theory.keys import parse_key

    focus = Focus(
        strings=tuple(_string(text) for text in options.string),
        keys=tuple(parse_key(text) for text in options.key),
        families=tuple(find_family(name).id for name in options.family),
        shapes=tuple(options.shape),
    )
    if not focus:
        raise UsageProblem("A focus needs something to look at.", 'Example: fretsure focus --string 5 --key "Bb minor"')
    return focus


def _string(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text[:3]) <= 12):
        raise UsageProblem(f"“{text[:20]}” is not a string.", "Strings are numbers; 1 is the highest.")
    return int(text)


def _width(environment: Environment) -> int | None:
    """The columns of the terminal; None where output goes to a file or a pipe."""
    return os.get_terminal_size(environment.stdout.fileno()).columns if environment.stdout.isatty() else None


def _print(environment: Environment, lines: Iterable[str]) -> None:
    for line in lines:
        print(line, file=environment.stdout)


def _tell(environment: Environment, notices: Iterable[str]) -> None:
    for notice in notices:
        _complain(environment, f"fretsure: {notice}")
