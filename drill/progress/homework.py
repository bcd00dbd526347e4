"""How far homework has come: what a teacher set with the deck, counted as of now."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any, NamedTuple

from drill.decks import Homework
from drill.progress.next_step import READY
from drill.progress.overview import Progress

DAYS_BY_NAME = 7
"""A day less than a week ahead is told by its name alone."""


class Standing(NamedTuple):
    """Homework, and how many of what its goal counts are `done` and `wanted`; None without a goal."""

    homework: Homework
    today: date
    done: int | None = None
    wanted: int | None = None

    @property
    def reached(self) -> bool | None:
        """Whether the goal is reached; None without a goal."""
        return None if self.done is None or self.wanted is None else self.done >= self.wanted

    @property
    def is_over(self) -> bool:
        """Whether its last day is past."""
        return self.homework.until is not None and self.homework.until < self.today

    def as_object(self) -> dict[str, Any]:
        """It as plain values, for programs."""
        return {**self.homework.as_object(), "done": self.done, "wanted": self.wanted, "reached": self.reached}


def standing(progress: Progress) -> Standing | None:
    """How far the homework of a whole deck has come; None if its deck sets none."""
    homework = progress.deck.homework
    if homework is None:
        return None
    if homework.goal is None:
        return Standing(homework, progress.today)
    done, most = _keys(progress) if homework.goal.of == "keys" else (progress.whole.fluent, progress.whole.cards)
    wanted = min(homework.goal.number or most, most)  # an instrument may be asked less than the teacher's
    return Standing(homework, progress.today, min(done, wanted), wanted)


def ready_keys(progress: Progress) -> Iterator[tuple[str, bool]]:
    """Each key that the deck asks whole, and whether it is ready, as far as the deck asks what it takes."""
    whole = progress.deck.whole_keys
    for row in progress.keys:
        if row.key in whole:
            yield row.key.name, (row.by_deck or 0.0) >= READY


def _keys(progress: Progress) -> tuple[int, int]:
    found = dict(ready_keys(progress))
    return sum(found.values()), len(found)


def standing_sentence(now: Standing) -> str:
    """What is set and how far it has come: 'Set by Ms Adler until Thursday: 3 of 5 keys ready.'"""
    homework = now.homework
    by = f" by {homework.by}" if homework.by else ""
    goal = homework.goal
    if goal is None or now.done is None or now.wanted is None:
        return f"Set{by}{_until(now)}."
    if now.reached:
        reached = ", and reached" if now.is_over else " and reached"
        return f"Set{by}{_until(now)}{reached}: {goal.words(now.wanted)}."
    return f"Set{by}{_until(now)}: {now.done} of {goal.words(now.wanted)}."


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


def homework_words(progress: Progress) -> str:
    """The sentence, and the teacher's note after it; empty if the deck sets nothing."""
    now = standing(progress)
    if now is None:
        return ""
    note = f" “{now.homework.note}”" if now.homework.note else ""
    return standing_sentence(now) + note
