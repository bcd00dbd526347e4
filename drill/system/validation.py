"""Validation of files that people write: which values fit in which field, and how every mistake is reported.

text, line, number, word    checks of a single value
list_of, table              checks of what holds other values
Field, problems             the fields of a table, and every mistake in one
describe                    a wrong value, for a message

Plain functions: the libraries that build such checks from types take longer to import than a deck takes to read.

>>> list(list_of(number(0, 24))([3, "x", 30]))
[((2,), 'x'), ((3,), 30)]
>>> fret = Field(number(0, 24), "fret = 5, a number from 0 to 24", required=True)
>>> list(problems({"fret": 30}, {"fret": fret}))
[Problem(field='fret', problem='“30” does not fit.', fix='Write fret = 5, a number from 0 to 24.')]
"""

import difflib
from collections.abc import Callable, Iterable, Iterator, Mapping
from itertools import islice
from math import inf
from typing import Any, NamedTuple
from unicodedata import category

from drill.theory.names import LONGEST_NAME, one_line, quoted

LONGEST_LINE = 300
LONGEST_LIST = 100
"""Nobody writes a longer list by hand, and checking one would take long."""

Errors = Iterator[tuple[tuple[str | int, ...], object]]
"""Every wrong value: the path to it, empty for the checked value itself, and the value."""
Check = Callable[[Any], Errors]


class Field(NamedTuple):
    """A field of a table: what fits in it, and an example that continues “Write ...”."""

    check: Check
    example: str
    required: bool = False

    def takes(self, value: object) -> bool:
        """Whether the value fits."""
        return not any(self.check(value))


class Problem(NamedTuple):
    """One mistake in a file: where it is, what is wrong, and how to fix it."""

    field: str
    problem: str
    fix: str


def problems(values: Mapping[str, object], fields: Mapping[str, Field], kind: str = "field") -> Iterator[Problem]:
    """Give every mistake in a table of values; `kind` is what its fields are called."""
    for name, field in fields.items():
        fix = f"Write {field.example}."
        if name in values:
            for path, found in field.check(values[name]):
                how = fix if path else _in_brackets(name, field, found) or fix
                yield Problem(".".join(map(str, (name, *path))), f"{quoted(describe(found))} does not fit.", how)
        elif field.required:
            yield Problem(name, "is missing.", fix)
    for name in islice((name for name in values if name not in fields), LONGEST_LIST):
        yield Problem(one_line(name), f"there is no such {kind}.", _nearest(name, fields, kind))


def _in_brackets(name: str, field: Field, value: object) -> str:
    """How to write a single value where a list is wanted; empty where it does not fit in brackets either."""
    if not isinstance(value, str | int) or not field.takes([value]):
        return ""
    _, _, otherwise = field.example.partition(", or ")
    written = f'"{one_line(value)}"' if isinstance(value, str) else value
    return f"Write {name} = [{written}], in brackets" + (f", or {otherwise}." if otherwise else ".")


def _nearest(name: str, known: Iterable[str], kind: str) -> str:
    near = nearest_name(name, known)
    return f"The nearest is “{near}”." if near else f"Every {kind}: {', '.join(known)}."


def nearest_name(name: str, known: Iterable[str]) -> str:
    """The known name that a misspelt one is nearest to; empty if it is near to none."""
    return next(iter(difflib.get_close_matches(name[:LONGEST_NAME], known, n=1, cutoff=0.5)), "")


def describe(value: object) -> str:
    """Write a value from a file as a message may repeat it."""
    try:
        return str(value)
    except ValueError:  # an integer of thousands of digits, which Python refuses to write out
        return "a number of thousands of digits"


# -- checks ------------------------------------------------------------------------------------------------------------


def text(value: Any) -> Errors:
    """A text of at most LONGEST_LINE characters."""
    if not isinstance(value, str) or len(value) > LONGEST_LINE:
        yield (), value


def line(shortest: int = 1, longest: int = LONGEST_LINE) -> Check:
    """One line of `shortest` to `longest` characters, blank only if it may be empty."""

    def check(value: Any) -> Errors:
        if (
            not isinstance(value, str)
            or not shortest <= len(value) <= longest
            or (shortest and not value.strip())
            or any(category(sign) == "Cc" for sign in value)
        ):
            yield (), value

    return check


def number(low: float = -inf, high: float = inf, kinds: tuple[type, ...] = (int,)) -> Check:
    """A number of one of these types. True and false are not numbers here, though Python counts them as integers."""

    def check(value: Any) -> Errors:
        if type(value) not in kinds or not low <= value <= high:
            yield (), value

    return check


def list_of(item: Check, shortest: int = 0, longest: int = LONGEST_LIST, words: tuple[str, ...] = ()) -> Check:
    """A list of `shortest` to `longest` items that all pass a check, or one of some words instead."""

    def check(value: Any) -> Errors:
        if not isinstance(value, list):
            if value not in words:
                yield (), value
            return
        inside = [((at, *path), found) for at, each in enumerate(value[:longest], 1) for path, found in item(each)]
        yield from inside
        if not inside and not shortest <= len(value) <= longest:
            yield (), value

    return check


def word(*words: str) -> Check:
    """One of some words."""

    def check(value: Any) -> Errors:
        if value not in words:
            yield (), value

    return check


def table(item: Check, longest: int = LONGEST_LIST) -> Check:
    """A table of at most `longest` values that all pass a check, whatever their names."""

    def check(value: Any) -> Errors:
        if not isinstance(value, dict) or len(value) > longest:
            yield (), value
            return
        for name, each in value.items():
            yield from (((name, *path), found) for path, found in item(each))

    return check
