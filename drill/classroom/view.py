"""A class at one glance: who is stuck on what, who stopped, who grew, this week against last, and what several mix up.

Strengths are those of each student's own export, as of its moment. They are means over every card that the student was
ever asked, which an export holds whatever deck it was made for: the same record gives the same figures. To leave out
what only some were asked would hide from a teacher what the quick ones are working on, and leave nothing where students
are at different decks. But who was asked more has harder cards among them; so one figure stands beside that compares
students with each other, the mean over the cards that more than half of the class was asked. All else is counted from
the answers, up to the day of the last answer that anybody in the class gave.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Sequence, Set
from datetime import date
from functools import cached_property
from itertools import pairwise
from statistics import fmean, median
from typing import NamedTuple

from drill.classroom.answers import Answers, Day, Group
from drill.classroom.exports import Standing
from drill.classroom.gathering import Gathered, Roll
from drill.classroom.habits import by_name, chances_of
from drill.classroom.sources import Skipped
from drill.classroom.weaknesses import FEWEST_MIXUPS, LEAST_MIXED_UP, Weakness, place_of, weaknesses
from drill.present.dates import day_in_words, moment
from drill.progress.homework import Assignment
from drill.questions.catalogue import FAMILIES
from drill.theory.keys import KEYS, PRACTICAL_KEYS

WEEK, GROWTH_DAYS = 7, 28
STOPPED_DAYS, STOPPED_GAPS = 10, 3
"""Who stopped has not practised for so many days, and for so many times as long as between two days before."""
GREW_CARDS, GREW_SHARE = 5, 0.25
"""Who grew has so many more cards in time than four weeks ago, and so much more of what it was."""
DOUBT = 20
"""Shared is what happens to at least two students in a tenth of the answers where it can, with so many answers without
it added to each: slips happen to everybody. Nobody's answers count for another's."""
FEWEST_SHARED = 5
"""The mean of fewer cards says little of a student beside the others."""


class HomeworkView(NamedTuple):
    """What was set and how far it had come at the student's export, seen from the teacher's day."""

    of: Assignment
    day: date
    exported: date

    @property
    def is_over(self) -> bool:
        return self.of.homework.is_over(self.day)

    @property
    def head(self) -> str:
        """What is set, alike for everybody: '“Flats”, set by Ms Adler until 3 December 2026, now over'."""
        over = ", now over" if self.is_over else ""
        return f"“{self.of.title or self.of.deck}”, {self.of.homework.set_words()}{over}"

    @property
    def how_far(self) -> str:
        """How far it came, and how many cards were asked: nobody is ready who has not begun.

        Of an export from before the last day, which may not tell the end, that day too.
        """
        until = self.of.homework.until
        early = self.is_over and until is not None and self.exported < until
        parts = (
            self.of.done_words or "no goal",
            "reached" if self.of.reached else "",
            self.of.seen_words,
            f"as of {day_in_words(self.exported)}" if early else "",
        )
        return ", ".join(filter(None, parts))

    @property
    def sentence(self) -> str:
        """All of it in words."""
        return f"{self.head}: {self.how_far}"


class StudentView(NamedTuple):
    """One student. Days are of the student's own calendar; `today` is the day up to which the class is counted."""

    gathered: Gathered
    today: int
    weaknesses: tuple[Weakness, ...]
    teachers_day: date
    """The day on the teacher's calendar."""
    common: frozenset[str] = frozenset()
    """The cards that most of the class were asked."""

    @property
    def label(self) -> str:
        return self.gathered.label

    @property
    def tuning(self) -> str:
        return self.gathered.newest.tuning

    @property
    def answers(self) -> Answers:
        return self.gathered.answers

    @property
    def whole(self) -> Standing:
        return self.gathered.newest.whole

    @property
    def last_day(self) -> date | None:
        return date.fromordinal(max(self.answers.days)) if self.answers.days else None

    @property
    def exported_day(self) -> date:
        return moment(self.gathered.newest.created_s).date()

    @property
    def homework(self) -> tuple[HomeworkView, ...]:
        """What was set, in the order of the export."""
        newest = self.gathered.newest
        return tuple(HomeworkView(each, self.teachers_day, self.exported_day) for each in newest.homework)

    @property
    def this_week(self) -> Day:
        return self.answers.answers_in(range(self.today - WEEK + 1, self.today + 1))

    @property
    def last_week(self) -> Day:
        return self.answers.answers_in(range(self.today - 2 * WEEK + 1, self.today - WEEK + 1))

    @property
    def in_time(self) -> int:
        """Cards whose newest answer came in time."""
        return self.answers.in_time_on(self.today) or 0

    @property
    def in_time_week_ago(self) -> int | None:
        return self.answers.in_time_on(self.today - WEEK)

    @property
    def began_lately(self) -> bool:
        """Whether the first day is less than four weeks ago."""
        return bool(self.answers.days) and min(self.answers.days) > self.today - GROWTH_DAYS

    @property
    def in_time_before(self) -> int | None:
        """The same four weeks ago, or on the first day if that is later."""
        if not self.answers.days:
            return None
        return self.answers.in_time_on(max(min(self.answers.days), self.today - GROWTH_DAYS))

    @property
    def grew(self) -> bool:
        before = self.in_time_before
        if before is None or self.stopped_days:
            return False
        return self.in_time - before >= max(GREW_CARDS, GREW_SHARE * before)

    @property
    def stopped_days(self) -> int | None:
        """For how many days nothing was practised, of who stopped; None for anybody else."""
        days = sorted(self.answers.days)
        if not days:
            return None
        gaps = [later - earlier for earlier, later in pairwise(days)] or [1]
        silent = min(self.today, moment(self.gathered.newest.exported_s).toordinal()) - days[-1]
        return silent if silent >= max(STOPPED_DAYS, STOPPED_GAPS * median(gaps)) else None

    @property
    def strength_before(self) -> float | None:
        """The mean strength in the export before the newest, if there is one."""
        known = [standing.strength for _, standing in self.gathered.earlier if standing.strength is not None]
        return known[-1] if known else None

    @property
    def strength_shared(self) -> float | None:
        """The mean strength of the cards that most of the class were asked; None of few, and without a class."""
        known = [found for card, found in self.gathered.newest.strengths.items() if card in self.common]
        return fmean(known) if len(known) >= FEWEST_SHARED else None

    def standings(self, facet: str) -> dict[str, Standing]:
        """How each group of one facet stands, such as each string."""
        return {value: found for (of, value), found in self.gathered.newest.standing.items() if of == facet}


class Share(NamedTuple):
    """A student's part in a mix-up of several: how often, of how many answers where it can happen."""

    student: str
    times: int
    chances: int

    @property
    def rate(self) -> float:
        return self.times / self.chances


class SharedMixup(NamedTuple):
    """A mix-up of several students, with each one's own part in it, and where it happens to most of them."""

    name: str
    shares: tuple[Share, ...]
    place: tuple[str, int | None]

    @property
    def students(self) -> tuple[str, ...]:
        return tuple(share.student for share in self.shares)

    @property
    def times(self) -> int:
        return sum(share.times for share in self.shares)

    @property
    def chances(self) -> int:
        return sum(share.chances for share in self.shares)

    @property
    def rate(self) -> float:
        """The lowest of their rates: it happens to each of them at least so often, and none carries it for another."""
        return min(share.rate for share in self.shares)


class ClassView:
    """The whole class, as of a day on the teacher's calendar."""

    def __init__(self, roll: Roll, day: date) -> None:
        self.skipped: tuple[Skipped, ...] = roll.skipped
        self.today = _today(roll.students)
        common = _common([student.newest.strengths.keys() for student in roll.students])
        told = weaknesses([student.answers for student in roll.students])
        self.students = tuple(
            StudentView(student, self.today, tuple(each), day, common)
            for student, each in zip(roll.students, told, strict=True)
        )

    @property
    def day(self) -> date:
        return date.fromordinal(self.today)

    @property
    def stuck(self) -> list[StudentView]:
        return [student for student in self.students if student.weaknesses]

    @property
    def stopped(self) -> list[StudentView]:
        return [student for student in self.students if student.stopped_days]

    @property
    def grew(self) -> list[StudentView]:
        """Who grew, whoever grew most first."""
        grew = (student for student in self.students if student.grew)
        return sorted(grew, key=lambda student: (student.in_time_before or 0) - student.in_time)

    def groups(self, facet: str) -> list[Group]:
        """Every group of a facet that a student has seen, in the order in which the exports name them."""
        found: dict[str, None] = {}
        for student in self.students:
            found |= {value: None for value, standing in student.standings(facet).items() if standing.seen}
        ordered = sorted(found, key=_in_order(facet))
        return [(facet, value) for value in ordered]

    @property
    def namesakes(self) -> list[list[StudentView]]:
        """Those who are called alike, name by name."""
        found: dict[str, list[StudentView]] = defaultdict(list)
        for student in self.students:
            found[student.gathered.name].append(student)
        return [alike for name, alike in found.items() if name and len(alike) > 1]

    @cached_property
    def shared_mixups(self) -> tuple[SharedMixup, ...]:
        """The mix-ups of two students or more, what most of them share first."""
        found: dict[str, list[tuple[Share, Counter[str]]]] = defaultdict(list)
        for student in self.students:
            for name, cards in by_name(student.answers.mixups).items():
                could = sum(chances_of(name, cards, student.answers).values())
                if cards.total() >= max(FEWEST_MIXUPS, LEAST_MIXED_UP * (could + DOUBT)):
                    found[name].append((Share(student.label, cards.total(), could), cards))
        shared = [
            SharedMixup(name, tuple(share for share, _ in those), _place_of_most([cards for _, cards in those]))
            for name, those in found.items()
            if len(those) > 1
        ]
        return tuple(sorted(shared, key=lambda each: (-len(each.students), -each.rate, each.name)))


def _common(seen: Sequence[Set[str]]) -> frozenset[str]:
    """The cards that more than half of the students, and at least two, were asked."""
    counts = Counter(card for cards in seen for card in cards)
    return frozenset(card for card, number in counts.items() if number >= 2 and 2 * number > len(seen))


def _place_of_most(cards: Sequence[Counter[str]]) -> tuple[str, int | None]:
    """The place that is the worst one of most students; of equal ones, the first student's."""
    return Counter(map(place_of, cards)).most_common(1)[0][0]


def _today(students: Sequence[Gathered]) -> int:
    """The day of the last answer in the class; of one student alone the day of the export, for nobody else tells."""
    days = [max(student.answers.days) for student in students if student.answers.days]
    if len(days) < 2:
        return max(moment(student.newest.exported_s).toordinal() for student in students)
    return max(days)


def _in_order(facet: str) -> Callable[[str], int | str]:
    """What sorts the values of a facet as a guitarist expects them."""
    if facet == "string":
        return lambda value: -int(value)
    if facet == "shape":
        return str
    names = [key.name for key in dict.fromkeys((*PRACTICAL_KEYS, *KEYS))] if facet == "key" else list(FAMILIES)
    places = {name: place for place, name in enumerate(names)}
    return lambda value: places.get(value, len(places))
