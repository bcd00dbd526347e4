"""Lists of decks and cards, for people and for programs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path

from drill.decks import Deck, check_deck
from drill.errors import BadFile
from drill.present.figures import how_many
from drill.present.neck_drawing import Look
from drill.questions.facets import as_plain
from drill.questions.wording import to_ascii, to_screen


def deck_lines(decks: Iterable[Deck]) -> Iterator[str]:
    """Each deck with what it holds."""
    for deck in decks:
        yield f"{deck.id}: {deck.title}, {how_many(len(deck.entries), 'card')}, stage {deck.stage}"
        yield f"    {deck.about}"
        yield from (f"    left out: {sentence}" for sentence in deck.left_out)


def deck_objects(decks: Iterable[Deck]) -> Iterator[str]:
    """Each deck as a JSON line."""
    for deck in decks:
        families = list(dict.fromkeys(entry.item.family for entry in deck.entries.values()))
        yield json.dumps(
            {
                "deck": deck.id,
                "title": deck.title,
                "about": deck.about,
                "stage": deck.stage,
                "tuning": deck.neck.tuning.id,
                "cards": len(deck.entries),
                "families": families,
                "left_out": list(deck.left_out),
            }
        )


def check_lines(path: Path) -> Iterator[str]:
    """That a deck file has no mistakes; raises `BadFile` with every mistake in it, one a line."""
    problems = check_deck(path)
    if problems:
        first, *others = problems
        more = "".join(f"\n{path}, {each.field}: {each.problem} {each.fix}" for each in others)
        raise BadFile(str(path), first.field, first.problem, first.fix + more)
    yield f"{path}: no problems found."


def card_lines(deck: Deck, look: Look) -> Iterator[str]:
    """Each card with its answers."""
    for card in deck.cards():
        answers = " or ".join(card.kind.show(answer, look.language) for answer in card.accepts)
        yield f"{to_screen(card.prompt, look.language)} {answers}"


def card_objects(deck: Deck) -> Iterator[str]:
    """Each card as a JSON line."""
    for card in deck.cards():
        yield json.dumps(
            {
                "card": card.id,
                "family": card.family,
                "prompt": to_ascii(card.prompt),
                "facets": as_plain(card.facets),
                "accepts": list(card.accepts),
                "because": [to_ascii(step) for step in card.because],
                "target_s": deck.entries[card.id].item.target_s,
            }
        )
