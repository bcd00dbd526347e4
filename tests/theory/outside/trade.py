"""Facts of the trade: what players and teachers say of the shapes, and what a hand on the neck can count."""

from __future__ import annotations

from collections.abc import Iterator

from drill.theory.harmony import chord_at
from drill.theory.keys import MINOR_KEYS, PRACTICAL_KEYS, Key, parse_key
from drill.theory.landing import inside_and_outside, tones_inside
from drill.theory.neck import STANDARD, Neck, Spot
from drill.theory.neighbours import next_shape
from drill.theory.shapes import Shape, find_shape, five_shapes, placements
from tests.theory.outside.dots import dot_at
from tests.theory.outside.intervals import rise
from tests.theory.outside.registry import Fact, source

PRACTICE = "Common practice, no source"
BY_HAND = "Counted by hand on the neck, no source"
MINORS = [key for key in PRACTICAL_KEYS if key.mode == "minor"]  # one for each of the twelve roots
_NECK = Neck(STANDARD, frets=24)

# Index frets on string 6 and string 5 for every minor root; where the open string would do, twelve frets up.
_ANCHORS = {
    "C": (8, 3), "C#": (9, 4), "D": (10, 5), "D#": (11, 6), "E": (12, 7), "F": (1, 8), "F#": (2, 9), "G": (3, 10),
    "G#": (4, 11), "A": (5, 12), "Bb": (6, 1), "B": (7, 2),
}  # fmt: skip

# The five shapes of a minor key whose tonic lies at fret 0 of string 6: frets string by string from the lowest.
_FRETS = {
    1: "0 3, 0 2, 0 2, 0 2, 0 3, 0 3",
    2: "3 5, 2 5, 2 5, 2 4, 3 5, 3 5",
    3: "5 7, 5 7, 5 7, 4 7, 5 8, 5 7",
    4: "7 10, 7 10, 7 9, 7 9, 8 10, 7 10",
    5: "10 12, 10 12, 9 12, 9 12, 10 12, 10 12",
}
_INDEX = {1: (0,), 2: (2,), 3: (4, 5), 4: (7,), 5: (9,)}

# Where both tonics lie: string and finger, from the lowest string up; shape 3 has no single fingering.
_TONICS = {
    1: ("6:1 4:3 1:1", "6:4 3:1 1:4"),
    2: ("4:1 2:4", "6:2 4:4 1:2"),
    4: ("5:1 3:3", "5:4 2:2"),
    5: ("6:4 3:1 1:4", "5:2 3:4"),
}


def _shape(key: Key, string: int) -> Shape:
    return find_shape(key, STANDARD, f"string-{string}")


def _tonics(shape: Shape) -> tuple[str, str]:
    minor, major = shape.tonic_dots("minor"), shape.tonic_dots("major")
    return (
        " ".join(f"{dot.spot.string}:{dot.finger}" for dot in minor),
        " ".join(f"{dot.spot.string}:{dot.finger}" for dot in major),
    )


@source(PRACTICE, "minor tonic under the index, major tonic under the little finger three frets up, strings 6 and 5")
def anchors() -> Iterator[Fact]:
    for key in MINORS:
        for string, fret in zip((6, 5), _ANCHORS[key.tonic.name], strict=True):
            shape = _shape(key, string)
            minor, major = dot_at(shape, Spot(string, fret)), dot_at(shape, Spot(string, fret + 3))
            yield Fact(f"{key} on string {string}", minor and (minor.note, minor.finger), (key.tonic, 1))
            yield Fact(f"{key.relative} on string {string}", major and (major.note, major.finger), (key.major.tonic, 4))
            yield Fact(f"{key} number on string {string}", shape.number, {6: 1, 5: 4}[string])
            holders = [s for s in five_shapes(key, STANDARD) if s.anchor_string == string]
            yield Fact(f"{key} shapes anchored on string {string}", holders, [shape])


@source(PRACTICE, "three worked keys")
def worked_keys() -> Iterator[Fact]:
    for name, string, index, little in (("D minor", 6, 10, 13), ("F major", 5, 5, 8), ("F minor", 5, 8, 11)):
        shape = _shape(parse_key(name), string)
        dots = (dot_at(shape, Spot(string, index)), dot_at(shape, Spot(string, little)))
        minor = parse_key(name).minor
        found = [dot and (dot.note, dot.finger) for dot in dots]
        yield Fact(name, found, [(minor.tonic, 1), (minor.relative.tonic, 4)])


@source(PRACTICE, "relatives lie two letters and three frets apart")
def relatives() -> Iterator[Fact]:
    for minor in MINOR_KEYS:
        yield Fact(str(minor), rise(minor.tonic, minor.relative.tonic), (2, 3))
        for string in STANDARD.strings:
            fret = _NECK.spots_of(minor.tonic.pitch_class, (string,))[0].fret
            above = _NECK.sounding(Spot(string, fret + 3)) % 12
            yield Fact(f"{minor} on string {string}", above, minor.relative.tonic.pitch_class)


@source(BY_HAND, "the five shapes fret by fret, 15 keys")
def shape_frets() -> Iterator[Fact]:
    for key in MINOR_KEYS:
        root = _NECK.spots_of(key.tonic.pitch_class, (6,))[0].fret
        for shape in five_shapes(key, STANDARD):
            lift = shape.dots[0].spot.fret - int(_FRETS[shape.number].split()[0]) - root
            strings = [pair.split() for pair in _FRETS[shape.number].split(", ")]
            theirs = [root + lift + int(fret) for pair in strings for fret in pair]
            yield Fact(f"{key} shape {shape.number}", [dot.spot.fret for dot in shape.dots], theirs)
            yield Fact(f"{key} shape {shape.number} is whole octaves away", lift % 12, 0)
            index = tuple(root + lift + offset for offset in _INDEX[shape.number])
            yield Fact(f"{key} shape {shape.number}, index", shape.index_frets, index)


@source(BY_HAND, "where both tonics lie in the shapes with a single fingering, 15 keys")
def shape_tonics() -> Iterator[Fact]:
    for key in MINOR_KEYS:
        for shape in five_shapes(key, STANDARD):
            if shape.number in _TONICS:
                yield Fact(f"{key} shape {shape.number}", _tonics(shape), _TONICS[shape.number])
            yield Fact(f"{key} shape {shape.number} tie", shape.tied, shape.number not in _TONICS)


@source(PRACTICE, "two frets above the A-string shape starts the next low-E-string shape, 12 roots")
def next_low_e_shape() -> Iterator[Fact]:
    for key in MINORS:
        lower = _shape(key, 5)
        top = lower.highest_fret
        upper = next(s for s in placements(key, _NECK, 1) if s.index_fret > lower.index_fret)
        yield Fact(f"{key} top of the A-string shape", top, lower.index_fret + 3)
        yield Fact(f"{key} next low-E-string shape", upper.index_fret, top + 2)
        same = _NECK.sounding(Spot(6, upper.index_fret)), _NECK.sounding(Spot(5, lower.index_fret))
        yield Fact(f"{key} both start on one pitch", same[0], same[1])


# Frets from each shape, 1 to 5, to the next, by either measure.
_RISE_OF_LOWEST_NOTE = (3, 2, 2, 3, 2)
_RISE_OF_LOWEST_FRET = (2, 2, 3, 2, 3)


@source(BY_HAND, "how far the next shape lies, by lowest note and by lowest fret, 15 keys")
def rises() -> Iterator[Fact]:
    for key in MINOR_KEYS:
        for shape in five_shapes(key, STANDARD):
            upper = next_shape(shape, STANDARD)
            where = f"{key} shape {shape.number}"
            lowest_notes = upper.dots[0].spot.fret - shape.dots[0].spot.fret
            yield Fact(f"{where}, notes", lowest_notes, _RISE_OF_LOWEST_NOTE[shape.number - 1])
            yield Fact(f"{where}, frets", upper.lowest_fret - shape.lowest_fret, _RISE_OF_LOWEST_FRET[shape.number - 1])


# How many of three chord tones lie in the minor pentatonic, by numeral of the minor key.
_TONES_INSIDE = {"i": 3, "III": 3, "iv": 2, "v": 2, "VI": 2, "VII": 2, "V": 1, "iio": 1}


@source(BY_HAND, "how many chord tones a shape holds, 15 keys, five shapes")
def tones_in_shapes() -> Iterator[Fact]:
    for key in MINOR_KEYS:
        for shape in five_shapes(key, STANDARD):
            for numeral, count in _TONES_INSIDE.items():
                chord = chord_at(numeral, key)
                inside = {tone.degree for tone in tones_inside(shape, chord)}
                where = f"{numeral} of {key} in shape {shape.number}"
                yield Fact(f"{where}, inside", len(inside), count)
                yield Fact(f"{where}, outside", len(inside_and_outside(chord, key)[1]), 3 - count)


@source(PRACTICE, "the same tonic two strings up: two frets, or three across the G and B strings")
def octaves() -> Iterator[Fact]:
    for string, frets in {6: 2, 5: 2, 4: 3, 3: 3}.items():
        for fret in range(12):
            low, high = (_NECK.sounding(Spot(string - up, fret + add)) for up, add in ((0, 0), (2, frets)))
            yield Fact(f"string {string} fret {fret}", high - low, 12)
