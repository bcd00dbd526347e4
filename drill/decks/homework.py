"""Homework: what a teacher sets with a deck. Until when, what is to be reached, who sets it, and a note.

Goal         so many keys ready, or so many cards fluent
Homework     all of it
day, goal    checks of the fields of a deck file
"""

import re
from datetime import date, datetime
from typing import Any, Literal, NamedTuple

from drill.present.dates import day_in_words
from drill.questions.wording import capital
from drill.system.validation import Errors

GOAL_PATTERN = r"^(all|[1-9][0-9]{0,3}) (keys? ready|cards? fluent)$"
"""How a goal is written in a deck file."""
DAY_PATTERN = r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"


class Goal(NamedTuple):
    """What is to be reached: so many keys ready, or cards fluent; no number means all that the deck asks."""

    of: Literal["keys", "cards"]
    number: int | None

    @classmethod
    def read(cls, text: str) -> "Goal":
        """Read a goal as a deck file has it. Raises ValueError.

        >>> Goal.read("5 keys ready"), Goal.read("all cards fluent")
        (Goal(of='keys', number=5), Goal(of='cards', number=None))
        """
        found = re.fullmatch(GOAL_PATTERN, text)
        if found is None:
            raise ValueError(text)
        number, of = found.groups()
        return cls("keys" if of.startswith("key") else "cards", None if number == "all" else int(number))

    @property
    def written(self) -> str:
        """The goal as a deck file has it."""
        if self.number is None:
            return "all keys ready" if self.of == "keys" else "all cards fluent"
        return self.words(self.number)

    def words(self, number: int) -> str:
        """So many of what the goal counts: '1 key ready', '5 keys ready', '3 cards fluent'."""
        one, how = ("key", "ready") if self.of == "keys" else ("card", "fluent")
        return f"{number} {one if number == 1 else f'{one}s'} {how}"


class Homework(NamedTuple):
    """What is set with a deck; a part that was not given is None or empty."""

    until: date | None = None
    goal: Goal | None = None
    note: str = ""
    by: str = ""

    def is_over(self, today: date, days: int = 0) -> bool:
        """Whether the last day has been past for more than so many days; without a last day it never is."""
        return self.until is not None and (today - self.until).days > days

    def set_words(self, until: str = "") -> str:
        """Who set it and until when: 'set by Ms Adler until 3 December 2026'; the day also in other words."""
        by = f" by {self.by}" if self.by else ""
        return f"set{by}" + (f" until {until or day_in_words(self.until)}" if self.until else "")

    @property
    def sentence(self) -> str:
        """What is set, whatever the day: 'Set by Ms Adler until 3 December 2026: 5 keys ready.'"""
        return capital(self.set_words()) + (f": {self.goal.written}." if self.goal else ".")

    def as_object(self) -> dict[str, str | None]:
        """It as plain values, for programs."""
        goal = self.goal.written if self.goal else None
        return {"by": self.by or None, "until": str(self.until or "") or None, "goal": goal, "note": self.note or None}


def read_day(value: object) -> date:
    """A day as TOML has it, or in quotes: 2026-12-03 or "2026-12-03". Raises ValueError."""
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    if isinstance(value, str) and re.fullmatch(DAY_PATTERN, value):
        return date.fromisoformat(value)
    raise ValueError(value)


def day(value: Any) -> Errors:
    """A day without a time."""
    try:
        read_day(value)
    except ValueError:
        yield (), value


def goal(value: Any) -> Errors:
    """A goal in words."""
    if not isinstance(value, str) or not re.fullmatch(GOAL_PATTERN, value):
        yield (), value
