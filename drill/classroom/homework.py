"""Homework as an export tells it: what was set with which deck, by whom, until when, and how far it had come by then.

An export of an earlier release tells only of the deck it was made for, and names no deck.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any, NamedTuple

from drill.decks.homework import is_over, is_reached
from drill.present.figures import how_many

LONGEST = 400
MOST = 200
"""More decks with homework than any student has."""
LONG_PAST_DAYS = 28
"""Homework that has been over for more days is left to the files and stands on no page."""


class Homework(NamedTuple):
    """What is set with a deck, and how far it had come at the moment of an export."""

    deck: str
    title: str
    by: str
    until: date | None
    goal: str
    done: int | None
    wanted: int | None
    seen: int | None
    cards: int | None

    @property
    def reached(self) -> bool | None:
        """Whether the goal is reached; None without one."""
        return is_reached(self.done, self.wanted)

    def is_over(self, today: date) -> bool:
        """Whether its last day is past."""
        return is_over(self.until, today)

    def is_long_past(self, today: date) -> bool:
        """Whether it has been over for so long that no page tells of it."""
        return is_over(self.until, today, LONG_PAST_DAYS)

    def head(self, today: date) -> str:
        """What is set, alike for everybody: '“Flats”, set by Ms Adler until 2026-12-03, now over'."""
        by = f" by {self.by}" if self.by else ""
        until = f" until {self.until}" if self.until else ""
        over = ", now over" if self.is_over(today) else ""
        return f"“{self.title or self.deck}”, set{by}{until}{over}"

    @property
    def how_far(self) -> str:
        """How far it had come, and how many of its cards were asked: nobody is ready who has not begun."""
        asked = [] if self.seen is None else [f"{self.seen} of {how_many(self.cards or 0, 'card')} asked"]
        if self.done is None or self.wanted is None:
            return ", ".join(["no goal", *asked])
        done = f"{self.done} of {self.wanted} {self.goal.partition(' ')[2]}"
        return ", ".join([f"{done}, reached" if self.reached else done, *asked])


def read_homework(found: Any, deck: str) -> tuple[Homework, ...]:
    """The homework in the package file of an export made for `deck`. Raises ValueError and what a wrong type raises."""
    rows = [found] if isinstance(found, dict) else found or []
    return tuple(_read(row, deck) for row in rows[:MOST])


def _read(row: Mapping[str, Any], deck: str) -> Homework:
    until = row.get("until")
    return Homework(
        deck=_text(row.get("deck")) or deck,
        title=_text(row.get("title")),
        by=_text(row.get("by")),
        until=date.fromisoformat(until) if until else None,
        goal=_text(row.get("goal")),
        done=_number(row.get("done")),
        wanted=_number(row.get("wanted")),
        seen=_number(row.get("seen")),
        cards=_number(row.get("cards")),
    )


def _text(value: Any) -> str:
    return " ".join(str(value or "").split())[:LONGEST]


def _number(value: Any) -> int | None:
    return None if value is None else int(value)
