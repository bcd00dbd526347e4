"""The answers of one student, counted as they stream by: what was asked how often, missed, slow, and mixed up.

Memory grows with the cards and the days, never with the answers.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import lru_cache
from sys import intern
from typing import NamedTuple

from drill.decks import card_of, entry_of
from drill.errors import FretsureError
from drill.questions.facets import as_plain, string_of
from drill.theory.keys import parse_key

RECENT_DAYS = 42
"""What is older than six weeks before the last answer says nothing of what a student is stuck on now."""
RESTED_DAYS = 2
"""From so many days since the last time a card was asked, an answer tells what was kept."""
MOST_STEPS = 4
"""A card asked for the ninth time or later is no longer new in any way."""
Group = tuple[str, str]
"""What some cards have in common: a facet, and its value."""


@dataclass(slots=True)
class Cell:
    """Answers to one card that were about equally often asked before and equally long ago."""

    answers: int = 0
    wrong: int = 0
    timed: int = 0
    log_s: float = 0.0
    """The sum of the logarithms of their thinking times over the targets, of right answers."""


class Where(NamedTuple):
    """What is counted together."""

    card: str
    step: int
    """How often the card was asked before, in powers of two."""
    rested: bool
    """Whether it had not been asked for some days."""


@dataclass(slots=True)
class Day:
    """One day on the student's calendar."""

    answers: int = 0
    typed: int = 0
    """Those of the answers that were typed."""
    right: int = 0
    """Typed answers that were right."""
    in_time: int = 0
    """Cards whose newest answer came in time, at the end of the day."""

    @property
    def right_share(self) -> float | None:
        """The share of typed answers that were right, 0 to 1; None without any."""
        return self.right / self.typed if self.typed else None


@dataclass(slots=True)
class Answers:
    """All answers of a student."""

    last_day: int = 0
    """The day of the last answer, as far as the export says: days since the year 1."""
    count: int = 0
    days: dict[int, Day] = field(default_factory=dict)
    cells: dict[Where, Cell] = field(default_factory=dict)
    mixups: Counter[tuple[str, str]] = field(default_factory=Counter)
    """How often a card met with a mix-up."""
    chances: Counter[str] = field(default_factory=Counter)
    """Answers to a card that were no pass."""
    played: int = 0
    """Answers that were played on the guitar. They stand apart: a miss may be misheard, and a hand is slower."""
    played_right: int = 0
    identities: set[str] = field(default_factory=set)
    last_asked: str = ""
    _asked: dict[str, tuple[int, int]] = field(default_factory=dict)
    """Of each card how often it was asked, and the day of the last time."""
    _in_time: set[str] = field(default_factory=set)

    def read(self, rows: Iterable[dict[str, str]]) -> None:
        """Count rows of an exported table of answers, in their order. Raises KeyError and ValueError."""
        for row in rows:
            if row["correct"] and row.get("how") == "played":
                self._add_played(row["asked_at"], row["utc_offset_min"], row["correct"] == "true")
            elif row["correct"]:
                self.add(
                    intern(row["card"]), row["asked_at"], row["utc_offset_min"], row["given"], row["correct"] == "true",
                    row["mixup"], row["thinking_ms"], row["target_ms"],
                )  # fmt: skip
            if row.get("learner"):
                self.identities.add(row["learner"])

    def add(
        self, card: str, asked_at: str, offset: str, given: str, right: bool, mixup: str, thinking: str, target: str
    ) -> None:
        """Count one answer."""
        day = local_day(asked_at[:16], offset)
        asked, last = self._asked.get(card, (0, day))
        self._asked[card] = asked + 1, day
        self.count, self.last_asked = self.count + 1, asked_at
        share = int(thinking) / int(target) if right and thinking and int(target) else None
        self._count_day(card, day, right and share is not None and share <= 1.0, right)
        if day <= self.last_day - RECENT_DAYS:
            return
        where = Where(card, min(MOST_STEPS, asked.bit_length()), day - last >= RESTED_DAYS)
        cell = self.cells.get(where) or self.cells.setdefault(where, Cell())
        cell.answers += 1
        cell.wrong += not right
        if share:
            cell.timed += 1
            cell.log_s += math.log(share)
        self.chances[card] += bool(given or mixup)
        name = "" if right else mixup or _named(card, given)
        if name:
            self.mixups[card, name] += 1

    def _add_played(self, asked_at: str, offset: str, right: bool) -> None:
        """Count one answer that was played: its day was one of practice, and nothing else follows from it."""
        day = local_day(asked_at[:16], offset)
        today = self.days.get(day) or self.days.setdefault(day, Day(in_time=len(self._in_time)))
        today.answers += 1
        self.count, self.last_asked = self.count + 1, asked_at
        self.played, self.played_right = self.played + 1, self.played_right + right

    def _count_day(self, card: str, day: int, in_time: bool, right: bool) -> None:
        today = self.days.get(day) or self.days.setdefault(day, Day())
        today.answers += 1
        today.typed += 1
        today.right += right
        (self._in_time.add if in_time else self._in_time.discard)(card)
        today.in_time = len(self._in_time)

    def in_time_on(self, day: int) -> int | None:
        """Cards whose newest answer had come in time by the end of a day; None before the first answer."""
        past = [each for each in self.days if each <= day]
        return self.days[max(past)].in_time if past else None

    def answers_in(self, days: range) -> Day:
        """The answers of some days together, and how many of them were typed and right."""
        found = [self.days[day] for day in self.days if day in days]
        return Day(*(sum(getattr(day, count) for day in found) for count in ("answers", "typed", "right")))


@lru_cache(maxsize=100_000)
def local_day(minute: str, offset_min: str) -> int:
    """The day of the student's calendar at a minute of UTC, as days since the year 1. Raises ValueError."""
    return (datetime.fromisoformat(minute) + timedelta(minutes=int(offset_min))).toordinal()


@lru_cache(maxsize=50_000)
def _named(card_id: str, given: str) -> str:
    """The mix-up behind a wrong answer whose log names none, as logs of earlier releases do; empty if there is none."""
    try:
        mixups = card_of(card_id).mixups_behind(given) if given else ()
    except FretsureError:
        return ""
    return mixups[0].name if mixups else ""


@lru_cache(maxsize=20_000)
def groups_of(card_id: str) -> frozenset[Group]:
    """What a card has in common with others; nothing if no family knows it any more."""
    try:
        entry, _ = entry_of(card_id)
    except FretsureError:
        return frozenset()
    facets = as_plain(entry.facets)
    found: set[Group] = {("family", entry.item.family)}
    if string := string_of(entry.facets):
        found.add(("string", str(string)))
    if "shape" in facets:
        found.add(("shape", str(facets["shape"])))
    if "key" in facets:
        found |= set(_key_groups(str(facets["key"])))
    return frozenset(found)


@lru_cache(maxsize=100)
def _key_groups(name: str) -> tuple[Group, ...]:
    """A key, its mode, and whether its signature has flats or sharps."""
    key = parse_key(name)
    side = "flat" if key.signature < 0 else "sharp" if key.signature > 0 else "natural"
    return ("key", name), ("mode", key.mode), ("side", side)
