"""What the next drill is about: keys, or strings in a deck that asks of no key, or kinds of question."""

from __future__ import annotations

from collections.abc import Iterable

from drill.decks import Entry
from drill.memory import Preview
from drill.present.today import Today, Topic
from drill.progress.overview import Progress
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import string_of
from drill.theory.keys import Key

FILLED = 0.8
"""A drill lasts its whole time if what it has to ask fills so much of it: misses and slow answers come again."""


def todays(progress: Progress, preview: Preview, minutes: int, answers: int | None = None) -> Today:
    """The topics of the drill that the planner foresees, and its length in minutes and in answers.

    Where it may end early, nobody can tell how many answers it will take.
    """
    entries = progress.deck.entries
    new, back = (topics(entries[card] for card in cards) for cards in (preview.new, preview.back))
    met = {topic_of(status.entry) for status in progress.statuses if status.seen}
    first = tuple(topic for topic in new if topic not in met)
    more = () if first else new
    return Today(
        first=first,
        more=more,
        back=tuple(topic for topic in _weakest_first(back, progress) if topic not in more),
        answers=answers if answers and preview.needed >= FILLED * answers else None,
        minutes=minutes,
        asks=preview.asks,
    )


def _weakest_first(found: tuple[Topic, ...], progress: Progress) -> tuple[Topic, ...]:
    """Keys by their readiness; what has none keeps its place behind them."""
    readiness = {row.key: row.readiness for row in progress.keys}
    return tuple(sorted(found, key=lambda topic: readiness.get(topic, 1.0) if isinstance(topic, Key) else 1.0))


def topics(entries: Iterable[Entry]) -> tuple[Topic, ...]:
    """What these cards are about, each topic once; where some are about keys, the keys alone."""
    found = dict.fromkeys(map(topic_of, entries))
    keys = [topic for topic in found if isinstance(topic, Key)]
    return tuple(keys or found)


def topic_of(entry: Entry) -> Topic:
    """What a card is about."""
    key = getattr(entry.facets, "key", None)
    if isinstance(key, Key):
        return key
    return string_of(entry.facets) or FAMILIES[entry.item.family].title
