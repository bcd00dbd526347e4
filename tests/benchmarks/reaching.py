"""Which tests pass through the place of a fault: told by one run of the tests in a copy where such places leave marks.

marked    a module's text in which each of these places leaves a mark when it is run
Passing   the tests that passed through each place, the likeliest to notice a fault first
"""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from mutations import Mutation

MARKS, MARKED = "drill/_marks.py", ".marks"
"""The module that leaves marks, and the file they are left in."""
LEAVES_MARKS = f'''"""Leaves a mark in a file for each place in a function, and each test that passes through it.

What runs at an import says nothing of the test that happens to import it first.
"""
import os
import sys
from inspect import CO_OPTIMIZED
from pathlib import Path

_file = os.open(Path(__file__).parents[1] / "{MARKED}", os.O_WRONLY | os.O_APPEND | os.O_CREAT)
_left = set()

def leave(number):
    mark = f"{{number}} {{os.environ.get('PYTEST_CURRENT_TEST', '')}}\\n"
    if mark not in _left and sys._getframe(1).f_code.co_flags & CO_OPTIMIZED:
        _left.add(mark)
        os.write(_file, mark.encode())
'''
DURATION = re.compile(r"^ *([\d.]+)s (?:setup|call|teardown) +(.+)$", re.M)


def marked(source: str, places: Mapping[int, Mutation]) -> str:
    """The source with the same meaning, in which the places leave marks by their numbers."""
    data = source.encode()
    put: list[tuple[int, int, str]] = []  # where, and in which order at one spot: what ends, outer before inner
    for number, place in places.items():
        leave = f"__import__('drill._marks', fromlist=['leave']).leave({number})"
        size = place.end - place.start
        if _is_expression(data[place.start : place.end].decode()):
            put += [(place.start, -size, f"({leave} or ("), (place.end, size - len(data), "))")]
        else:
            put.append((place.start, -size, f"{leave}; "))
    for at, _, text in sorted(put, reverse=True):
        data = data[:at] + text.encode() + data[at:]
    return data.decode()


def _is_expression(text: str) -> bool:
    try:
        ast.parse(f"({text}\n)", mode="eval")
    except SyntaxError:
        return False
    return True


class Passing:
    """Read from the marks, and from what pytest said of the time each test took."""

    def __init__(self, marks: Iterable[str], said: str) -> None:
        self._tests: dict[int, set[str]] = defaultdict(set)
        self._seconds: dict[str, float] = defaultdict(float)
        for mark in marks:
            number, _, test = mark.rpartition(" ")[0].partition(" ")  # without the stage of the test, in brackets
            if "::" in test:
                self._tests[int(number)].add(test)
        for seconds, test in DURATION.findall(said):
            self._seconds[test] += float(seconds)

    def through(self, number: int, own: Sequence[str]) -> list[str]:
        """The tests that passed: first those in the folders and files `own`, and of these the quickest."""
        return sorted(
            self._tests[number], key=lambda test: (not test.startswith(tuple(own)), self._seconds[test], test)
        )
