"""The commands: each asks the rooms it needs and prints what they say. A room no command needs is not imported.

Every command takes the parsed options and the environment, and raises a `FretsureError` when it cannot be done.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

from drill.errors import UsageProblem
from drill.system.environment import Environment, expand_user, resolved
from drill.system.slow_notice import notify_if_slow
from drill.system.streams import visible

if TYPE_CHECKING:
    from drill.decks import Deck, Focus
    from drill.present.neck_drawing import Look
    from drill.progress import Progress
    from drill.record import Record
    from drill.settings import Settings
    from drill.theory.names import NoteLanguage
    from drill.theory.neck import Neck


def run(options: argparse.Namespace, environment: Environment) -> None:
    """The command that was asked for, on the learner's record or on an invented one."""
    if not options.demo:
        options.command(options, environment)
        return
    if options.record:
        raise UsageProblem("--demo brings a record of its own.", "Leave out --record, or --demo.")
    from drill.practice.demo import demonstration

    with demonstration(environment) as shown:
        _tell(environment, ["This record is invented, and is thrown away at the end."])
        options.command(options, shown)


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
    language = _settings(environment).note_language
    _drill(options, environment, _weakest(options, environment) if options.weakest else _focus(options, language))


def look_up_key(options: argparse.Namespace, environment: Environment) -> None:
    """Where a key lives, drawn or as JSON."""
    from drill.lookup.keys import KeyView, key_json, key_lines
    from drill.theory.keys import parse_key

    neck, look = _neck_and_look(environment)
    look = look._replace(show=options.show or look.show)
    if options.scale or options.per_string or options.index_fret:
        _look_up_scale(options, environment, neck, look)
        return
    view = KeyView.of(parse_key(" ".join(options.key), look.language), neck)
    if options.json:
        _print(environment, [key_json(view)])
    else:
        _print(environment, key_lines(view, look, all_shapes=options.all, width=environment.columns))


def _look_up_scale(options: argparse.Namespace, environment: Environment, neck: Neck, look: Look) -> None:
    from drill.lookup.scales import ScaleView, scale_json, scale_lines
    from drill.theory.keys import parse_tonic

    tonic, mode = parse_tonic(" ".join(options.key), look.language)
    name = options.scale or f"{mode or 'major'} pentatonic"
    view = ScaleView.of(tonic, name, neck, count=options.per_string, index_fret=options.index_fret)
    if options.json:
        _print(environment, [scale_json(view)])
    else:
        _print(environment, scale_lines(view, look, environment.columns))


def look_up_loop(options: argparse.Namespace, environment: Environment) -> None:
    """Which key a chord loop is in, and where the finger goes, drawn or as JSON."""
    from drill.lookup.loops import LoopView, loop_json, loop_lines
    from drill.theory.chords import parse_chords

    neck, look = _neck_and_look(environment)
    look = look._replace(show=options.show or look.show)
    view = LoopView.of(parse_chords(" ".join(options.chords), look.language), neck)
    if options.json:
        _print(environment, [loop_json(view)])
    else:
        _print(environment, loop_lines(view, look, width=environment.columns))


def list_decks(options: argparse.Namespace, environment: Environment) -> None:
    """The shipped decks, or the check of one file."""
    from pathlib import Path

    from drill.cli import listing
    from drill.decks import shipped_decks

    if options.check:
        if options.check[0] != "check" or len(options.check) != 2:
            raise UsageProblem(
                "decks takes nothing, or: decks check FILE.", "Example: fretsure decks check my-deck.toml"
            )
        _print(environment, listing.check_lines(Path(options.check[1])))
        return
    decks = shipped_decks(_settings(environment).neck)
    _print(environment, listing.deck_objects(decks) if options.json else listing.deck_lines(decks))


def list_cards(options: argparse.Namespace, environment: Environment) -> None:
    """Every card of a deck."""
    from drill.cli import listing
    from drill.decks import Focus
    from drill.questions.catalogue import find_family

    settings = _settings(environment)
    deck = _deck(options.deck or settings.deck, settings)
    if options.family:
        deck = deck.focused(Focus(families=tuple(find_family(name).id for name in options.family)))
    _print(environment, listing.card_objects(deck) if options.json else listing.card_lines(deck, settings.look))


def show_progress(options: argparse.Namespace, environment: Environment) -> None:
    """Tables for a terminal, or everything as JSON; of the whole deck or of one card."""
    from drill.cli import progress_output

    with _progress(options, environment) as progress:
        if options.card:
            lines = progress_output.card_lines(progress, environment, options.card, as_json=options.json)
        else:
            lines = progress_output.lines(progress, environment, environment.columns, as_json=options.json)
        with notify_if_slow(environment.stderr):
            ready = list(lines)  # the log is read on the way
        _print(environment, ready)


def export_record(options: argparse.Namespace, environment: Environment) -> None:
    """Open data and a page for a teacher."""
    from drill.cli import export_output

    with _progress(options, environment) as progress:
        _print(environment, export_output.export_lines(progress, environment, expand_user(options.folder)))


def back_up(options: argparse.Namespace, environment: Environment) -> None:
    """A whole copy of the record."""
    target = resolved(expand_user(options.file))
    with _record(environment) as record:
        record.backup(target)
    _print(environment, [f"The record was copied to {target}."])


def restore_record(options: argparse.Namespace, environment: Environment) -> None:
    """A backup in the record's place, or an exported log merged into it."""
    from drill.cli import export_output

    _print(environment, export_output.restore_lines(environment, expand_user(options.file)))


def _drill(options: argparse.Namespace, environment: Environment, focus: Focus | None) -> None:
    if options.plain or options.json or not environment.is_terminal:
        _drill_plainly(options, environment, focus)
    else:
        _run_screens(environment, options.deck, options.minutes, focus, begin=True)


def _drill_plainly(options: argparse.Namespace, environment: Environment, focus: Focus | None) -> None:
    from drill.cli import line_mode
    from drill.practice.session import Session
    from drill.system.signals import pause_while_suspended

    settings = _settings(environment)
    deck = _deck(getattr(options, "deck", None) or settings.deck, settings)
    as_json = getattr(options, "json", False)
    with _record(environment) as record, _clock_of_a_drill(environment, as_json) as monotonic:
        environment = environment._replace(monotonic=monotonic)
        minutes = getattr(options, "minutes", None)
        with notify_if_slow(environment.stderr):
            session = Session.start(environment, settings, record, deck, minutes, focus)
        run = line_mode.drill_in_json if as_json else line_mode.drill_in_words
        with pause_while_suspended(session):
            run(session, environment)


@contextmanager
def _clock_of_a_drill(environment: Environment, as_json: bool) -> Iterator[Callable[[], float]]:
    """The clock that measures thinking: a person's leaves out stops; a program's may run fast and is taken as it is."""
    from drill.system.steady import steady_clock

    if as_json:
        yield environment.monotonic
        return
    with steady_clock(environment.monotonic) as steady:
        yield steady


def _run_screens(
    environment: Environment, deck: str | None, minutes: int | None, focus: Focus | None, *, begin: bool = False
) -> None:
    from drill.practice.learner_store import LearnerStore
    from drill.system.steady import steady_clock
    from drill.tui import run_app

    settings = _settings(environment)
    with _record(environment) as record, steady_clock(environment.monotonic) as steady:
        environment = environment._replace(monotonic=steady)
        with notify_if_slow(environment.stderr):
            recall = LearnerStore.begin(record, environment.monotonic)  # here, where the sentence can be seen
        run_app(environment, settings, record, recall=recall, deck=deck, minutes=minutes, focus=focus, begin=begin)


# -- what several commands need ----------------------------------------------------------------------------------------


def _settings(environment: Environment) -> Settings:
    from drill import settings

    return settings.load(environment.config_path)


def _neck_and_look(environment: Environment) -> tuple[Neck, Look]:
    """The learner's neck; with no settings file the standard one, without loading what reads the file."""
    from drill.present.neck_drawing import Look
    from drill.theory.neck import STANDARD, Neck

    if not environment.config_path.exists():
        return Neck(STANDARD), Look()
    settings = _settings(environment)
    return settings.neck, settings.look


def _deck(name: str, settings: Settings) -> Deck:
    from drill.decks import load_deck

    return load_deck(name, settings.neck)


@contextmanager
def _record(environment: Environment) -> Iterator[Record]:
    """The learner's record while it is open. What it has to say is told once it is closed, whatever became of it."""
    from drill.record import Record

    record = Record.open(environment.record_path, environment.now)
    try:
        with record:
            yield record
    finally:
        _tell(environment, record.notices)


@contextmanager
def _progress(options: argparse.Namespace, environment: Environment, *, exact: bool = True) -> Iterator[Progress]:
    """The learner's progress through a deck, while their record is open.

    If it need not be `exact`, a long log that must be read anew is read for two seconds only.
    """
    from drill.practice.learner_store import LearnerStore
    from drill.progress import Progress

    settings = _settings(environment)
    deck = _deck(options.deck or settings.deck, settings)
    with _record(environment) as record:
        with notify_if_slow(environment.stderr):
            recall = LearnerStore.of(record) if exact else LearnerStore.begin(record, environment.monotonic)
        yield Progress(recall.learner, record, deck, settings, environment.now(), recall.foretold, options.deck)


def _weakest(options: argparse.Namespace, environment: Environment) -> Focus:
    from drill.questions.wording import to_screen

    if options.string or options.key or options.family or options.shape:
        raise UsageProblem("--weakest chooses the focus by itself.", "Leave out the others: fretsure focus --weakest")
    with _progress(options, environment, exact=False) as progress:
        weakest = progress.weakest
    language = progress.settings.note_language
    _tell(environment, [f"{to_screen(weakest.label, language)}. {to_screen(weakest.why, language)}"])
    return weakest.focus


def _focus(options: argparse.Namespace, language: NoteLanguage) -> Focus:
    from drill.decks import Focus
    from drill.questions.catalogue import find_family
    from drill.theory.keys import parse_key

    focus = Focus(
        strings=tuple(_string(text) for text in options.string),
        keys=tuple(parse_key(text, language) for text in options.key),
        families=tuple(find_family(name).id for name in options.family),
        shapes=tuple(options.shape),
    )
    if not focus:
        example = parse_key("Bb minor").typed_in(language)
        raise UsageProblem(
            "A focus needs something to look at.", f'Example: fretsure focus --string 5 --key "{example}"'
        )
    return focus


def _string(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text[:3]) <= 12):
        raise UsageProblem(f"“{text[:20]}” is not a string.", "Strings are numbers; 1 is the highest.")
    return int(text)


def _print(environment: Environment, lines: Iterable[str]) -> None:
    for line in lines:
        print(visible(line), file=environment.stdout)


def _tell(environment: Environment, notices: Iterable[str]) -> None:
    for notice in notices:
        complain(environment, f"fretsure: {notice}")


def complain(environment: Environment, sentence: str) -> None:
    """Say a sentence on standard error; one that cannot be said is let go."""
    with suppress(OSError):
        print(visible(sentence), file=environment.stderr)
