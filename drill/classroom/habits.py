"""What is usual: in a class, for a kind of question that was asked so often before; and for one student among them.

A student is compared with the others and with themselves at once. The others give what to expect of an answer (a new
card is missed more often than an old one, some kinds are harder than others); the student's own answers elsewhere say
by how much this student is above or below that; what is left over in some group of cards is theirs.

Class      what the others' answers lead to expect
Tally      answers to one card, beside what was to be expected of them
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from drill.classroom.answers import Answers, Cell, Group, Where, groups_of
from drill.memory.belief import logistic, logit
from drill.progress.mixup_counts import can_happen
from drill.questions.ids import family_of

PRIOR_ANSWERS = 10.0
"""So many answers at the rate of all kinds together are added to what is known of one kind: few prove little."""
FEWEST_STUDENTS = 5
"""Fewer are no class: what one or two others do is their own habit, and not what is usual."""
ORDINARY_MIXUP, ORDINARY_ANSWERS = 0.1, 50.0
"""Slips happen to everybody: what is known of a mix-up begins with so many answers of which a tenth were this slip."""
REST: Group = ("rest", "rested")
_Kind = tuple[str, int, bool]
"""What makes answers comparable: family, how often asked before, whether rested."""


class Tally(NamedTuple):
    """Answers of one student to one card, in one state of rest.

    `late` sums the logarithms of thinking times over target, `usual_late` what was to be expected of them.
    """

    card: str
    rested: bool
    answers: float
    wrong: float
    usual_wrong: float
    timed: float
    late: float
    usual_late: float

    def belongs_to(self, group: Group) -> bool:
        """Whether it is one of this group of cards."""
        return self.rested if group == REST else group in groups_of(self.card)


def _kind(where: Where) -> _Kind:
    return family_of(where.card), where.step, where.rested


class Class:
    """The answers of all students by kind, from which each student's own can be taken out."""

    def __init__(self, students: Sequence[Answers]) -> None:
        self._is_class = len(students) >= FEWEST_STUDENTS
        self._own = [_by_kind(student.cells.items()) for student in students]
        self._all: dict[_Kind, Cell] = _summed(pair for own in self._own for pair in own.items())
        self._steps = _summed(((kind[1:], cell) for kind, cell in self._all.items()))
        self._mixups = [_mixup_chances(student) for student in students]
        self._every_mixup = [Counter[str](), Counter[str]()]
        for times, chances in self._mixups:
            self._every_mixup[0].update(times)
            self._every_mixup[1].update(chances)

    def tallies(self, number: int, student: Answers) -> list[Tally]:
        """What a student answered, beside what the others lead to expect."""
        found: dict[tuple[str, bool], list[float]] = {}
        for where, cell in student.cells.items():
            wrong, late = self._expected(number, _kind(where))
            row = found.setdefault((where.card, where.rested), [0.0] * 6)
            parts = (cell.answers, cell.wrong, cell.answers * wrong, cell.timed, cell.log_s, cell.timed * late)
            for place, part in enumerate(parts):
                row[place] += part
        return [Tally(card, rested, *row) for (card, rested), row in found.items()]

    def _expected(self, number: int, kind: _Kind) -> tuple[float, float]:
        """The share of wrong answers among the others, and their mean log of time over target.

        Where too few are there to say what is usual, the student's own answers count as well: then no kind of question
        can be anybody's weakness, for some are harder to all, but a string or a key still can.
        """
        everyone, alike = self._all[kind], self._steps[kind[1:]]
        own = self._own[number][kind] if self._is_class else Cell()
        answers, timed = everyone.answers - own.answers, everyone.timed - own.timed
        base = (alike.wrong + 0.5) / (alike.answers + 1.0)
        base_late = alike.log_s / alike.timed if alike.timed else 0.0
        wrong = (everyone.wrong - own.wrong + PRIOR_ANSWERS * base) / (answers + PRIOR_ANSWERS)
        late = (everyone.log_s - own.log_s + PRIOR_ANSWERS * base_late) / (timed + PRIOR_ANSWERS)
        return wrong, late

    def usual_mixup(self, number: int, name: str) -> float:
        """How often the others fall for a mix-up, of the answers where they could; without others, an ordinary slip."""
        own_times, own_chances = self._mixups[number]
        times = self._every_mixup[0][name] - own_times[name]
        chances = self._every_mixup[1][name] - own_chances[name]
        return (times + ORDINARY_MIXUP * ORDINARY_ANSWERS) / (chances + ORDINARY_ANSWERS)


def _by_kind(cells: Iterable[tuple[Where, Cell]]) -> dict[_Kind, Cell]:
    return _summed((_kind(where), cell) for where, cell in cells)


def _summed(cells: Iterable[tuple[object, Cell]]) -> dict:  # type: ignore[type-arg]
    found: dict[object, Cell] = defaultdict(Cell)
    for name, cell in cells:
        total = found[name]
        total.answers += cell.answers
        total.wrong += cell.wrong
        total.timed += cell.timed
        total.log_s += cell.log_s
    return found


def _mixup_chances(student: Answers) -> tuple[Counter[str], Counter[str]]:
    """How often each mix-up happened to a student, and of how many answers where it could."""
    times, chances = Counter[str](), Counter[str]()
    for (_, name), count in student.mixups.items():
        times[name] += count
    for card, answers in student.chances.items():
        for name in can_happen(card):
            chances[name] += answers
    for name, count in times.items():
        chances[name] = max(chances[name], count)  # a log may know of it where it no longer has that name
    return times, chances


def by_name(mixups: Mapping[tuple[str, str], int]) -> dict[str, Counter[str]]:
    """How often each mix-up happened on which card."""
    found: dict[str, Counter[str]] = defaultdict(Counter)
    for (card, name), count in mixups.items():
        found[name][card] += count
    return found


def chances_of(name: str, happened: Counter[str], student: Answers) -> dict[str, int]:
    """The answers to each card where a mix-up can happen, or did."""
    return {card: n for card, n in student.chances.items() if card in happened or name in can_happen(card)}


def by_card(rows: Iterable[Tally]) -> list[list[Tally]]:
    """The tallies of each card together: answers to one card are not independent, rested or not."""
    found: dict[str, list[Tally]] = defaultdict(list)
    for row in rows:
        found[row.card].append(row)
    return list(found.values())


def count(rows: Iterable[Tally]) -> float:
    """How many answers there are in some tallies."""
    return sum(row.answers for row in rows)


def shifted(tallies: Iterable[Tally], level: float) -> float:
    """The wrong answers to be expected of a student who is this much (in log-odds) above what is usual."""
    return sum(row.answers * logistic(logit(_chance(row)) + level) for row in tallies)


def level_of(tallies: Sequence[Tally]) -> float:
    """By how much a student errs more than is usual, in log-odds; half an answer each way is added to few."""
    answers = sum(row.answers for row in tallies)
    wrong = (sum(row.wrong for row in tallies) + 0.5) / (answers + 1.0)
    usual = (sum(row.usual_wrong for row in tallies) + 0.5) / (answers + 1.0)
    return logit(wrong) - logit(usual)


def lateness_of(tallies: Sequence[Tally]) -> float:
    """By how much a student is slower than is usual, as a logarithm."""
    timed = sum(row.timed for row in tallies)
    return sum(row.late - row.usual_late for row in tallies) / timed if timed else 0.0


def _chance(row: Tally) -> float:
    return min(0.99, max(0.005, row.usual_wrong / row.answers)) if row.answers else 0.5
