"""`decks` and `cards`: lists for people and for programs, and the check of a deck file."""

from __future__ import annotations

import argparse
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from drill.cli.commands import Command, add_deck_option, add_json_option, add_repeated_option
from drill.cli.learner import chosen_deck, load_settings
from drill.cli.output import print_json, print_lines
from drill.errors import BadFile, UsageProblem
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.decks import Deck
    from drill.present.voice import Voice
    from drill.questions.card import Card


class DecksRequest(NamedTuple):
    """What `fretsure decks` was asked for: nothing, or the words `check` and FILE."""

    check: Sequence[str]
    json: bool


class CardsRequest(NamedTuple):
    """What `fretsure cards` was asked for; families as they were typed."""

    deck: str | None
    family: Sequence[str]
    json: bool


def list_decks(request: DecksRequest, environment: Environment) -> None:
    """List the decks that ship with the program, or check one deck file."""
    from drill.decks import shipped_decks

    if request.check:
        if request.check[0] != "check" or len(request.check) != 2:
            raise UsageProblem("decks takes only: check FILE.", "Example: fretsure decks check my-deck.toml")
        print_lines(environment, check_lines(Path(request.check[1])))
        return
    decks = shipped_decks(load_settings(environment).neck)
    if request.json:
        print_json(environment, map(deck_object, decks))
    else:
        print_lines(environment, deck_lines(decks))


def list_cards(request: CardsRequest, environment: Environment) -> None:
    """List every card of a deck."""
    from drill.decks import Focus
    from drill.questions.catalogue import find_family

    settings = load_settings(environment)
    deck = chosen_deck(request.deck, settings)
    if request.family:
        deck = deck.focused(Focus(families=tuple(find_family(name).id for name in request.family)))
    if request.json:
        print_json(environment, (card_object(card, deck) for card in deck.cards()))
    else:
        print_lines(environment, card_lines(deck, settings.voice))


def deck_lines(decks: Iterable[Deck]) -> Iterator[str]:
    """Each deck with its number of cards and what it is about."""
    from drill.present.figures import how_many

    for deck in decks:
        yield f"{deck.id}: {deck.title}, {how_many(len(deck.entries), 'card')}, stage {deck.stage}"
        yield f"    {deck.about}"
        yield from (f"    left out: {sentence}" for sentence in deck.left_out)


def deck_object(deck: Deck) -> dict[str, Any]:
    """A deck as one JSON object; its keys are listed in the README."""
    return {
        "deck": deck.id,
        "title": deck.title,
        "about": deck.about,
        "stage": deck.stage,
        "tuning": deck.neck.tuning.id,
        "cards": len(deck.entries),
        "families": list(dict.fromkeys(entry.item.family for entry in deck.entries.values())),
        "left_out": list(deck.left_out),
    }


def check_lines(path: Path) -> Iterator[str]:
    """Say that a deck file has no mistakes; raises `BadFile` with every mistake in it, one a line."""
    from drill.decks import check_deck
    from drill.decks.checks import remarks

    problems = check_deck(path)
    if problems:
        first, *others = problems
        more = "".join(f"\n{path}, {each.field}: {each.problem} {each.fix}" for each in others)
        raise BadFile(str(path), first.field, first.problem, first.fix + more)
    yield from remarks(path)
    yield f"{path}: no problems found."


def card_lines(deck: Deck, voice: Voice) -> Iterator[str]:
    """Each card with its answers."""
    for card in deck.cards():
        answers = " or ".join(card.kind.show(answer, voice.language) for answer in card.accepts)
        yield f"{voice.say(card.prompt)} {answers}"


def card_object(card: Card, deck: Deck) -> dict[str, Any]:
    """A card of a deck as one JSON object; its keys are listed in the README."""
    from drill.questions.facets import as_plain
    from drill.questions.wording import to_ascii

    return {
        "card": card.id,
        "family": card.family,
        "prompt": to_ascii(card.prompt),
        "facets": as_plain(card.facets),
        "accepts": list(card.accepts),
        "because": [to_ascii(step) for step in card.because],
        "target_s": deck.entries[card.id].item.target_s,
    }


def _decks_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("check", nargs="*", metavar="check FILE", help="check a deck file and list every mistake")
    add_json_option(parser)


def _cards_options(parser: argparse.ArgumentParser) -> None:
    add_deck_option(parser)
    add_repeated_option(parser, "--family", "F", "only this family")
    add_json_option(parser)


COMMANDS = (
    Command(
        "decks",
        "List decks, or check a deck file.",
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
