"""How far homework has come: what a teacher set with a deck, counted as of now.

Standing      what is set with a deck, and how far it has come
assignments   the same of the deck in use and of every added one, what is to be done first first
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any, NamedTuple

from drill.decks import Deck, Homework, decks_with_homework
from drill.decks.homework import is_over, is_reached
from drill.present.figures import how_many
from drill.progress.next_step import READY
from drill.progress.overview import Progress

DAYS_BY_NAME = 7
"""A day less than a week ahead is told by its name alone."""
LONG_PAST_DAYS = 14
"""Homework that has been over for more days is not spoken of any more; exports keep it."""
MOST_TOLD = 3
"""Home has room for so many sentences about homework."""


class Standing(NamedTuple):
    """Homework, and how many of what its goal counts are `done` and `wanted`; None without a goal."""

    homework: Homework
    today: date
    done: int | None = None
    wanted: int | None = None
    seen: int = 0
    """How many cards of its deck were asked so far."""
    cards: int = 0

    @property
    def reached(self) -> bool | None:
        """Whether the goal is reached; None without a goal."""
        return is_reached(self.done, self.wanted)

    @property
    def is_over(self) -> bool:
        """Whether its last day is past."""
        return is_over(self.homework.until, self.today)

    @property
    def is_long_past(self) -> bool:
        """Whether its last day is so long past that nobody needs to hear of it."""
        return is_over(self.homework.until, self.today, LONG_PAST_DAYS)

    def as_object(self) -> dict[str, Any]:
        """It as plain values, for programs."""
        return {**self.homework.as_object(), "done": self.done, "wanted": self.wanted, "reached": self.reached}


def standing(progress: Progress) -> Standing | None:
    """How far the homework of a whole deck has come; None if its deck sets none."""
    homework = progress.deck.homework
    if homework is None:
        return None
    counts = progress.whole.seen, progress.whole.cards
    if homework.goal is None:
        return Standing(homework, progress.today, None, None, *counts)
    done, most = _keys(progress) if homework.goal.of == "keys" else (progress.whole.fluent, progress.whole.cards)
    wanted = min(homework.goal.number or most, most)  # an instrument may be asked less than the teacher's
    return Standing(homework, progress.today, min(done, wanted), wanted, *counts)


class Assignment(NamedTuple):
    """A deck with which something is set, and how far that has come."""

    deck: Deck
    now: Standing
    in_use: bool
    """Whether it is the deck that is drilled anyway."""

    @property
    def sentence(self) -> str:
        """What is set, by the deck's title unless it is the one in use, and the teacher's note after it."""
        words = standing_sentence(self.now, "Set" if self.in_use else f"“{self.deck.title}”, set")
        return words + (f" “{self.now.homework.note}”" if self.now.homework.note else "")

    def as_object(self) -> dict[str, Any]:
        """It as plain values, for programs."""
        named = {"deck": self.deck.id, "title": self.deck.title}
        return named | self.now.as_object() | {"seen": self.now.seen, "cards": self.now.cards}


def assignments(progress: Progress, since: date = date.min) -> tuple[Assignment, ...]:
    """What is set with the deck in use, and with every added one that was not over before `since`.

    What is to be done first comes first.
    """
    decks = {deck.id: deck for deck in decks_with_homework(progress.settings.neck, progress.bar_s, since)}
    if progress.deck.homework:
        decks[progress.deck.id] = progress.deck
    found = []
    for deck in decks.values():
        here = progress if deck is progress.deck else replace(progress, deck=deck, deck_option=deck.id)
        if (now := standing(here)) is not None:
            found.append(Assignment(deck, now, deck is progress.deck))
    return tuple(sorted(found, key=_urgency))


def _urgency(each: Assignment) -> tuple[bool, bool, date]:
    """What is over comes last, what is reached before it; of the others, what has the earliest last day first."""
    return each.now.is_over, bool(each.now.reached), each.now.homework.until or date.max


def told(progress: Progress) -> tuple[Assignment, ...]:
    """Those that a learner should still hear of; no deck is laid out for what nobody hears of any more."""
    found = assignments(progress, progress.today - timedelta(days=LONG_PAST_DAYS))
    return tuple(each for each in found if not each.now.is_long_past)


def assignment_lines(found: Sequence[Assignment]) -> Iterator[str]:
    """A sentence for each of the first few, and how many more there are."""
    yield from (each.sentence for each in found[:MOST_TOLD])
    if len(found) > MOST_TOLD:
        yield f"And {len(found) - MOST_TOLD} more: `fretsure decks` lists them."


def ready_keys(progress: Progress) -> Iterator[tuple[str, bool]]:
    """Each key that the deck asks whole, and whether it is ready, as far as the deck asks what it takes."""
    whole = progress.deck.whole_keys
    for row in progress.keys:
        if row.key in whole:
            yield row.key.name, (row.by_deck or 0.0) >= READY


def _keys(progress: Progress) -> tuple[int, int]:
    found = dict(ready_keys(progress))
    return sum(found.values()), len(found)


def standing_sentence(now: Standing, what: str = "Set") -> str:
    """What is set and how far it has come: 'Set by Ms Adler until Thursday: 3 of 5 keys ready.'"""
    homework = now.homework
    by = f" by {homework.by}" if homework.by else ""
    goal = homework.goal
    if goal is None or now.done is None or now.wanted is None:
        asked = f": {now.seen} of {how_many(now.cards, 'card')} asked" if now.cards else ""
        return f"{what}{by}{_until(now)}{asked}."
    if now.reached:
        reached = ", and reached" if now.is_over else " and reached"
        return f"{what}{by}{_until(now)}{reached}: {goal.words(now.wanted)}."
    return f"{what}{by}{_until(now)}: {now.done} of {goal.words(now.wanted)}."


def _until(now: Standing) -> str:
    """The last day in words, seen from today; a day that is over is told by its date."""
    day = now.homework.until
    if day is None:
        return ""
    ahead = (day - now.today).days
    if ahead == 0:
        return " until today"
    if ahead == 1:
        return " until tomorrow"
    year = f" {day.year}" if day.year != now.today.year else ""
    if 0 < ahead < DAYS_BY_NAME:
        return f" until {day:%A}"
    return f" until {day.day} {day:%B}{year}{', now over' if now.is_over else ''}"
