"""Which key or keys a chord loop is heard in, how likely each is, and why.

The chords of a loop rarely decide its key alone: where it starts, what leads where and what is borrowed only make a key
more or less likely (`loop_evidence`). So a reading is a list with likelihoods. One key alone stands in it only where
that is nearly always right, or where the player says on which chord the loop rests. Note counts (`profiles`) are a
second opinion and decide nothing.

>>> from drill.theory.chords import parse_chords
>>> def read(loop): return [(fit.name, round(fit.likelihood, 1)) for fit in analyse_loop(parse_chords(loop)).fits]
>>> read("D C G"), read("Am G F E")
([('D mixolydian', 0.5), ('G major', 0.4)], [('A minor', 0.9)])
"""

import math
from collections.abc import Iterable, Iterator
from functools import cache
from typing import NamedTuple

from drill.errors import UsageProblem
from drill.theory.chords import Chord
from drill.theory.functions import is_tonic, respelled, tonic_chord
from drill.theory.harmony import numeral_of
from drill.theory.keys import KEYS, Key, Mode
from drill.theory.loop_evidence import NOT_ITS_OWN, WEIGHTS, Evidence, evidence_for, is_blues
from drill.theory.profiles import note_counts, rank_keys
from drill.theory.scales import SCALES, spell

LONGEST_LOOP = 64
CERTAIN = 0.82
"""From this likelihood on, one key is stated flatly; on real loops nine in ten of these statements are right."""
WORTH_NAMING = 0.14
"""An open reading names its two likeliest keys, and others from this likelihood on."""
_FEWEST = 2
_BEST_PROFILES = 3
_MODES: dict[Mode, tuple[str, ...]] = {
    "major": ("major", "mixolydian", "lydian"),
    "minor": ("natural minor", "dorian", "phrygian"),
}
"""Scales with the third of a key, the plain one first."""


class Fit(NamedTuple):
    """One key as a reading of the loop, with the evidence for and against, and its likelihood (0 to 1).

    `told` is the mode in which the player says it lies.
    """

    key: Key
    chords: tuple[Chord, ...]
    evidence: tuple[Evidence, ...]
    likelihood: float = 0.0
    told: str = ""

    @property
    def numerals(self) -> tuple[str, ...]:
        """The numeral of every chord in this key."""
        return tuple(numeral_of(respelled(chord, self.key), self.key) for chord in self.chords)

    @property
    def score(self) -> float:
        """The sum of the evidence; only differences mean something."""
        rare = WEIGHTS["minor"] if self.key.mode == "minor" else 0.0
        return math.fsum([rare, *(piece.weight for piece in self.evidence)])

    @property
    def scale(self) -> str:
        """The scale on the tonic that holds all the chords: the plain one of the key, or that of a mode."""
        return self.told or _scale_of(self.key, self.chords)

    @property
    def mode(self) -> str:
        """'major', 'minor', 'dorian', 'phrygian', 'lydian' or 'mixolydian'."""
        return self.scale.removeprefix("natural ")

    @property
    def name(self) -> str:
        """The tonic and the mode, in ASCII: 'D mixolydian'."""
        return f"{self.key.tonic.name} {self.mode}"

    @property
    def holds_a_chord(self) -> bool:
        """Whether at least one chord lies wholly in the scale of the key or of one of its modes."""
        scales = ({n.pitch_class for n in spell(self.key.tonic, SCALES[name])} for name in _MODES[self.key.mode])
        chords = [{note.pitch_class for note in chord.notes} for chord in self.chords]
        return any(chord <= scale for scale in scales for chord in chords)

    @property
    def is_unmixed(self) -> bool:
        """Whether every chord is the key's own and its tonic chord among them."""
        return not any(piece.kind in NOT_ITS_OWN for piece in self.evidence)

    @property
    def has_tonic_at_an_end(self) -> bool:
        """Whether the loop starts or ends on the tonic chord."""
        return is_tonic(self.chords[0], self.key) or is_tonic(self.chords[-1], self.key)


class LoopReading(NamedTuple):
    """What a loop's key may be. `fits` holds every key worth naming, likeliest first.

    `other` is the relative of the likeliest key, where it is not worth naming but still a right answer.
    `rests_on` is the chord on which the player said it rests, `refused` its key, where no chord of the loop lies in it:
    then `fits` are what the chords alone allow.
    """

    chords: tuple[Chord, ...]
    fits: tuple[Fit, ...]
    other: Fit | None = None
    rests_on: Chord | None = None
    refused: Fit | None = None

    @property
    def keys(self) -> tuple[Key, ...]:
        """Every key worth naming, likeliest first."""
        return tuple(fit.key for fit in self.fits)

    @property
    def accepted(self) -> tuple[Fit, ...]:
        """Every key that is a right answer to the question which key the loop is in, one that starts it first."""
        fits = (*self.fits, self.other) if self.other else self.fits
        return tuple(sorted(fits, key=lambda fit: not is_tonic(self.chords[0], fit.key)))

    @property
    def is_open_between_relatives(self) -> bool:
        """Whether the right answers are just a minor key and its relative major."""
        return {fit.key for fit in self.accepted} == {self.keys[0], self.keys[0].relative}

    @property
    def is_open(self) -> bool:
        """Whether more than one key is worth naming."""
        return len(self.fits) > 1

    @property
    def is_blues(self) -> bool:
        """Whether every chord is a dominant seventh, as in a blues: there the sevenths are colour and name no key."""
        return is_blues(self.chords)

    @property
    def rests_outside(self) -> bool:
        """Whether the chord it is said to rest on is not among the chords."""
        rest = self.rests_on
        return rest is not None and not any(
            chord.root.sounds_like(rest.root) and chord.third == rest.third for chord in self.chords
        )

    @property
    def profile(self) -> tuple[tuple[Key, float], ...]:
        """The best keys by note counts alone, with their correlations."""
        best = rank_keys(note_counts(self.chords))[:_BEST_PROFILES]
        return tuple((_spelled(key, self.fits), fit) for key, fit in best)


def analyse_loop(chords: tuple[Chord, ...], rests_on: Chord | Key | None = None, mode: str = "") -> LoopReading:
    """Read a loop of 1 to 64 chords, played over and over in this order.

    `rests_on` is the chord on which the player says it rests, or the key in which it does: then that is the only key,
    unless no chord lies in it. `mode` is the mode of that key, where the player names it and it holds all the chords.
    Raises `UsageProblem` for an empty loop, or one of more than `LONGEST_LOOP` chords.
    """
    if not 1 <= len(chords) <= LONGEST_LOOP:
        raise UsageProblem(f"{len(chords)} chords: a loop has 1 to {LONGEST_LOOP}.", "Write the chords of one round.")
    if isinstance(rests_on, Key):
        return _told(chords, tonic_chord(rests_on), mode)
    if rests_on is not None:
        return _told(chords, _chord_meant(chords, rests_on))
    fits = weighed(Fit(key, chords, evidence_for(key, chords)) for key in likely_spellings(chords))
    named, relative = _worth_naming(fits), _relative(fits)
    return LoopReading(chords, named, None if relative in named else relative)


def weighed(fits: Iterable[Fit]) -> tuple[Fit, ...]:
    """The keys with the likelihoods that follow from their evidence, likeliest first; together they are 1."""
    best_first = sorted(fits, key=lambda fit: -fit.score)
    odds = [math.exp(fit.score - best_first[0].score) for fit in best_first]
    return tuple(fit._replace(likelihood=odd / math.fsum(odds)) for fit, odd in zip(best_first, odds, strict=True))


def _worth_naming(fits: tuple[Fit, ...]) -> tuple[Fit, ...]:
    """One key that is nearly certain; else every likely key, and never fewer than two."""
    if fits[0].likelihood >= CERTAIN:
        return fits[:1]
    likely = tuple(fit for fit in fits if fit.likelihood >= WORTH_NAMING)
    if len(likely) >= _FEWEST:
        return likely
    second = _relative(fits) or fits[1]
    return (fits[0], second)


def _relative(fits: tuple[Fit, ...]) -> Fit | None:
    """The relative of the likeliest key, where it is a right answer too.

    All chords must be its own and its tonic chord among them. A dominant that leads home to the likeliest key rules it
    out, unless the tonic of the relative begins or ends the loop.
    """
    likeliest, *others = fits
    relative = next(fit for fit in others if fit.key == likeliest.key.relative)
    decided = any(piece.kind == "cadence" for piece in likeliest.evidence) and not relative.has_tonic_at_an_end
    return relative if relative.is_unmixed and not decided else None


def _chord_meant(chords: tuple[Chord, ...], rests_on: Chord) -> Chord:
    """The chord of the loop that a bare letter means: 'A' where the loop has Am but no A."""
    on_root = [chord for chord in chords if chord.root.sounds_like(rests_on.root)]
    if rests_on.suffix or not on_root or any(chord.third == "3" for chord in on_root):
        return rests_on
    return next((chord for chord in on_root if chord.third), on_root[0])


def _told(chords: tuple[Chord, ...], rests_on: Chord, mode: str = "") -> LoopReading:
    """The reading where the chord of rest is known. One without a third has the third that the other chords sound."""
    third = rests_on.third or _third_heard(chords, rests_on)
    fits = [
        Fit(key, chords, evidence_for(key, chords))
        for key in _keys_on(rests_on, chords)
        if third is None or (third == "b3") == (key.mode == "minor")
    ]
    told = weighed(fits)[0]._replace(likelihood=1.0, told=mode)
    if rests_on.root not in {chord.root for chord in chords}:
        rests_on = rests_on._replace(root=told.key.tonic)
    if not told.holds_a_chord:
        return analyse_loop(chords)._replace(rests_on=rests_on, refused=told)
    return LoopReading(chords, (told,), rests_on=rests_on)


def _keys_on(rests_on: Chord, chords: tuple[Chord, ...]) -> Iterator[Key]:
    """Major and minor on the root of a chord, spelled as the loop has that root, or else as the chord itself."""
    spelled = (rests_on,) if not any(chord.root.sounds_like(rests_on.root) for chord in chords) else chords
    return (key for key in likely_spellings((*spelled, rests_on)) if key.tonic.sounds_like(rests_on.root))


def _third_heard(chords: tuple[Chord, ...], rests_on: Chord) -> str | None:
    """The third above a root that sounds in the chords; None where both do or neither does."""
    heard = {note.pitch_class for chord in chords for note in chord.notes}
    minor, major = ((rests_on.root.pitch_class + step) % 12 in heard for step in (3, 4))
    return None if minor == major else "b3" if minor else "3"


@cache
def _scale_of(key: Key, chords: tuple[Chord, ...]) -> str:
    plain = _MODES[key.mode][0]
    for notes in (_sounds(chords), _sounds(tuple(chord.triad for chord in chords))):
        for scale in _MODES[key.mode]:
            if notes <= {note.pitch_class for note in spell(key.tonic, SCALES[scale])}:
                return scale
    return plain


def _sounds(chords: tuple[Chord, ...]) -> set[int]:
    return {note.pitch_class for chord in chords for note in chord.notes}


def likely_spellings(chords: tuple[Chord, ...]) -> Iterator[Key]:
    """The twenty-four keys; of those that sound alike, the one that writes the chords as given, or has fewer signs."""
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
    """The key as the named readings spell it, where one of them sounds like it."""
    return next((fit.key for fit in fits if fit.key.sounds_like(key)), key)
