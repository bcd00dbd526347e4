"""Standard input and output as they may really be: closed, or of an encoding that knows no ♭.

readable     a stream to read from; bytes that are no text become �
writable     a stream to write to; characters its encoding lacks become the nearest plain ones
visible      text from elsewhere, safe to show: control characters are written out
wrapped      a sentence on lines no longer than a terminal is wide
settle       writes out what is left; lets go of a stream whose other end is gone
"""

from __future__ import annotations

import codecs
import io
import os
import unicodedata
from contextlib import suppress
from pathlib import Path
from typing import TextIO

PLAINEST = "fretsure-plainest"
"""The name `codecs` knows the replacing of characters by."""

_PLAIN = dict(zip("♭♯−–‑·“”◆●○║⟦⟧▸◂▌▁▂▃▄▅▆▇█", "b#---.\"\"*o.|[]><|12345678", strict=True)) | {
    "♮": "", "𝄪": "##", "𝄫": "bb", "°": "dim", "ø": "m7b5", "Δ": "maj", "…": "...",
}  # fmt: skip
"""Each of one column where alignment needs it: everything a neck is drawn with."""


def readable(stream: TextIO | None) -> TextIO:
    """The stream, never failing on bytes that are no text; an empty one where there is none."""
    if stream is None:
        return io.StringIO()
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors="replace")
    return stream


def writable(stream: TextIO | None) -> TextIO:
    """The stream, never failing on a character its encoding lacks; nowhere, where there is none."""
    if stream is None:
        return Path(os.devnull).open("w", encoding="utf-8")
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors=PLAINEST)
    return stream


def visible(text: str) -> str:
    r"""The text with everything written out that would act on a terminal instead of being seen.

    >>> visible("a\x1b[2Jb\u202ec")
    'a\\x1b[2Jb\\u202ec'
    """
    if text.isprintable():
        return text
    return "".join(ch if ch.isprintable() or ch in "\n\t" or _is_blank(ch) else repr(ch)[1:-1] for ch in text)


def _is_blank(character: str) -> bool:
    """Whether this is a blank of some width, as French puts before a colon: not printable to Python, and no harm."""
    return unicodedata.category(character) == "Zs"


NARROWEST = 20
"""Lines are not made shorter than this, however narrow the terminal."""


def wrapped(sentence: str, width: int | None) -> list[str]:
    """A sentence on lines of at most `width` columns, broken between words, indented as it is; whole where it is None.

    >>> wrapped("  the minor tonic, fret 6", 21)
    ['  the minor tonic,', '  fret 6']
    """
    if width is None or len(sentence) <= width:
        return [sentence]
    import textwrap  # here: most of what is printed fits

    indent = " " * (len(sentence) - len(sentence.lstrip()))
    return textwrap.wrap(sentence, max(width, NARROWEST), subsequent_indent=indent, break_on_hyphens=False)


def settle(stream: TextIO) -> None:
    """Writes out what is left to write; lets go of a stream that cannot take it, before Python complains of it."""
    try:
        stream.flush()
    except (OSError, ValueError):
        with suppress(OSError, ValueError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def plainest(text: str) -> str:
    """The text in ASCII, as near as it gets.

    >>> plainest("B♭ é ┼─ ☃")
    'Bb e +- ?'
    """
    return "".join(ch if ch.isascii() else _plain(ch) for ch in text)


def _plain(character: str) -> str:
    if character in _PLAIN:
        return _PLAIN[character]
    name = unicodedata.name(character, "")
    if name.startswith("BOX DRAWINGS"):
        return "+" if " AND " in name else "|" if name.endswith("VERTICAL") else "-"
    return unicodedata.normalize("NFKD", character).encode("ascii", "ignore").decode() or "?"


def _replaced(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return plainest(error.object[error.start : error.end]), error.end


codecs.register_error(PLAINEST, _replaced)
