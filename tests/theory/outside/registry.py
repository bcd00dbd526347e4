"""Facts taken from outside the project, each beside its source.

Every source is a function that yields facts: what is compared, what fretsure derives, what the source says. One test
compares them all, and `python -m tests.theory.facts` counts the same facts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fact:
    """One comparison."""

    what: str
    ours: object
    theirs: object


@dataclass(frozen=True, slots=True)
class Source:
    """Where some facts come from, and how to go through them."""

    name: str
    subject: str
    facts: Callable[[], Iterable[Fact]]

    def differing(self) -> tuple[int, list[Fact]]:
        """How many facts were compared, and those that differ."""
        compared, wrong = 0, []
        for fact in self.facts():
            compared += 1
            if fact.ours != fact.theirs:
                wrong.append(fact)
        return compared, wrong


SOURCES: list[Source] = []


def source(name: str, subject: str) -> Callable[[Callable[[], Iterator[Fact]]], Callable[[], Iterator[Fact]]]:
    """Register a function that yields the facts of one source about one subject."""

    def register(facts: Callable[[], Iterator[Fact]]) -> Callable[[], Iterator[Fact]]:
        SOURCES.append(Source(name, subject, facts))
        return facts

    return register
