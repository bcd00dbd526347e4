"""Made-up learners of several kinds, for making the demonstration and for testing the planner.

Each kind remembers facts by a theory of its own; one is of the program's family, three are not:

    PowerLaw     activation of traces that decay by a power law, faster when laid while strong (Pavlik & Anderson 2005),
                 with their constants, which are far from the program's
    Correcting   one strength per fact, raised by a share of what is missing, lost by a power law of the days
                 that spaced study flattens (error-correcting strength, as in Reder's SAC)
    HalfLife     exponential forgetting, the half-life stretched by success, most when it was nearly lost
    Counts       logistic in the logs of past right and wrong answers and of the time since (Pavlik, Cen &
                 Koedinger 2009 with a term for time)

Nothing here reads a source of chance: it is handed one (`random.Random` will do). Times are seconds since the epoch.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Protocol

from drill.memory.belief import logistic, logit
from drill.memory.item import Attempt, Item

DAY_S = 86_400.0


class Chance(Protocol):
    """What is needed of a source of chance; `random.Random` has it."""

    def random(self) -> float: ...

    def gauss(self, mu: float, sigma: float) -> float: ...


class FactMemory(Protocol):
    """The memory of one fact."""

    def chance(self, now_s: float) -> float:
        """Chance that the fact is recalled at `now_s`."""

    def study(self, now_s: float, recalled: bool) -> None:
        """The fact was recalled, or not and then shown."""


@dataclass(slots=True)
class PowerLaw:
    """Traces as in Pavlik & Anderson 2005 with their constants: decay .177 + .217 exp(activation), threshold -.704,
    spread .255, time beyond half an hour counted at .025."""

    ease: float
    traces: list[tuple[float, float]] = field(default_factory=list)

    def _activation(self, now_s: float) -> float:
        total = sum(math.pow(self._lag(now_s - at_s), -decay) for at_s, decay in self.traces)
        return math.log(total) if total else -3.0

    @staticmethod
    def _lag(gap_s: float) -> float:
        within = min(max(gap_s, 1.0), 1800.0)
        return within + 0.025 * max(0.0, gap_s - within)

    def chance(self, now_s: float) -> float:
        return logistic((self._activation(now_s) + 0.704) / 0.255 + 2.0 * self.ease)

    def study(self, now_s: float, recalled: bool) -> None:
        self.traces.append((now_s, 0.177 + 0.217 * math.exp(self._activation(now_s))))


@dataclass(slots=True)
class Correcting:
    """Strength s in 0..1: study adds a share of 1 - s; loss is a power of the days, gentler after spaced study."""

    ease: float
    strength: float = 0.0
    loss: float = 0.6
    last_s: float = 0.0

    def _now(self, now_s: float) -> float:
        days = max(0.0, now_s - self.last_s) / DAY_S
        return self.strength * math.pow(1.0 + 4.0 * days, -self.loss)

    def chance(self, now_s: float) -> float:
        return logistic(9.0 * (self._now(now_s) - 0.5 + 0.12 * self.ease))

    def held(self, now_s: float) -> float:
        """The strength that is left, 0 to 1."""
        return self._now(now_s)

    def study(self, now_s: float, recalled: bool) -> None:
        self.raise_by(now_s, 0.35 if recalled else 0.25, recalled)

    def raise_by(self, now_s: float, share: float, recalled: bool) -> None:
        """Add a share of the missing strength; the more had been lost, the slower it is lost from now on."""
        held = self._now(now_s)
        lost = 1.0 - held / self.strength if self.strength else 0.0
        self.loss = max(0.05, self.loss * (1.0 - (0.5 if recalled else 0.2) * lost))
        self.strength = held + share * (1.0 - held)
        self.last_s = now_s


@dataclass(slots=True)
class HalfLife:
    """Chance 2 ** (-days / half-life); success stretches the half-life, most when the fact was nearly lost."""

    ease: float
    days: float = 0.0
    last_s: float = 0.0

    def chance(self, now_s: float) -> float:
        if not self.days:
            return 0.02
        return 0.98 * math.pow(2.0, -max(0.0, now_s - self.last_s) / DAY_S / self.days)

    def study(self, now_s: float, recalled: bool) -> None:
        p = self.chance(now_s)
        if not self.days:
            self.days = 0.7 * math.exp(0.5 * self.ease)
        elif recalled:
            self.days *= 1.0 + 2.2 * math.exp(0.3 * self.ease) * (1.0 - p) + 0.04
        else:
            self.days = max(0.4, 0.6 * self.days)
        self.last_s = now_s


@dataclass(slots=True)
class Counts:
    """Log-odds linear in ln(1 + right), ln(1 + wrong) and ln of the time since; days apart count, not repeats."""

    ease: float
    right: float = 0.0
    wrong: float = 0.0
    last_s: float = 0.0

    def chance(self, now_s: float) -> float:
        if not self.right + self.wrong:
            return logistic(-3.5 + self.ease)
        hours = max(0.0, now_s - self.last_s) / 3600.0
        gained = 1.3 * math.log1p(self.right) + 0.6 * math.log1p(self.wrong)
        return logistic(-0.5 + self.ease + gained - 0.75 * math.log1p(hours))

    def study(self, now_s: float, recalled: bool) -> None:
        worth = min(1.0, 0.25 + max(0.0, now_s - self.last_s) / DAY_S)
        if recalled:
            self.right += worth
        else:
            self.wrong += worth
        self.last_s = now_s


@dataclass(frozen=True, slots=True)
class Temper:
    """How a made-up learner is: see the fields."""

    tempo: float = 1.8
    """ln of the seconds an even-odds answer takes."""
    slips: float = 0.02
    """Share of answers that go wrong though the learner knows."""
    spread: float = 0.5
    """How unlike each other the facts are to this learner (log-odds or so)."""
    known: float = 0.0
    """Share of the facts already well known at the start."""
    whole_cards: bool = False
    """True for one who learns every card by itself and carries nothing over."""


@dataclass(slots=True)
class SimulatedLearner:
    """Answers cards by recalling the facts they rest on, all of which must come."""

    kind: Callable[[float], FactMemory]
    temper: Temper
    source: Chance
    facts: dict[str, FactMemory] = field(default_factory=dict)
    practice: dict[str, int] = field(default_factory=dict)

    def chance(self, item: Item, now_s: float) -> float:
        """The true chance that the card comes right at `now_s`."""
        p = 1.0 - self.temper.slips
        for fact in self._facts(item):
            p *= self._memory(fact, now_s).chance(now_s)
        return p

    def thinking(self, item: Item, now_s: float) -> float:
        """The true middle thinking time in seconds: shorter with strength and with practice, never under 0.5 s."""
        facts = self._facts(item)
        slowest = max(
            -0.22 * logit(self._memory(f, now_s).chance(now_s)) - 0.2 * math.log1p(self.practice.get(f, 0))
            for f in facts
        )
        return max(0.5, math.exp(self.temper.tempo + slowest + 0.12 * (len(item.facts) - 1)))

    def within(self, item: Item, now_s: float, limit_s: float) -> float:
        """The true chance that the card comes right within `limit_s` seconds."""
        z = (math.log(limit_s) - math.log(self.thinking(item, now_s))) / 0.35
        return self.chance(item, now_s) * 0.5 * math.erfc(-z / math.sqrt(2))

    def answer(self, item: Item, now_s: float) -> Attempt:
        """Answer the card asked at `now_s`, and learn from it; the attempt's `at_s` is when the answer came."""
        facts = self._facts(item)
        recalled = {f: self.source.random() < self._memory(f, now_s).chance(now_s) for f in facts}
        slipped = self.source.random() < self.temper.slips
        right = all(recalled.values()) and not slipped
        seconds = self.thinking(item, now_s) * math.exp(self.source.gauss(0.0, 0.35)) * (1.0 if right else 1.3)
        seconds = min(seconds, 25.0)
        failed = [f for f in facts if not recalled[f]]
        told = failed[0] if len(failed) == 1 and len(facts) > 1 and self.source.random() < 0.5 else None
        for fact in facts:
            self._memory(fact, now_s).study(now_s + seconds, recalled[fact])
            self.practice[fact] = self.practice.get(fact, 0) + 1
        return Attempt(item.card, now_s + seconds + 0.3, right, seconds + 0.3, told)

    def watch(self, item: Item, now_s: float) -> Attempt:
        """Look at the card's answer and its reason, unasked."""
        for fact in self._facts(item):
            self._memory(fact, now_s).study(now_s, False)
        return Attempt(item.card, now_s, None)

    def _facts(self, item: Item) -> tuple[str, ...]:
        return (item.card,) if self.temper.whole_cards or not item.facts else item.facts

    def _memory(self, fact: str, now_s: float) -> FactMemory:
        if fact not in self.facts:
            memory = self.kind(self.source.gauss(0.0, self.temper.spread))
            if self.source.random() < self.temper.known:
                for days in (120, 100, 70, 30, 8, 3, 1):
                    memory.study(now_s - days * DAY_S, recalled=True)
                self.practice[fact] = 30
            self.facts[fact] = memory
        return self.facts[fact]
