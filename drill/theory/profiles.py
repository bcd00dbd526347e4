"""How well counted notes fit each key: the second opinion on a chord loop.

Krumhansl and Kessler asked listeners in 1982 how well each of the twelve notes fits after a key was sounded. The
correlation of a piece's note counts with these ratings, shifted to every tonic, ranks the keys. It ignores order, so it
cannot tell where a loop rests, and two relatives differ by little.

>>> key, fit = rank_keys([10, 0, 2, 0, 0, 6, 0, 3, 0, 4, 3, 2])[0]
>>> key.name, round(fit, 4)
('F major', 0.8583)
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from drill.theory.chords import Chord
from drill.theory.keys import PRACTICAL_KEYS, Key, Mode

PROFILES: dict[Mode, tuple[float, ...]] = {
    "major": (6.35, 2.23, 3.48, 2.33, 4.38, 4.09, 2.52, 5.19, 2.39, 3.66, 2.29, 2.88),
    "minor": (6.33, 2.68, 3.52, 5.38, 2.60, 3.53, 2.54, 4.75, 3.98, 2.69, 3.34, 3.17),
}
"""Mean ratings of the twelve notes from the tonic up (Krumhansl and Kessler 1982; figures as in music21 10)."""


def profile_of(key: Key) -> tuple[float, ...]:
    """The ratings of the twelve pitch classes, C first, in a key."""
    ratings = PROFILES[key.mode]
    return tuple(ratings[(pitch_class - key.tonic.pitch_class) % 12] for pitch_class in range(12))


def note_counts(chords: Iterable[Chord]) -> tuple[float, ...]:
    """How often each pitch class, C first, occurs in some chords; every chord tone counts once."""
    sounds = [note.pitch_class for chord in chords for note in chord.notes]
    return tuple(float(sounds.count(pitch_class)) for pitch_class in range(12))


def rank_keys(weights: Sequence[float]) -> tuple[tuple[Key, float], ...]:
    """The twelve major and twelve minor keys with their correlation (-1 to 1), best first.

    `weights` are counts or durations of the pitch classes, C first. When all are equal every correlation is 0.
    """
    fits = ((key, correlation(weights, profile_of(key))) for key in PRACTICAL_KEYS)
    return tuple(sorted(fits, key=lambda fit: -fit[1]))


def correlation(left: Sequence[float], right: Sequence[float]) -> float:
    """Pearson's correlation of two rows of figures, 0 where one of them does not vary."""
    left_mean, right_mean = math.fsum(left) / len(left), math.fsum(right) / len(right)
    together = math.fsum((x - left_mean) * (y - right_mean) for x, y in zip(left, right, strict=True))
    spread = math.fsum((x - left_mean) ** 2 for x in left) * math.fsum((y - right_mean) ** 2 for y in right)
    return together / math.sqrt(spread) if spread else 0.0
