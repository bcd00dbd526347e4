"""Which key or keys a chord loop is in, with the evidence.

Function comes first: the chords must be chords of the key (or common borrowings), the tonic chord should be among them,
and chords that resolve or rest on it count. Order decides only so much: where two keys explain a loop about equally
well, both are accepted. Note counts (`profiles`) are a second opinion and decide nothing.

>>> from drill.theory.chords import parse_chord
>>> def read(loop): return analyse_loop(tuple(map(parse_chord, loop.split())))
>>> [key.name for key in read("Am F C G").keys], [key.name for key in read("Am G F E").keys]
(['A minor', 'C major'], ['A minor'])
>>> [(piece.kind, piece.weight) for piece in read("Am G F E").fits[0].evidence]
[('start', 1), ('cadence', 2), ('raised seventh', 2)]
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from itertools import groupby, pairwise
from typing import Literal, NamedTuple

from drill.errors import UsageProblem
from drill.theory.chords import Chord
from drill.theory.functions import function_of, holds_raised_seventh, is_dominant, is_tonic, respelled
from drill.theory.harmony import numeral_of
from drill.theory.keys import KEYS, Key
from drill.theory.profiles import note_counts, rank_keys

LONGEST_LOOP = 32
_BEST_PROFILES = 3
_PAIR = 2
"""In a loop of two chords either is as much the last as the first, so an end counts for nothing."""

EvidenceKind = Literal["borrowed", "no tonic", "start", "end", "rest", "cadence", "dominant seventh", "raised seventh"]

# How much each kind of evidence weighs, and how far apart two readings must be for one to decide. The figures are ours,
# set so that the loops of the open textbooks come out as these say and everyday loops as players hear them.
_WEIGHTS: Mapping[EvidenceKind, int] = {
    "no tonic": -4, "start": 1, "end": 1, "rest": 9, "cadence": 2, "dominant seventh": 2, "raised seventh": 2,
}  # fmt: skip
_DECIDES = 2
_BEST_WITHOUT_TONIC = -2  # no tonic, and a dominant seventh or a raised seventh; the other evidence needs its tonic


class Evidence(NamedTuple):
    """One reason for a key (weight above 0) or against it (below 0).

    `chord` is the chord it lies in, None where the tonic chord is missing; `target` is where a cadence leads.
    """

    kind: EvidenceKind
    weight: int
    chord: Chord | None = None
    target: Chord | None = None


class Fit(NamedTuple):
    """One key as a reading of the loop, with the evidence for and against."""

    key: Key
    chords: tuple[Chord, ...]
    evidence: tuple[Evidence, ...]

    @property
    def numerals(self) -> tuple[str, ...]:
        """The numeral of every chord in this key."""
        return tuple(numeral_of(respelled(chord, self.key), self.key) for chord in self.chords)

    @property
    def score(self) -> int:
        """The sum of the evidence; only differences mean something."""
        return sum(piece.weight for piece in self.evidence)

    @property
    def is_unmixed(self) -> bool:
        """Whether every chord is the key's own and its tonic chord among them."""
        return all(piece.weight > 0 for piece in self.evidence)

    @property
    def has_tonic_at_an_end(self) -> bool:
        """Whether the loop starts or ends on the tonic chord."""
        return is_tonic(self.chords[0], self.key) or is_tonic(self.chords[-1], self.key)


class LoopReading(NamedTuple):
    """What a loop's key may be. `fits` holds every accepted key, likeliest first."""

    chords: tuple[Chord, ...]
    fits: tuple[Fit, ...]

    @property
    def keys(self) -> tuple[Key, ...]:
        """Every key to be accepted, likeliest first."""
        return tuple(fit.key for fit in self.fits)

    @property
    def is_open(self) -> bool:
        """Whether more than one key explains the loop."""
        return len(self.fits) > 1

    @property
    def is_open_between_relatives(self) -> bool:
        """Whether the keys that explain the loop are just a minor key and its relative major."""
        return set(self.keys) == {self.keys[0], self.keys[0].relative}

    @property
    def likeliest(self) -> Key | None:
        """The key that fits best, None where two fit equally well."""
        first, *others = self.fits
        return None if any(other.score == first.score for other in others) else first.key

    @property
    def is_blues(self) -> bool:
        """Whether every chord is a dominant seventh, as in a blues: there the sevenths are colour and name no key."""
        return _is_blues(self.chords)

    @property
    def profile(self) -> tuple[tuple[Key, float], ...]:
        """The best keys by note counts alone, with their correlations."""
        best = rank_keys(note_counts(self.chords))[:_BEST_PROFILES]
        return tuple((_spelled(key, self.fits), fit) for key, fit in best)


def analyse_loop(chords: tuple[Chord, ...], rests_on: Chord | None = None) -> LoopReading:
    """Read a loop of 1 to 32 chords, played over and over in this order.

    `rests_on` is the chord on which the loop is said to come home; where it is a tonic chord it decides. Raises
    `UsageProblem` for an empty or an endless loop.
    """
    if not 1 <= len(chords) <= LONGEST_LOOP:
        raise UsageProblem(f"{len(chords)} chords: a loop has 1 to {LONGEST_LOOP}.", "Write the chords of one round.")
    fits = sorted(_readings(chords, rests_on), key=lambda fit: -fit.score)
    return LoopReading(chords, tuple(fit for fit in fits if _is_accepted(fit, fits[0], rests_on)))


def _readings(chords: tuple[Chord, ...], rests_on: Chord | None) -> list[Fit]:
    """A fit for each candidate key; keys without their tonic chord drop out once one that has it fits well."""
    one_round = _one_round(tuple(chord.triad for chord in chords) if _is_blues(chords) else chords)
    keys = tuple(_likely_spellings(chords))
    homes = (*one_round, rests_on) if rests_on else one_round
    with_tonic = [_fit(key, chords, one_round, rests_on) for key in keys if any(is_tonic(c, key) for c in homes)]
    if any(fit.score >= _BEST_WITHOUT_TONIC + _DECIDES for fit in with_tonic):
        return with_tonic
    return [_fit(key, chords, one_round, rests_on) for key in keys]


def _is_blues(chords: tuple[Chord, ...]) -> bool:
    return all(chord.is_dominant_seventh for chord in chords)


def _one_round(chords: tuple[Chord, ...]) -> tuple[Chord, ...]:
    """The loop without repeats: a chord held for two bars is one, and a round played twice is one round."""
    once = tuple(chord for chord, _ in groupby(chords))
    lengths = (length for length in range(1, len(once) + 1) if len(once) % length == 0)
    return next(once[:length] for length in lengths if once[:length] * (len(once) // length) == once)


def _likely_spellings(chords: tuple[Chord, ...]) -> Iterator[Key]:
    """Of keys that sound alike, the one that writes the chord roots as they were given, or has fewer signs."""
    for key, *others in _spellings():
        yield min(key, *others, key=lambda key: (_misspelled(key, chords), abs(key.signature))) if others else key


@cache
def _spellings() -> tuple[tuple[Key, ...], ...]:
    """All thirty keys, those that sound alike together."""
    return tuple(
        tuple(key for key in KEYS if key.mode == mode and key.tonic.pitch_class == pitch_class)
        for mode in ("major", "minor")
        for pitch_class in range(12)
    )


def _misspelled(key: Key, chords: tuple[Chord, ...]) -> int:
    return sum(respelled(chord, key).root != chord.root for chord in chords)


def _spelled(key: Key, fits: tuple[Fit, ...]) -> Key:
    """The key as the accepted readings spell it, where one of them sounds like it."""
    return next((fit.key for fit in fits if fit.key.sounds_like(key)), key)


def _is_accepted(fit: Fit, best: Fit, rests_on: Chord | None) -> bool:
    """Near the best; or its relative, when all chords are its own and the loop starts or ends on its tonic too."""
    if fit.score > best.score - _DECIDES:
        return True
    return rests_on is None and fit.key == best.key.relative and fit.is_unmixed and fit.has_tonic_at_an_end


def _fit(key: Key, chords: tuple[Chord, ...], one_round: tuple[Chord, ...], rests_on: Chord | None) -> Fit:
    in_key = tuple(respelled(chord, key) for chord in one_round)
    return Fit(key, chords, (*_against(key, in_key), *_placing(key, in_key, rests_on), *_pulling(key, in_key)))


def _weighed(kind: EvidenceKind, chord: Chord | None = None, target: Chord | None = None) -> Evidence:
    return Evidence(kind, _WEIGHTS[kind], chord, target)


def _against(key: Key, chords: tuple[Chord, ...]) -> Iterator[Evidence]:
    """What speaks against a key: chords that are not its own, and a missing tonic."""
    for chord in dict.fromkeys(chords):
        if distance := function_of(chord, key).distance:
            yield Evidence("borrowed", -distance, chord)
    if not any(is_tonic(chord, key) for chord in chords):
        yield _weighed("no tonic")


def _placing(key: Key, chords: tuple[Chord, ...], rests_on: Chord | None) -> Iterator[Evidence]:
    """Where the tonic chord stands in the round."""
    if is_tonic(chords[0], key):
        yield _weighed("start", chords[0])
    if is_tonic(chords[-1], key) and len(chords) != _PAIR:
        yield _weighed("end", chords[-1])
    if rests_on is not None and is_tonic(rests_on, key):
        yield _weighed("rest", rests_on)


def _pulling(key: Key, chords: tuple[Chord, ...]) -> Iterator[Evidence]:
    """What pulls towards the tonic: a cadence, a dominant seventh, the raised seventh of a minor key."""
    moves = list(pairwise(chords)) if len(chords) > _PAIR else []
    for before, after in [*moves, (chords[-1], chords[0])]:
        if is_dominant(before, key) and is_tonic(after, key):
            yield _weighed("cadence", before, after)
            break
    for chord in chords:
        if is_dominant(chord, key) and chord.is_dominant_seventh:
            yield _weighed("dominant seventh", chord)
            return
        if holds_raised_seventh(chord, key):
            yield _weighed("raised seventh", chord)
            return
