"""What a drill of a focus would ask: its kinds of question with their numbers, its questions, where they lie."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from drill.decks.deck import Deck
from drill.decks.focus import Focus
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.facts import spot_fact
from drill.questions.picture import Mark, Picture
from drill.theory.neck import Spot

MOST_PROMPTS = 40
"""So many questions fill the highest window."""


class Preview(NamedTuple):
    """A drill before it begins. `prompts` are its first questions in teaching order, with notes marked."""

    picture: Picture
    kinds: tuple[tuple[str, int], ...]
    prompts: tuple[str, ...]


def preview(deck: Deck, focus: Focus) -> Preview:
    """What a drill of the deck with this focus asks. Raises UsageProblem for what the instrument lacks."""
    asked = deck.in_focus(deck.known(focus))
    kinds = Counter(FAMILIES[entry.item.family].title for entry in asked.values())
    cards = [deck.card(card_id) for card_id in asked]
    prompts = tuple(card.prompt for card in cards[:MOST_PROMPTS])
    facts = {fact for entry in asked.values() for fact in entry.item.facts}
    return Preview(_agreed(cards) or _bare(deck, facts, cards), tuple(kinds.items()), prompts)


def _agreed(cards: Iterable[Card]) -> Picture:
    """The answers of all cards in one picture; empty where a spot is a tonic to one of them and not to another."""
    marks: dict[Spot, Mark] = {}
    for mark in (mark for card in cards for mark in card.answer_picture):
        there = marks.get(mark.spot)
        if there is None or there.finger is None:
            marks[mark.spot] = mark
        elif mark.finger is not None and mark.role != there.role:
            return ()
    return tuple(marks.values())


def _bare(deck: Deck, facts: set[str], cards: Iterable[Card]) -> Picture:
    """The spots that cards rest on, without a word about them; else those that their answers show."""
    neck = deck.neck
    every = (Spot(string, fret) for string in neck.tuning.strings for fret in range(neck.last_fret + 1))
    spots = [spot for spot in every if spot_fact(neck, spot) in facts]
    spots = spots or list(dict.fromkeys(mark.spot for card in cards for mark in card.answer_picture))
    return tuple(Mark(spot, "note") for spot in spots)
