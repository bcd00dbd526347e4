"""What Home shows, as plain values: services fill them from theory and memory, screens only arrange them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from drill.theory.keys import Key
from drill.theory.neck import Neck, Spot


class KeyPair(NamedTuple):
    """Two relative keys, each with its readiness from 0 to 1, or None before one of its cards was seen."""

    minor: Key
    major: Key
    minor_readiness: float | None = None
    major_readiness: float | None = None


class HomeView(NamedTuple):
    """Where the learner stands, and what the next drill brings."""

    deck_title: str
    newcomer: bool
    neck: Neck
    strengths: Mapping[Spot, float | None]
    pairs: tuple[KeyPair, ...]
    today: str
    """What today brings, in a sentence; a newcomer reads what Enter does."""
    letters: str = ""
    """The first keys of today, to be drawn large where there is room."""
    growth: str = ""
    """How far the learner has come in a week, in a sentence; empty where there is nothing to tell."""
    notices: tuple[str, ...] = ()
    """Sentences to show once: that a backup was needed, or what cannot be asked on this instrument."""
