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
    """Where the learner stands, and a preview of the next drill: cards by state, and about how many answers fit."""

    deck_title: str
    minutes: int
    newcomer: bool
    neck: Neck
    strengths: Mapping[Spot, float | None]
    pairs: tuple[KeyPair, ...]
    fading: int
    slow: int
    fresh: int
    answers: int
    growth: str = ""
    """How far the learner has come in a week, in a sentence; empty where there is nothing to tell."""
    homework: str = ""
    """What a teacher set with the deck and how far it has come; empty where nothing is set."""
    notices: tuple[str, ...] = ()
    """Sentences to show once: that a backup was needed, or what cannot be asked on this instrument."""
