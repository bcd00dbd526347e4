"""What in a chord loop speaks for a key, and how strongly: sixteen signs a musician can name, each with one weight.

The weights were fitted once to loops of real songs, each with the key that a listener wrote down (the McGill Billboard
annotations, CC0), as a choice among twenty-four keys; `tests/benchmarks/loops.py --fit` repeats that, and says how well
the weights do on songs they were not fitted to.

>>> from drill.theory.chords import parse_chords
>>> from drill.theory.keys import parse_key
>>> [(piece.kind, piece.chord.name) for piece in evidence_for(parse_key("Am"), parse_chords("Am G F E")) if piece.said]
[('start', 'Am'), ('cadence', 'E')]
"""

from collections.abc import Iterator, Mapping
from itertools import groupby, pairwise
from typing import Literal, NamedTuple

from drill.theory.chords import Chord
from drill.theory.functions import above_tonic, function_of, is_dominant, is_tonic, respelled
from drill.theory.keys import Key

EvidenceKind = Literal[
    "own chords", "borrowed", "far", "dominant of another", "no tonic", "start", "end", "steady", "share", "bass",
    "cadence", "dominant seventh", "close", "plagal", "double plagal", "falling fifths", "fourth",
]  # fmt: skip

WEIGHTS: Mapping[str, float] = {
    "minor": -0.8, "own chords": 1.7, "far": -0.8, "dominant of another": -0.3,
    "start": 1.4, "end": 0.2, "steady": 0.8, "share": 1.1, "bass": 0.6,
    "cadence": 0.7, "dominant seventh": 0.5, "close": 0.5, "plagal": 0.7, "double plagal": 0.7, "falling fifths": 1.0,
    "fourth": 0.5,
}  # fmt: skip
"""How much each sign counts, as the logarithm of the odds; 'minor' is how much rarer minor keys are."""

_UNSAID = ("steady", "share", "fourth", "own chords", "dominant seventh", "close")
"""Signs that count but would only lengthen a sentence."""
NOT_ITS_OWN = ("borrowed", "far", "dominant of another", "no tonic")
"""Signs that a chord is not the key's own, or that its tonic chord is not there."""
PAIR = 2
"""In a loop of two chords either is as much the last as the first, so an end counts for nothing."""


class Evidence(NamedTuple):
    """One sign for a key (weight above 0) or against it (below 0); a weight of 0 only describes.

    `chord` is the chord it lies in, None where it lies in none; `target` is where a cadence leads.
    """

    kind: EvidenceKind
    weight: float
    chord: Chord | None = None
    target: Chord | None = None

    @property
    def said(self) -> bool:
        """Whether a sentence about the key names it; that a chord's own root lies in its bass goes without saying."""
        own_bass = self.kind == "bass" and self.chord is not None and self.chord.bass is None
        return self.kind not in _UNSAID and not own_bass

    def with_names(self, as_written: Mapping[Chord, Chord]) -> "Evidence":
        """The same sign of the chords that are there: A7, where it was weighed as A."""
        chord, target = (each and as_written.get(each, each) for each in (self.chord, self.target))
        return self._replace(chord=chord, target=target)


def evidence_for(key: Key, chords: tuple[Chord, ...]) -> tuple[Evidence, ...]:
    """All signs for and against a key in one round of a loop, the chords respelled where the key needs it."""
    round_of_it = one_round(chords)
    heard = tuple(chord.triad for chord in round_of_it) if is_blues(chords) else round_of_it
    seen = _Round(key, round_of_it, tuple(respelled(chord, key) for chord in heard))
    as_written = dict(zip(reversed(seen.chords), reversed(round_of_it), strict=True))
    found = (*seen.belonging(), *seen.placing(), *seen.leading())
    return tuple(piece.with_names(as_written) for piece in found)


def is_blues(chords: tuple[Chord, ...]) -> bool:
    """Whether every chord is a dominant seventh: there the sevenths are colour and name no key."""
    return all(chord.is_dominant_seventh for chord in chords)


def one_round(chords: tuple[Chord, ...]) -> tuple[Chord, ...]:
    """The loop without repeats: a chord held for two bars is one, and a round played twice is one round."""
    once = tuple(chord for chord, _ in groupby(chords))
    lengths = (length for length in range(1, len(once) + 1) if len(once) % length == 0)
    return next(once[:length] for length in lengths if once[:length] * (len(once) // length) == once)


def _weighed(kind: EvidenceKind, chord: Chord | None = None, target: Chord | None = None, of: float = 1) -> Evidence:
    return Evidence(kind, WEIGHTS[kind] * of, chord, target)


class _Round(NamedTuple):
    """One round of a loop as a key sees it: `written` with its bass notes, `chords` as the key spells them."""

    key: Key
    written: tuple[Chord, ...]
    chords: tuple[Chord, ...]

    @property
    def homes(self) -> tuple[Chord, ...]:
        """Every tonic chord of the round."""
        return tuple(chord for chord in self.chords if is_tonic(chord, self.key))

    def place(self, index: int) -> int:
        """Semitones from the tonic up to the root of a chord; past the last chord comes the first."""
        return above_tonic(self.chords[index % len(self.chords)], self.key)

    def moves(self) -> list[tuple[Chord, Chord]]:
        """Each chord with the one that follows it, the last with the first; of a pair only the way home."""
        along = list(pairwise(self.chords))
        if len(self.chords) == PAIR and self._leads_on:
            return along
        return [*(along if len(self.chords) > PAIR else []), (self.chords[-1], self.chords[0])]

    def belonging(self) -> Iterator[Evidence]:
        """Which chords are the key's own."""
        if all(function_of(chord.triad, self.key).kind == "own" for chord in self.chords):
            yield _weighed("own chords")
        for chord in dict.fromkeys(self.chords):
            function = function_of(chord, self.key)
            if function.distance > 1 or (function.target and not self._resolves(chord)):
                yield _weighed("far", chord)
            elif function.target:
                yield _weighed("dominant of another", chord)
            elif function.distance:
                yield Evidence("borrowed", 0, chord)
        if not self.homes:
            yield Evidence("no tonic", 0)

    def placing(self) -> Iterator[Evidence]:
        """Where the tonic chord stands, how much of the loop it takes and how steady it sounds."""
        first, last, homes = self.chords[0], self.chords[-1], self.homes
        if is_tonic(first, self.key) and not self._leads_on:
            yield _weighed("start", self.written[0])
        if is_tonic(last, self.key) and len(self.chords) != PAIR:
            yield _weighed("end", self.written[-1])
        if steady := [chord for chord in homes if chord.third and not chord.is_dominant_seventh]:
            yield _weighed("steady", steady[0])
        if homes:
            yield _weighed("share", homes[0], of=len(homes) / len(self.chords))
        over_it = [
            written
            for written, chord in zip(self.written, self.chords, strict=True)
            if not is_tonic(chord, self.key) and (written.bass or written.root).sounds_like(self.key.tonic)
        ]
        if over_it:
            told = next((chord for chord in over_it if chord.bass), over_it[0])
            yield _weighed("bass", told, of=len(over_it) / len(self.chords))

    @property
    def _leads_on(self) -> bool:
        """Whether the first chord is a dominant seventh that falls a fifth at once: then it is no home to start from.

        It may be one where the second chord is such a seventh, too: then sevenths are colour, as in a blues.
        """
        first, second = self.chords[0], self.chords[1 % len(self.chords)]
        falls = (second.root.pitch_class - first.root.pitch_class) % 12 == 5
        return first.is_dominant_seventh and falls and not second.is_dominant_seventh

    def leading(self) -> Iterator[Evidence]:
        """What leads to the tonic: the fifth, the fourth, two fourths in a row, a chain of falling fifths."""
        home = [(before, after) for before, after in self.moves() if is_tonic(after, self.key)]
        cadences = [move for move in home if is_dominant(move[0], self.key)]
        if cadences:
            yield _weighed("cadence", *cadences[0])
        if sevenths := [move for move in cadences if "b7" in move[0].formula]:
            yield _weighed("dominant seventh", *sevenths[0])
        last = tuple(self.chords[-2:])
        if len(self.chords) > PAIR and last in cadences:
            yield _weighed("close", *last)
        if plagal := [move for move in home if above_tonic(move[0], self.key) == 5]:
            yield _weighed("plagal", *plagal[0])
        yield from self._double_plagal()
        yield from self._falling_fifths()
        fourths = [chord for chord in self.chords if above_tonic(chord, self.key) == 5]
        if own := [chord for chord in fourths if function_of(chord, self.key).kind == "own"]:
            yield _weighed("fourth", own[0])

    def _double_plagal(self) -> Iterator[Evidence]:
        """bVII IV I in a loop without a minor chord, as in rock."""
        if len(self.chords) > PAIR and all(chord.third != "b3" for chord in self.chords):
            for index, chord in enumerate(self.chords):
                if is_tonic(chord, self.key) and (self.place(index - 2), self.place(index - 1)) == (10, 5):
                    yield _weighed("double plagal", self.chords[index - 2], chord)
                    return

    def _falling_fifths(self) -> Iterator[Evidence]:
        """Three chords that fall by fifths into the tonic, or four where the tonic is left to the ear."""
        for index, chord in enumerate(self.chords):
            if chord.third and is_dominant(chord, self.key):
                length, following = self._chain(index), self.chords[(index + 1) % len(self.chords)]
                goes_on = len(self.chords) > PAIR and self.place(index + 2) == 5
                lands = is_tonic(following, self.key) and not goes_on
                if (lands and length >= 3) or (length >= 4 and self.place(index + 1) != 0):
                    start = self.chords[(index - length + 1) % len(self.chords)]
                    yield _weighed("falling fifths", start, following if lands else None)
                    return

    def _chain(self, end: int) -> int:
        """How many chords in a row fall by fifths, the last of them at `end`."""
        length = 1
        while length < len(self.chords) and self.place(end - length) == (self.place(end - length + 1) + 7) % 12:
            length += 1
        return length

    def _resolves(self, chord: Chord) -> bool:
        """Whether a fifth lower follows the chord anywhere in the round."""
        count = len(self.chords)
        return any(
            (self.place(index) - self.place((index + 1) % count)) % 12 == 7
            for index, other in enumerate(self.chords)
            if other == chord
        )
