"""How far homework has come: what a teacher set with a deck, counted at some moment.

Assignment    what is set with a deck, and how far it has come; as exports tell it, and read from them
assignment    that of one deck
assignments   those of the deck in use and of every added one, what is to be done first first; `told` those to hear of
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import replace
from datetime import date, timedelta
from typing import Any, NamedTuple

from drill.decks import Homework, decks_with_homework
from drill.decks.homework import Goal
from drill.present.figures import how_many
from drill.progress.next_step import READY
from drill.progress.overview import Progress
from drill.progress.readiness import KeyReadiness
from drill.questions.wording import capital

DAYS_BY_NAME = 7
"""A day less than a week ahead is told by its name alone."""
LONG_PAST_DAYS = 14
"""Homework that has been over for more days is not spoken of any more; exports keep it."""
MOST_TOLD = 3
"""Home has room for so many sentences about homework."""
LONGEST = 400
"""Characters of a text in an export of somebody's that are looked at."""


class Assignment(NamedTuple):
    """Homework, and how many of what its goal counts are `done` and `wanted`; None without a goal.

    In exports of early releases it has no title, and no number of cards.
    """

    deck: str
    title: str
    homework: Homework
    done: int | None = None
    wanted: int | None = None
    seen: int | None = None
    """How many cards of its deck were asked so far."""
    cards: int | None = None

    @property
    def reached(self) -> bool | None:
        """Whether the goal is reached; None without a goal."""
        return None if self.done is None or self.wanted is None else self.done >= self.wanted

    @property
    def done_words(self) -> str:
        """How far the goal is reached: '3 of 5 keys ready'; empty without a goal."""
        goal = self.homework.goal
        return f"{self.done} of {goal.words(self.wanted)}" if goal and self.wanted is not None else ""

    @property
    def seen_words(self) -> str:
        """How many cards were asked: '0 of 6 cards asked'; empty where that is not known."""
        return f"{self.seen} of {how_many(self.cards, 'card')} asked" if self.cards else ""

    def as_object(self) -> dict[str, Any]:
        """It as plain values, for programs."""
        named, counted = {"deck": self.deck, "title": self.title}, {"seen": self.seen, "cards": self.cards}
        reached = {"done": self.done, "wanted": self.wanted, "reached": self.reached}
        return named | self.homework.as_object() | reached | counted

    @classmethod
    def read(cls, found: Mapping[str, Any], deck: str) -> Assignment:
        """What `as_object` made, of an export for `deck`. Raises ValueError and what a wrong type raises."""
        until, goal = found.get("until"), found.get("goal")
        homework = Homework(
            until=date.fromisoformat(until) if until else None,
            goal=Goal.read(goal) if goal else None,
            note=_text(found.get("note")),
            by=_text(found.get("by")),
        )
        numbers = (_number(found.get(key)) for key in ("done", "wanted", "seen", "cards"))
        return cls(_text(found.get("deck")) or deck, _text(found.get("title")), homework, *numbers)


def _number(value: Any) -> int | None:
    return None if value is None else int(value)


def _text(value: object) -> str:
    return " ".join(str(value or "").split())[:LONGEST]


def assignment(progress: Progress) -> Assignment | None:
    """How far the homework of a whole deck has come; None if its deck sets none."""
    deck, whole = progress.deck, progress.whole
    if deck.homework is None:
        return None
    now = Assignment(deck.id, deck.title, deck.homework, seen=whole.seen, cards=whole.cards)
    goal = deck.homework.goal
    if goal is None:
        return now
    done, most = _keys(progress) if goal.of == "keys" else (whole.fluent, whole.cards)
    wanted = min(goal.number or most, most)  # an instrument may be asked less than the teacher's
    return now._replace(done=min(done, wanted), wanted=wanted)


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
        if (now := assignment(here)) is not None:
            found.append(now)
    return tuple(sorted(found, key=lambda now: _urgency(now, progress.today)))


def _urgency(now: Assignment, today: date) -> tuple[bool, bool, date]:
    """What is over comes last, what is reached before it; of the others, what has the earliest last day first."""
    return now.homework.is_over(today), bool(now.reached), now.homework.until or date.max


def told(progress: Progress) -> tuple[Assignment, ...]:
    """Those that a learner should still hear of; no deck is laid out for what nobody hears of any more."""
    found = assignments(progress, progress.today - timedelta(days=LONG_PAST_DAYS))
    return tuple(now for now in found if not now.homework.is_over(progress.today, LONG_PAST_DAYS))


def told_sentences(progress: Progress, found: Sequence[Assignment]) -> Iterator[str]:
    """A sentence for each, by the deck's title unless it is the one in use, and the teacher's note after it."""
    for now in found:
        sentence = assignment_sentence(now, progress.today, by_title=now.deck != progress.deck.id)
        yield sentence + (f" “{now.homework.note}”" if now.homework.note else "")


def home_lines(progress: Progress, found: Sequence[Assignment]) -> Iterator[str]:
    """A sentence for each of the first few, and how many more there are."""
    yield from told_sentences(progress, found[:MOST_TOLD])
    if len(found) > MOST_TOLD:
        yield f"And {len(found) - MOST_TOLD} more: `fretsure decks` lists them."


def _keys(progress: Progress) -> tuple[int, int]:
    """Of the keys that the deck asks whole, how many are ready, and how many there are."""
    whole = progress.deck.whole_keys
    families = {entry.item.family for entry in progress.deck.entries.values()}
    ready = [_chance(row, families) >= READY for row in progress.keys if row.key in whole]
    return sum(ready), len(ready)


def _chance(row: KeyReadiness, families: Set[str]) -> float:
    """The chance that all its deck asks of a key comes within the bar, in the kinds of question it asks.

    What the answers rest on, such as the relative beneath an index fret, is in their chance already. As long as a part
    of it was not measured, it is a guess and counts as 0.
    """
    asked = [each for each in row.needed if each.is_reached and each.status.item.family in families]
    is_measured = row.asked and all(each.is_measured for each in asked)
    return math.prod(each.in_time for each in asked) if is_measured else 0.0


def assignment_sentence(now: Assignment, today: date, *, by_title: bool = False) -> str:
    """What is set and how far it has come: 'Set by Ms Adler until Thursday: 3 of 5 keys ready.'"""
    words = now.homework.set_words(_until(now.homework, today))
    words = f"“{now.title}”, {words}" if by_title else capital(words)
    if now.reached and now.homework.goal and now.wanted is not None:
        comma = "," if now.homework.is_over(today) else ""
        return f"{words}{comma} and reached: {now.homework.goal.words(now.wanted)}."
    how_far = now.done_words or now.seen_words
    return f"{words}: {how_far}." if how_far else f"{words}."


def _until(homework: Homework, today: date) -> str:
    """The last day in words, seen from today; a day that is over is told by its date."""
    day = homework.until
    if day is None:
        return ""
    ahead = (day - today).days
    if 0 <= ahead < DAYS_BY_NAME:
        return ("today", "tomorrow")[ahead] if ahead < 2 else f"{day:%A}"
    year = f" {day.year}" if day.year != today.year else ""
    return f"{day.day} {day:%B}{year}{', now over' if homework.is_over(today) else ''}"
