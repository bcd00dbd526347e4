"""What fits in a field of a file: checks that name every place in a value where something else stands.

text, line, number, word    a single value
list_of, table              what holds others
shown                       a misfit, to be told

Plain functions: the libraries that build such checks from types take longer to import than a deck takes to read.

>>> list(list_of(number(0, 24))([3, "x", 30]))
[((2,), 'x'), ((3,), 30)]
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import inf
from typing import Any
from unicodedata import category

LONGEST_LINE = 300
LONGEST_LIST = 100
"""More than this in one list was not written by hand, and would take long to look through."""

Misfits = Iterator[tuple[tuple[str | int, ...], object]]
"""What does not fit in a value: the way to it, empty for the value itself, and what stands there."""
Check = Callable[[Any], Misfits]


def text(value: Any) -> Misfits:
    """A text that is not longer than a line may be."""
    if not isinstance(value, str) or len(value) > LONGEST_LINE:
        yield (), value


def line(shortest: int = 1, longest: int = LONGEST_LINE) -> Check:
    """One line of so many characters."""

    def check(value: Any) -> Misfits:
        if (
            not isinstance(value, str)
            or not shortest <= len(value) <= longest
            or any(category(sign) == "Cc" for sign in value)
        ):
            yield (), value

    return check


def number(low: float = -inf, high: float = inf, kinds: tuple[type, ...] = (int,)) -> Check:
    """A number of one of these kinds; true and false are none, though Python counts them as whole numbers."""

    def check(value: Any) -> Misfits:
        if type(value) not in kinds or not low <= value <= high:
            yield (), value

    return check


def list_of(item: Check, shortest: int = 0, longest: int = LONGEST_LIST, words: tuple[str, ...] = ()) -> Check:
    """A list of so many items, each of which fits; or one of some words."""

    def check(value: Any) -> Misfits:
        if not isinstance(value, list):
            if value not in words:
                yield (), value
            return
        inside = [((at, *way), misfit) for at, each in enumerate(value[:longest], 1) for way, misfit in item(each)]
        yield from inside
        if not inside and not shortest <= len(value) <= longest:
            yield (), value

    return check


def word(*words: str) -> Check:
    """One of some words."""

    def check(value: Any) -> Misfits:
        if value not in words:
            yield (), value

    return check


def table(item: Check, longest: int = LONGEST_LIST) -> Check:
    """A table of at most so many values, each of which fits, whatever its name."""

    def check(value: Any) -> Misfits:
        if not isinstance(value, dict) or len(value) > longest:
            yield (), value
            return
        for name, each in value.items():
            yield from (((name, *way), misfit) for way, misfit in item(each))

    return check


def shown(value: object, write: Callable[[object], str] = str) -> str:
    """A value out of a file as a message may repeat it."""
    try:
        return write(value)
    except ValueError:  # a whole number of thousands of digits, which Python does not write out
        return "a number of thousands of digits"
