"""What Home shows, as plain values: services fill them from theory and memory, screens only arrange them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, NamedTuple

from drill.theory.keys import PRACTICAL_KEYS, Key
from drill.theory.neck import Neck, Spot

if TYPE_CHECKING:
    from drill.progress import KeyReadiness, Progress


class KeyPair(NamedTuple):
    """Two relative keys, each with its readiness from 0 to 1, None before all it takes was asked.

    What was asked in part has the count in words, as '1/4'.
    """

    minor: Key
    major: Key
    minor_readiness: float | None = None
    major_readiness: float | None = None
    minor_part: str = ""
    major_part: str = ""


class HomeView(NamedTuple):
    """Where the learner stands, and what the next drill brings."""

    deck_title: str
    newcomer: bool
    neck: Neck
    strengths: Mapping[Spot, float | None]
    pairs: tuple[KeyPair, ...]
    today: str
    """What today brings, in a sentence; a newcomer reads what Enter does."""
    nothing_ahead: bool = False
    """Whether that drill has nothing new, and nothing that fades."""
    letters: str = ""
    """The first keys of today, to be drawn large where there is room."""
    growth: str = ""
    """How far the learner has come in a week, in a sentence; empty where there is nothing to tell."""
    homework: tuple[str, ...] = ()
    """What a teacher set with decks and how far it has come, a sentence each."""
    homework_deck: str = ""
    """The name of the deck of what is to be done first; empty where nothing is set."""
    notices: tuple[str, ...] = ()
    """Sentences to show once: that a backup was needed, or what cannot be asked on this instrument."""


def key_pairs(progress: Progress) -> tuple[KeyPair, ...]:
    """Relative keys side by side around the circle of fifths; a key that was never asked has no readiness yet."""
    rows = {row.key: row for row in progress.keys}
    majors = sorted((key for key in PRACTICAL_KEYS if key.mode == "major"), key=lambda key: key.signature % 12)
    return tuple(_pair(rows.get(major.relative), rows[major]) for major in majors if major in rows)


def _pair(minor: KeyReadiness | None, major: KeyReadiness) -> KeyPair:
    relative = minor.key if minor else major.key.relative
    return KeyPair(relative, major.key, minor.shown if minor else None, major.shown, _part(minor), _part(major))


def _part(row: KeyReadiness | None) -> str:
    return "{}/{}".format(*row.parts) if row is not None and row.in_part else ""
