"""Text made fit for a terminal.

visible      text from elsewhere, safe to show: control characters are escaped
wrapped      a sentence on lines no longer than a terminal is wide
plainest     the nearest ASCII, for an encoding that knows no ♭
"""

from __future__ import annotations

import unicodedata

NARROWEST = 20
"""Lines are not made shorter than this, however narrow the terminal."""

_PLAIN = dict(zip("♭♯−–‑·•“”◆●○✗✓→║⟦⟧▸◂▌▁▂▃▄▅▆▇█", "b#---..\"\"*o.xv>|[]><|12345678", strict=True)) | {
    "♮": "", "𝄪": "##", "𝄫": "bb", "°": "dim", "ø": "m7b5", "Δ": "maj", "…": "...",
}  # fmt: skip
"""Every character the neck is drawn with becomes one column, so that the drawing stays aligned."""


def visible(text: str) -> str:
    r"""Escape everything that would act on a terminal instead of being seen.

    >>> visible("a\x1b[2Jb\u202ec")
    'a\\x1b[2Jb\\u202ec'
    """
    if text.isprintable():
        return text
    return "".join(ch if ch.isprintable() or ch in "\n\t" or _is_space(ch) else repr(ch)[1:-1] for ch in text)


def _is_space(character: str) -> bool:
    """Whether this is a space of any width, as French puts before a colon. Python calls it unprintable."""
    return unicodedata.category(character) == "Zs"


def wrapped(sentence: str, width: int | None) -> list[str]:
    """Break a sentence between words into lines of at most `width` columns, keeping its indent; None leaves it whole.

    >>> wrapped("  the minor tonic, fret 6", 21)
    ['  the minor tonic,', '  fret 6']
    """
    if width is None or len(sentence) <= width:
        return [sentence]
    import textwrap  # here: most sentences fit

    indent = " " * (len(sentence) - len(sentence.lstrip()))
    return textwrap.wrap(sentence, max(width, NARROWEST), subsequent_indent=indent, break_on_hyphens=False)


def plainest(text: str) -> str:
    """Return the text in ASCII, as near as it gets.

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
