"""Finding a line by what is typed: by the beginnings of its words, whatever accidental signs they are written with."""

from __future__ import annotations

import re

_SIGNS = str.maketrans({"♭": "b", "♯": "#", "-": " ", "(": " ", ")": " ", "·": " "})


def plain_words(text: str) -> str:
    """A text as it is compared: small letters, plain accidentals, single blanks.

    >>> plain_words("E♭ minor,  low-E-string shape")
    'eb minor, low e string shape'
    """
    return re.sub(r"\s+", " ", text.casefold().translate(_SIGNS)).strip()


def matches(typed: str, line: str) -> bool:
    """Whether every word typed begins a word of the line.

    >>> matches("e fl", "E flat minor"), matches("eb", "E♭ minor"), matches("inor", "E♭ minor")
    (True, True, False)
    """
    words = plain_words(line).split()
    return all(any(word.startswith(part) for word in words) for part in plain_words(typed).split())
