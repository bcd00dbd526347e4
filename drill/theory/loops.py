"""Which key or keys a chord loop is in, and why.

Function comes first: the chords must be chords of the key (or common borrowings), the tonic chord should be among them,
and what resolves or rests there counts. Order decides only so much: where two keys explain a loop about equally well
both are given and the reading says that it is open. Note counts (`profiles`) are a second opinion and decide nothing.

>>> from drill.theory.chords import parse_chord
>>> def read(loop): return [key.name for key in analyse_loop(tuple(map(parse_chord, loop.split()))).keys]
>>> read("Am F C G"), read("Am G F E"), read("Dm7 G7 Cmaj7")
(['A minor', 'C major'], ['A minor'], ['C major'])
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from itertools import groupby, pairwise
from typing import NamedTuple

from drill.errors import UsageProblem
from drill.theory.chords import Chord
from drill.theory.functions import OWN, holds_raised_seventh, is_dominant, is_tonic, respelled, role_of
from drill.theory.harmony import numeral_of
from drill.theory.keys import KEYS, Key
from drill.theory.pitch import Note
from drill.theory.profiles import counted, ranked

LONGEST_LOOP = 32
_SHOWN_PROFILES = 3
_PAIR = 2
"""In a loop of two chords either is as much the last as the first, so an end counts for nothing."""


class Names(NamedTuple):
    """How sentences write notes, chords and numerals: in ASCII, or as a caller marks them for the learner."""

    note: Callable[[Note], str] = lambda note: note.name
    chord: Callable[[Chord], str] = lambda chord: chord.name
    numeral: Callable[[str], str] = str

    def key(self, key: Key) -> str:
        """A key, as in 'A minor'."""
        return f"{self.note(key.tonic)} {key.mode}"


ASCII_NAMES = Names()

# How much each kind of evidence weighs, and how far apart two readings must be for one to decide. The figures are ours,
# set so that the loops of the open textbooks come out as these say and everyday loops as players hear them.
_STARTS, _ENDS, _CADENCE, _SEVENTH, _RAISED, _RESTS = 1, 1, 2, 2, 2, 9
_NO_TONIC = -4
_DECIDES = 2
_BEST_WITHOUT_TONIC = _NO_TONIC + max(_SEVENTH, _RAISED)  # all other evidence for a key takes its tonic chord
_BLUES = "Every chord is a dominant seventh, as in a blues: the sevenths are colour and name no key."
"""Said where sevenths are set aside; everywhere else a dominant seventh names its key."""


class Evidence(NamedTuple):
    """One reason for a key (weight above 0) or against it (below 0), as a clause."""

    clause: str
    weight: int


class Fit(NamedTuple):
    """One key as a reading of the loop, with the evidence for and against."""

    key: Key
    chords: tuple[Chord, ...]
    evidence: tuple[Evidence, ...]
    placed: bool
    """Whether the loop starts or ends on the tonic chord."""

    @property
    def numerals(self) -> tuple[str, ...]:
        """The numeral of every chord in this key."""
        return tuple(numeral_of(respelled(chord, self.key), self.key) for chord in self.chords)

    @property
    def score(self) -> int:
        """The evidence added up; only differences mean something."""
        return sum(piece.weight for piece in self.evidence)

    @property
    def is_unmixed(self) -> bool:
        """Whether every chord is the key's own and its tonic chord among them."""
        return all(piece.weight > 0 for piece in self.evidence)


class LoopReading(NamedTuple):
    """What a loop's key may be. `fits` holds every accepted key, likeliest first; `say` writes names in sentences."""

    chords: tuple[Chord, ...]
    fits: tuple[Fit, ...]
    say: Names

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
    def profile(self) -> tuple[tuple[Key, float], ...]:
        """The best keys by notes alone, with their correlations."""
        return tuple((_spelled(key, self.fits), fit) for key, fit in ranked(counted(self.chords))[:_SHOWN_PROFILES])

    @property
    def by_function(self) -> tuple[str, ...]:
        """What each accepted key makes of the loop, and what follows."""
        blues = (_BLUES,) if _is_blues(self.chords) else ()
        return (*blues, *(_reading(fit, self.say) for fit in self.fits), _verdict(self.fits, self.say))

    @property
    def because(self) -> tuple[str, ...]:
        """Why by function, and last the second opinion of the notes."""
        return (*self.by_function, _second_opinion(self.profile, self.say))


def analyse_loop(chords: tuple[Chord, ...], rests_on: Chord | None = None, say: Names = ASCII_NAMES) -> LoopReading:
    """Read a loop of 1 to 32 chords, played over and over in this order.

    `rests_on` is the chord on which the loop is said to come home; where it is a tonic chord it decides. Raises
    `UsageProblem` for an empty or an endless loop.
    """
    if not 1 <= len(chords) <= LONGEST_LOOP:
        raise UsageProblem(f"{len(chords)} chords: a loop has 1 to {LONGEST_LOOP}.", "Write the chords of one round.")
    fits = sorted(_readings(chords, rests_on, say), key=lambda fit: -fit.score)
    accepted = tuple(fit for fit in fits if _is_accepted(fit, fits[0], rests_on))
    return LoopReading(chords, accepted, say)


def _readings(chords: tuple[Chord, ...], rests_on: Chord | None, say: Names) -> list[Fit]:
    """A fit for each key that may be accepted: once one with its tonic chord fits well, those without are out of it."""
    heard = _one_round(tuple(chord.triad for chord in chords) if _is_blues(chords) else chords)
    keys = tuple(_likely_spellings(chords))
    homes = (*heard, rests_on) if rests_on else heard
    with_tonic = [
        _fit(key, chords, heard, rests_on, say) for key in keys if any(is_tonic(chord, key) for chord in homes)
    ]
    if any(fit.score >= _BEST_WITHOUT_TONIC + _DECIDES for fit in with_tonic):
        return with_tonic
    return [_fit(key, chords, heard, rests_on, say) for key in keys]


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
    return rests_on is None and fit.key == best.key.relative and fit.is_unmixed and fit.placed


def _fit(key: Key, chords: tuple[Chord, ...], heard: tuple[Chord, ...], rests_on: Chord | None, say: Names) -> Fit:
    in_key = tuple(respelled(chord, key) for chord in heard)
    return Fit(
        key,
        chords,
        (*_borrowings(key, in_key, say), *_placing(key, in_key, rests_on, say), *_pulling(key, in_key, say)),
        is_tonic(chords[0], key) or is_tonic(chords[-1], key),
    )


def _borrowings(key: Key, chords: tuple[Chord, ...], say: Names) -> Iterator[Evidence]:
    """What speaks against a key: chords that are not its own, and a missing tonic."""
    for chord in dict.fromkeys(chords):
        role = role_of(chord, key)
        if role.distance > OWN:
            yield Evidence(f"{say.chord(chord)} is {role.why}", -role.distance)
    if not any(is_tonic(chord, key) for chord in chords):
        yield Evidence(f"the chord of {say.key(key)} itself does not occur", _NO_TONIC)


def _placing(key: Key, chords: tuple[Chord, ...], rests_on: Chord | None, say: Names) -> Iterator[Evidence]:
    """Where the tonic chord stands in the round."""
    if is_tonic(chords[0], key):
        yield Evidence(f"it starts on {say.chord(chords[0])}", _STARTS)
    if is_tonic(chords[-1], key) and len(chords) != _PAIR:
        yield Evidence(f"it ends on {say.chord(chords[-1])}", _ENDS)
    if rests_on is not None and is_tonic(rests_on, key):
        yield Evidence(f"it comes to rest on {say.chord(rests_on)}", _RESTS)


def _pulling(key: Key, chords: tuple[Chord, ...], say: Names) -> Iterator[Evidence]:
    """What pulls towards the tonic: a cadence, a dominant seventh, the raised seventh of a minor key."""
    moves = list(pairwise(chords)) if len(chords) > _PAIR else []
    for before, after in [*moves, (chords[-1], chords[0])]:
        if is_dominant(before, key) and is_tonic(after, key):
            yield Evidence(f"{say.chord(before)} leads home to {say.chord(after)}", _CADENCE)
            break
    for chord in chords:
        if is_dominant(chord, key) and chord.is_dominant_seventh:
            yield Evidence(f"{say.chord(chord)} is the dominant seventh of {say.key(key)}", _SEVENTH)
            return
        if holds_raised_seventh(chord, key):
            raised = say.note(Note(key.notes[6].fifths + 7))
            yield Evidence(f"{say.chord(chord)} holds {raised}, the raised seventh of {say.key(key)}", _RAISED)
            return


def _reading(fit: Fit, say: Names) -> str:
    clauses = [piece.clause for piece in fit.evidence]
    seen = f": {'; '.join(clauses)}" if clauses else ""
    numerals = " ".join(map(say.numeral, fit.numerals))
    return f"In {say.key(fit.key)} the chords are {numerals}{seen}."


def _verdict(fits: tuple[Fit, ...], say: Names) -> str:
    names = [say.key(fit.key) for fit in fits]
    if len(fits) == 1:
        return f"So the key is {names[0]}."
    likelier = f" {names[0]} is the likelier." if fits[0].score > fits[1].score else ""
    return f"The chords do not decide between {', '.join(names[:-1])} and {names[-1]}: where you rest does.{likelier}"


def _second_opinion(profile: tuple[tuple[Key, float], ...], say: Names) -> str:
    (first, best), (second, next_best), *_ = profile
    return (
        f"Counting notes alone (Krumhansl-Kessler) hears {say.key(first)} first at {best:.2f}, "
        f"then {say.key(second)} at {next_best:.2f}."
    )
