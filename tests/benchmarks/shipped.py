"""What the benchmark of schedulers asks, and what a key takes: the decks that ship, and the order they had before."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from drill.decks import entry_of, load_deck
from drill.memory import Item
from drill.theory.bars import bar_seconds
from drill.theory.keys import PRACTICAL_KEYS, Key
from drill.theory.neck import STANDARD, Neck

TEMPO_BPM = 80
BAR_S = bar_seconds(TEMPO_BPM)
DECK = "two-shapes"
OLD_ORDER = Path(__file__).with_name("old_order") / "two-shapes.toml"
"""The default deck as it was: layer by layer, all notes before the first key."""


@cache
def items(name: str = DECK) -> tuple[Item, ...]:
    """The items of a deck on a standard guitar."""
    return load_deck(name, Neck(STANDARD)).items


@cache
def keys() -> dict[str, tuple[Item, ...]]:
    """For each everyday key the cards whose answers make it playable: relative, finger, and index fret on two strings.

    The same whatever the deck asks.
    """
    return {key.short: tuple(entry_of(card)[0].item for card in _needed(key)) for key in PRACTICAL_KEYS}


def anchors(key: str) -> tuple[str, ...]:
    """The core cards of a key: its index fret in both shapes."""
    return tuple(item.card for item in keys()[key] if item.family == "shape-anchor")


def core() -> frozenset[str]:
    """Every core card."""
    return frozenset(card for key in keys() for card in anchors(key))


def _needed(key: Key) -> tuple[str, ...]:
    relative = "relative-major" if key.mode == "minor" else "relative-minor"
    shapes = [f"key={key.short}:shape=string-{string}" for string in (6, 5)]
    return (
        f"{relative}:key={key.short}",
        f"tonic-finger:{shapes[0]}",
        *(f"shape-anchor:{shape}" for shape in shapes),
    )
