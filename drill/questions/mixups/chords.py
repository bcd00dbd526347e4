"""A chord or a numeral of a key taken for another: its quality, the degree beside, the other key's."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from drill.questions.mixups.claims import Claim, OneFretApart, SameSound, Sign
from drill.questions.mixups.keys import BY_SIGNATURE
from drill.questions.mixups.mixup import Mixup, MixupName
from drill.questions.mixups.notes import other_signs
from drill.questions.mixups.shape_claims import QUALITIES, ChordQuality, NumeralMeans, NumeralSign
from drill.questions.reasons import same_sound
from drill.theory.chords import Chord
from drill.theory.harmony import ScaleChord, chord_at, dominant, numeral_of, scale_chords
from drill.theory.keys import MOST_SIGNS, Key
from drill.theory.neck import names_of

_DEGREES = 7
_FOURTH_AND_FIFTH = {4: 5, 5: 4}
_RELATIVE, _PARALLEL = "{0}, the relative key.", "{0}, the parallel key."
_BESIDE, _DOWN = "{0}, the degree beside it.", "{0}: that is counted down from the tonic."
_SIGN_OFF = "{0}, a key one sign away."
_EXCHANGED, _HOME = "{0}: fourth and fifth are exchanged.", "{0}, the key's own tonic chord."


def meant(key: Key, chord: Chord) -> NumeralMeans:
    """A chord with its numeral in a key."""
    return NumeralMeans(numeral_of(chord, key), key, chord)


def wrong_chords(key: Key, asked: ScaleChord) -> Iterator[Mixup]:
    """What is taken for the chord of a numeral."""
    right = asked.chord
    for suffix in QUALITIES:
        if suffix != right.suffix:
            wrong = Chord(right.root, suffix)
            qualities = ChordQuality(right, right.suffix), ChordQuality(wrong, suffix)
            yield Mixup("wrong quality", wrong.name, (meant(key, right), *qualities), "{0}: {1}, {2}.")
    for other in same_sound(right.root):
        names = SameSound(other, right.root), meant(key, right)
        yield Mixup("right sound, wrong name", Chord(other, right.suffix).name, names, "{0}, but {1}.")
    yield _chord("other tonic", key.relative, scale_chords(key.relative)[asked.degree - 1], _RELATIVE)
    for each in _beside(key, asked):
        yield _chord("next degree", key, each, _BESIDE)
    if key.parallel:
        yield _chord("parallel for relative", key.parallel, scale_chords(key.parallel)[asked.degree - 1], _PARALLEL)
    yield from _other_roots(right)
    for each in _own(key):
        if each.degree == _FOURTH_AND_FIFTH.get(asked.degree):
            yield _chord("fourth for fifth", key, each, _EXCHANGED)
    for near in _keys_beside(key):
        yield _chord("one sign off", near, scale_chords(near)[asked.degree - 1], _SIGN_OFF)
    yield _chord("wrong way", key, _counted_down(key, asked), _DOWN)
    yield _chord("question given back", key, scale_chords(key)[0], _HOME)


def _chord(name: MixupName, key: Key, each: ScaleChord, frame: str) -> Mixup:
    return Mixup(name, each.chord.name, (meant(key, each.chord),), frame)


def _other_roots(right: Chord) -> Iterator[Mixup]:
    """The chord on the right letter with a wrong sign, or on a root one fret beside."""
    for root, name in other_signs(right.root):
        yield Mixup(name, Chord(root, right.suffix).name, (Sign(root, right.root),))
    for step in (-1, 1):
        for root in names_of((right.root.pitch_class + step) % 12):
            claim: Claim = OneFretApart(root, right.root, step > 0)
            yield Mixup("one fret off", Chord(root, right.suffix).name, (claim,))


def wrong_numerals(key: Key, asked: ScaleChord) -> Iterator[Mixup]:
    """What is taken for the numeral of a chord."""
    right = asked.numeral.removesuffix("o")
    for wrong in (right.swapcase(), right.lower() + "o", right.lower(), right.upper()):
        numeral, chord = _as_read(wrong, key)
        claims = (NumeralMeans(numeral, key, chord), ChordQuality(asked.chord, asked.chord.suffix))
        yield Mixup("wrong quality", numeral, claims, "{0}; {1}.")
    small = right.islower()
    there = ScaleChord(asked.degree, numeral_of(asked.chord, key.relative), asked.chord)
    yield from _numeral_elsewhere("other tonic", key, key.relative, there, _RELATIVE)
    for each in _beside(key, asked):
        yield from _numeral("next degree", key, each, _BESIDE)
    for each in _own(key):
        if each.degree == _FOURTH_AND_FIFTH.get(asked.degree):
            yield from _numeral("fourth for fifth", key, each, _EXCHANGED)
    for near in _keys_beside(key):
        for each in _own(near):
            if each.chord == asked.chord:
                yield from _numeral_elsewhere("one sign off", key, near, each, _SIGN_OFF)
    yield from _numeral("wrong way", key, _counted_down(key, asked), _DOWN)
    for sign in "b#":
        numeral, _ = _as_read(sign + (right.lower() if small else right), key)
        yield Mixup("sign added", numeral, (NumeralSign(numeral, asked.numeral),))


def _numeral(name: MixupName, key: Key, each: ScaleChord, frame: str) -> Iterator[Mixup]:
    for written in dict.fromkeys((each.numeral, each.numeral.removesuffix("o"))):
        numeral, chord = _as_read(written, key)
        yield Mixup(name, numeral, (NumeralMeans(numeral, key, chord),), frame)


def _numeral_elsewhere(name: MixupName, key: Key, other: Key, each: ScaleChord, frame: str) -> Iterator[Mixup]:
    """The numeral that a chord has in another key, answered in this one."""
    for written in dict.fromkeys((each.numeral, each.numeral.removesuffix("o"))):
        answer, _ = _as_read(written, key)
        yield Mixup(name, answer, (NumeralMeans(each.numeral, other, each.chord),), frame)


@cache
def _as_read(numeral: str, key: Key) -> tuple[str, Chord]:
    """A numeral as the answer field of this key understands it: in minor, vii° stands on the raised seventh."""
    chord = chord_at(numeral, key)
    return numeral_of(chord, key), chord


def _own(key: Key) -> tuple[ScaleChord, ...]:
    """The triads of the key; for a minor key the major chord on the fifth degree too."""
    own = scale_chords(key)
    return own if key.mode == "major" else (*own, ScaleChord(5, "V", dominant(key)))


def _beside(key: Key, asked: ScaleChord) -> Iterator[ScaleChord]:
    """The chords one degree below and one above."""
    beside = {(asked.degree - 2) % _DEGREES + 1, asked.degree % _DEGREES + 1}
    return (each for each in _own(key) if each.degree in beside)


def _keys_beside(key: Key) -> Iterator[Key]:
    """The keys with a sign less and with one more."""
    return (
        BY_SIGNATURE[count, key.mode] for count in (key.signature - 1, key.signature + 1) if abs(count) <= MOST_SIGNS
    )


def _counted_down(key: Key, asked: ScaleChord) -> ScaleChord:
    """The chord as many degrees below the tonic as the asked one lies above it."""
    return scale_chords(key)[-(asked.degree - 1)]
