"""What learners call weak when they type what to drill: 'weak strings', 'weakest key', 'slow', 'what I mix up'."""

from __future__ import annotations

import re
from typing import Literal

from drill.present.finding import plain_words

Weak = Literal["all", "string", "key", "shape", "family", "slow", "mixups"]
"""What of the weak is meant: the weakest of all or of one table, what is slowest, what is mixed up most."""
NAMES_OF_WEAK = "Write weakest, weakest string or weakest key, and nothing else."
WEAK = ("weak", "weakest", "worst")
_WEAK = rf"(my |the )?({'|'.join(WEAK)})"
_WAYS: dict[Weak, str] = {
    "all": rf"{_WEAK}( (card|spot|point|one)s?)?",
    "string": rf"{_WEAK} strings?",
    "key": rf"{_WEAK} keys?",
    "shape": rf"{_WEAK} shapes?",
    "family": rf"{_WEAK} (kinds?|questions?|kinds? of questions?)",
    "slow": r"(my |the )?(slow|slowest)( (card|one)s?)?|what is slow|what i am slow (at|in|on|with)",
    "mixups": r"(my |the )?mix ?ups?|what i (mix up|confuse)|what is mixed up",
}


def weak_called(text: str) -> Weak | None:
    """What of the weak a text means; None where it says something else.

    >>> weak_called("weak strings"), weak_called("My weakest"), weak_called("what I mix up"), weak_called("Am")
    ('string', 'all', 'mixups', None)
    """
    words = plain_words(text)
    return next((weak for weak, way in _WAYS.items() if re.fullmatch(way, words)), None)
