"""What tests would make again and again though it is always the same: decks laid out, and style sheets read.

A deck is kept by the bytes of its file, a style sheet by its text and its colours, so a changed one is made anew.
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path
from typing import Any

import pytest
from textual.cache import LRUCache
from textual.css.stylesheet import Stylesheet

from drill.decks import Deck, loading
from drill.theory.neck import Neck


def keep_decks() -> None:
    """From now on lay a deck out once for each neck and tempo."""
    laid_out: dict[tuple[object, ...], Deck] = {}
    lay_out = loading._read

    def read(path: Path, neck: Neck, bar_s: float) -> Deck:
        if not Path(path).is_file():  # it may be a path as on another system
            return lay_out(path, neck, bar_s)
        key = (path, path.read_bytes(), neck, bar_s)
        if key not in laid_out:
            laid_out[key] = lay_out(path, neck, bar_s)
        return laid_out[key]

    loading._read = read


def kept_styles(patch: pytest.MonkeyPatch) -> None:
    """Read each style sheet once for all programs of the same colours, as Textual does within one program."""
    read: dict[frozenset[tuple[str, str]], LRUCache[Any, Any]] = defaultdict(lambda: LRUCache(1000))
    set_variables = Stylesheet.set_variables

    def keeping(sheet: Stylesheet, variables: dict[str, str]) -> None:
        sheet._parse_cache = LRUCache(1)  # which it empties
        set_variables(sheet, variables)
        sheet._parse_cache = read[frozenset(variables.items())]

    patch.setattr(Stylesheet, "set_variables", keeping)
