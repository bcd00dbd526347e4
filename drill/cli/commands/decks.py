"""`decks` and `cards`: lists for people and for programs; deck files checked, added and removed."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from drill.cli.commands import Command, add_deck_option, add_json_option, add_repeated_option
from drill.cli.learner import chosen_deck, load_settings
from drill.cli.output import notify, print_json, print_lines
from drill.errors import UsageProblem
from drill.system.environment import Environment, expand_user

if TYPE_CHECKING:
    from datetime import date

    from drill.decks import Deck
    from drill.present.voice import Voice
    from drill.questions.card import Card


ACTIONS = {"check": "FILE", "add": "FILE", "remove": "NAME", "schema": ""}
"""What `fretsure decks` does besides listing them, and what each takes."""


class DecksRequest(NamedTuple):
    """What `fretsure decks` was asked for: nothing, or one of `ACTIONS` with its file or name."""

    action: str | None
    target: str | None
    json: bool
    replace: bool = False


class CardsRequest(NamedTuple):
    """What `fretsure cards` was asked for; families as they were typed."""

    deck: str | None
    family: Sequence[str]
    json: bool


def list_decks(request: DecksRequest, environment: Environment) -> None:
    """List the decks, or do with one of them what was asked."""
    if request.replace and request.action != "add":
        raise UsageProblem("--replace goes with add alone.", "Write: fretsure decks add FILE --replace")
    if request.action is not None:
        print_lines(environment, _act(request, environment))
        return
    from drill.decks import added_decks, shipped_decks

    neck = load_settings(environment).neck
    added, errors = added_decks(neck)
    notify(environment, errors)
    decks = [*shipped_decks(neck), *added]
    if request.json:
        from drill.cli.reference.objects import DECK
        from drill.present.tables import as_object

        print_json(environment, (as_object(DECK, deck) for deck in decks))
    else:
        print_lines(environment, deck_lines(decks))


def _act(request: DecksRequest, environment: Environment) -> Iterator[str]:
    """Check, add or remove a deck, or print the schema. Raises UsageProblem where FILE or NAME does not fit."""
    from drill.present.dates import local

    wanted = ACTIONS[request.action or ""]
    if bool(wanted) != bool(request.target):
        problem = f"takes {wanted}" if wanted else "takes nothing more"
        raise UsageProblem(
            f"decks {request.action} {problem}.", f"Write: fretsure decks {request.action} {wanted}".strip()
        )
    target = request.target or ""
    if request.action == "check":
        return check_lines(expand_user(target), local(environment.now(), environment).date())
    if request.action == "add":
        return add_lines(expand_user(target), environment, replace=request.replace)
    return remove_lines(target, environment) if request.action == "remove" else schema_lines()


def list_cards(request: CardsRequest, environment: Environment) -> None:
    """List every card of a deck."""
    from drill.decks import Focus
    from drill.questions.catalogue import find_family

    settings = load_settings(environment)
    deck = chosen_deck(request.deck, settings)
    if request.family:
        deck = deck.focused(Focus(families=tuple(find_family(name).id for name in request.family)))
    if request.json:
        from drill.cli.reference.objects import CARD
        from drill.present.tables import as_object

        print_json(environment, (as_object(CARD, row) for row in listed(deck)))
    else:
        print_lines(environment, card_lines(deck, settings.voice))


class Listed(NamedTuple):
    """A card, and the seconds within which an answer is in time."""

    card: Card
    target_s: float


def listed(deck: Deck) -> Iterator[Listed]:
    """Every card of a deck as programs are told of it."""
    return (Listed(deck.card(card_id), entry.item.target_s) for card_id, entry in deck.entries.items())


def deck_lines(decks: Iterable[Deck]) -> Iterator[str]:
    """Each deck with its number of cards and what it is about."""
    from drill.present.figures import how_many

    for deck in decks:
        yield f"{deck.id}: {deck.title}, {how_many(len(deck.entries), 'card')}, stage {deck.stage}"
        yield f"    {deck.about}"
        if deck.homework:
            yield f"    {deck.homework.sentence}"
        yield from (f"    left out: {sentence}" for sentence in deck.left_out)


def check_lines(path: Path, today: date) -> Iterator[str]:
    """Say that a deck file has no mistakes, and, as notes, what in it does nothing `today`.

    Raises `BadFile` with every mistake in it, one a line.
    """
    from drill.decks.adding import refuse_mistakes
    from drill.decks.checks import remarks
    from drill.present.figures import how_many

    refuse_mistakes(path)
    notes = remarks(path, today)
    yield from (f"Note: {each}" for each in notes)
    yield f"{path}: no problems found" + (f", {how_many(len(notes), 'note')}." if notes else ".")


def add_lines(path: Path, environment: Environment, *, replace: bool = False) -> Iterator[str]:
    """Put a deck file among the decks, and say how to drill it. Raises `BadFile` and `CannotWrite`."""
    from drill.decks.adding import add_deck
    from drill.decks.checks import remarks
    from drill.present.dates import local
    from drill.present.figures import how_many
    from drill.system import resources

    before = resources.added_deck_files()
    name = add_deck(path, replace=replace)
    deck = chosen_deck(name, load_settings(environment))
    cards = how_many(len(deck.entries), "card")
    if name in before:
        yield f"“{deck.title}” is now your deck {name}: {cards}. Your answers to the one before stay."
    else:
        yield f"Added “{deck.title}” to your decks as {name}: {cards}."
    yield from (f"Note: {each}" for each in remarks(path, local(environment.now(), environment).date()))
    yield f"Drill it: fretsure today --deck {name}"
    if deck.homework:
        yield "Home shows what it asks of you and how far you have come; h drills it there."
    yield "For every day: choose it under Decks in the program."


def remove_lines(name: str, environment: Environment) -> Iterator[str]:
    """Take a deck out that was added; the daily drill then goes back to the usual deck."""
    from drill import settings as settings_file
    from drill.decks.adding import remove_deck

    settings = load_settings(environment)
    remove_deck(name)
    yield f"The deck {name} is no longer among your decks. Your answers stay in the record."
    if settings.deck == name:
        usual = settings_file.Settings().deck
        settings_file.save(settings._replace(deck=usual), environment.config_path)
        yield f"It was your daily drill, which is now {usual} again."


def schema_lines() -> Iterator[str]:
    """The JSON Schema of deck files."""
    import json

    from drill.decks.schema import deck_schema

    yield from json.dumps(deck_schema(), indent=2).splitlines()


def card_lines(deck: Deck, voice: Voice) -> Iterator[str]:
    """Each card with its answers."""
    for card in deck.cards():
        answers = " or ".join(card.kind.show(answer, voice.language) for answer in card.accepts)
        yield f"{voice.say(card.prompt)} {answers}"


def _decks_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "action",
        nargs="?",
        choices=tuple(ACTIONS),
        help="check FILE: list every mistake in a deck file; add FILE: keep it among your decks; "
        "remove NAME: take it out again; schema: print the format as JSON Schema, for editors",
    )
    parser.add_argument("target", nargs="?", metavar="FILE or NAME", help="the deck file, or the name of an added deck")
    parser.add_argument("--replace", action="store_true", help="with add: put it in the place of the deck it updates")
    add_json_option(parser)


def _cards_options(parser: argparse.ArgumentParser) -> None:
    add_deck_option(parser)
    add_repeated_option(parser, "--family", "F", "only this family")
    add_json_option(parser)


COMMANDS = (
    Command(
        "decks",
        "List, check, add and remove decks.",
        "fretsure decks check my-deck.toml",
        _decks_options,
        DecksRequest,
        list_decks,
    ),
    Command(
        "cards",
        "List every card of a deck with its answers.",
        "fretsure cards --family shape-anchor",
        _cards_options,
        CardsRequest,
        list_cards,
    ),
)
