"""What is likely wrong in a text that is not TOML, for whoever wrote it by hand and has never heard of TOML."""

import re
from typing import NamedTuple

_WHERE = re.compile(r" ?\(at (?:line (\d+), column \d+|end of document)\)$")
_CURLY = re.compile("[“”„‟«»]")
_NO_QUOTE = 'A quotation mark is missing: a text has one at each end, as in "Mine".'
_BY_MESSAGE = (
    ("Illegal character '\\n'", _NO_QUOTE),
    ("Unterminated string", _NO_QUOTE),
    ('Expected "\'"', "A quotation mark is missing here or above: a text has one at each end, as in 'Mine'."),
    ("Unclosed array", "A list has a comma between two values and a ] at its end."),
    ("Expected ']", "A closing bracket is missing: ]."),
    ("Expected '='", "A = stands between the name of a field and its value."),
    ("Invalid value", 'After = stands a text in quotation marks, such as "Mine", a number, or a list in brackets.'),
    ("Cannot", "The same name stands twice; take one of them out."),
)
"""How the reader's messages begin, and what such a mistake nearly always is."""


class Mistake(NamedTuple):
    """The number of a line that cannot be read, the line, and what is likely wrong with it."""

    number: int
    line: str
    reason: str


def likely_mistake(text: str, error: Exception) -> Mistake:
    """What is wrong, by the reader's error, which says where it gave up.

    >>> likely_mistake("title = “Mine”", ValueError("Invalid value (at line 1, column 9)"))
    Mistake(number=1, line='title = “Mine”', reason='Its quotation marks are curly; write straight ones (").')
    """
    lines = text.rstrip().split("\n")
    where = _WHERE.search(str(error))
    number = min(int(where[1]) if where and where[1] else len(lines), len(lines))
    line = lines[number - 1].strip()
    return Mistake(number, line, _reason(line, _WHERE.sub("", str(error))))


def _reason(line: str, message: str) -> str:
    if _CURLY.search(line) and message.startswith(("Invalid", "Illegal", "Expected")):
        return 'Its quotation marks are curly; write straight ones (").'
    if line.count('"') % 2:
        return _NO_QUOTE
    known = (reason for begins, reason in _BY_MESSAGE if message.startswith(begins))
    return next(known, f"{message}.")
