"""A second way to every answer: open strings as MIDI numbers, and counting modulo twelve.

Nothing here comes from the program. Cards are solved from their ids alone, as a stranger with a calculator would.

Open strings: LilyPond 2.24.1, string-tunings-init.ly, and MEI's data.COURSETUNING (guitars, basses, ukuleles); half a
step down is standard less one. Spellings: a letter for each degree, and as many signs as the sound then needs.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

NATURALS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
LETTERS = "CDEFGAB"
OPEN_STRINGS = {  # string 1 first
    "standard": (64, 59, 55, 50, 45, 40),
    "half-step-down": (63, 58, 54, 49, 44, 39),
    "drop-d": (64, 59, 55, 50, 45, 38),
    "dadgad": (62, 57, 55, 50, 45, 38),
    "open-g": (62, 59, 55, 50, 43, 38),
    "seven-string": (64, 59, 55, 50, 45, 40, 35),
    "bass": (43, 38, 33, 28),
    "bass-five-string": (43, 38, 33, 28, 23),
    "ukulele": (69, 64, 60, 67),
    "ukulele-low-g": (69, 64, 60, 55),
}
MAJOR, MINOR = (0, 2, 4, 5, 7, 9, 11), (0, 2, 3, 5, 7, 8, 10)
FIVE = (0, 3, 5, 7, 10)
"""The minor pentatonic, semitones above the minor tonic."""
DEGREES = {
    "minor": {0: "1", 3: "b3", 5: "4", 6: "b5", 7: "5", 10: "b7"},
    "major": {0: "1", 2: "2", 3: "b3", 4: "3", 7: "5", 9: "6"},
}
QUALITIES = {(4, 7): "", (3, 7): "m", (3, 6): "dim"}
ROMANS = ("I", "II", "III", "IV", "V", "VI", "VII")


@dataclass(frozen=True)
class Instrument:
    """Open strings with the capo added, and the last fret counted from it."""

    opens: tuple[int, ...]
    last: int

    def sound(self, string: int, fret: int) -> int:
        return self.opens[string - 1] + fret

    def frets(self, string: int, pitch_class: int) -> list[int]:
        return [fret for fret in range(self.last + 1) if self.sound(string, fret) % 12 == pitch_class % 12]


def instrument(tuning: str, frets: int, capo: int) -> Instrument:
    return Instrument(tuple(midi + capo for midi in OPEN_STRINGS[tuning]), frets - capo)


# -- names -------------------------------------------------------------------------------------------------------------


def pitch_class(name: str) -> int:
    return (NATURALS[name[0]] + name.count("#") - name[1:].count("b")) % 12


@cache
def everyday(sound: int) -> set[str]:
    """The natural name, or the sharp and the flat."""
    naturals = {letter for letter, natural in NATURALS.items() if natural == sound % 12}
    return naturals or {name for x in LETTERS for name in (x + "#", x + "b") if pitch_class(name) == sound % 12}


def spelled(letter: str, sound: int) -> str:
    signs = (sound - NATURALS[letter] + 6) % 12 - 6
    return letter + "#" * signs + "b" * -signs


def letter_from(letter: str, steps: int) -> str:
    return LETTERS[(LETTERS.index(letter) + steps) % 7]


@cache
def scale(tonic: str, mode: str) -> list[str]:
    steps = MAJOR if mode == "major" else MINOR
    return [spelled(letter_from(tonic[0], n), pitch_class(tonic) + step) for n, step in enumerate(steps)]


def signs(tonic: str, mode: str) -> int:
    """Sharps of the signature; flats count negative."""
    return sum(name.count("#") - name[1:].count("b") for name in scale(tonic, mode))


@cache
def keys(mode: str, sound: int | None = None, count: int | None = None) -> set[str]:
    """Every key with at most seven signs that sounds so, or has so many signs."""
    tonics = [letter + sign for letter in LETTERS for sign in ("", "#", "b")]
    return {
        f"{tonic} {mode}"
        for tonic in tonics
        if abs(signs(tonic, mode)) <= 7
        and (sound is None or pitch_class(tonic) == sound % 12)
        and (count is None or signs(tonic, mode) == count)
    }


def read_key(short: str) -> tuple[str, str]:
    return (short[:-1], "minor") if short.endswith("m") else (short, "major")


def relative(tonic: str, mode: str) -> str:
    steps, semitones = (-2, -3) if mode == "major" else (2, 3)
    other = "minor" if mode == "major" else "major"
    return f"{spelled(letter_from(tonic[0], steps), pitch_class(tonic) + semitones)} {other}"


def minor_sound(short: str) -> int:
    """The sound of the minor tonic of a key or of its relative."""
    tonic, mode = read_key(short)
    return (pitch_class(tonic) - (3 if mode == "major" else 0)) % 12


# -- shapes ------------------------------------------------------------------------------------------------------------


@cache
def shape(neck: Instrument, string: int, index: int) -> dict[int, list[int]]:
    """The shape with the minor tonic under the index finger on a string: two scale tones a string, up and down."""

    def fret(s: int, n: int) -> int:
        octaves, place = divmod(2 * (string - s) + n, len(FIVE))
        return neck.sound(string, index) + FIVE[place] + 12 * octaves - neck.sound(s, 0)

    return {s: [fret(s, 0), fret(s, 1)] for s in range(1, len(neck.opens) + 1)}


def finger(index: int, fret: int) -> str:
    """One finger a fret; index and little finger may stretch by one."""
    assert -1 <= fret - index <= 4
    return str(min(max(fret - index + 1, 1), 4))


@cache
def anchors(neck: Instrument, string: int, tonic: int) -> list[int]:
    """Index frets at which the whole shape lies on the neck, off the open strings."""
    found = []
    for index in neck.frets(string, tonic):
        frets = [fret for pair in shape(neck, string, index).values() for fret in pair]
        if min(frets) > 0 and max(frets) <= neck.last:
            found.append(index)
    return found


@cache
def box(neck: Instrument, number: int, tonic: int) -> list[list[tuple[int, int]]]:
    """Every place of one of the five shapes, as (string, fret) from the lowest note: two scale tones on each string."""
    lowest_string = len(neck.opens)
    places = []
    for start in neck.frets(lowest_string, tonic + FIVE[number - 1]):
        sounds = [neck.sound(lowest_string, start)]
        while len(sounds) < 2 * lowest_string:
            sounds.append(next(s for s in range(sounds[-1] + 1, sounds[-1] + 4) if (s - tonic) % 12 in FIVE))
        strings = [lowest_string - n // 2 for n in range(len(sounds))]
        frets = [sound - neck.sound(string, 0) for string, sound in zip(strings, sounds, strict=True)]
        if min(frets) >= 1 and max(frets) <= neck.last:
            places.append(list(zip(strings, frets, strict=True)))
    return places


def shape_string(name: str) -> int:
    return int(name.removeprefix("string-"))


# -- cards -------------------------------------------------------------------------------------------------------------

Facets = dict[str, str]
Solver = Callable[[Facets, Instrument], set[str]]


def solve(card_id: str, frets: int) -> set[str] | None:
    """Every right answer of a card on a neck of so many frets; None for families that arithmetic cannot answer."""
    family, *parts = card_id.split(":")
    facets = dict(part.split("=") for part in parts)
    tuning, capo = facets.pop("tuning", "standard"), int(facets.pop("capo", "0"))
    solver = SOLVERS.get(family)
    return solver(facets, instrument(tuning, frets, capo)) if solver else None


def _note_at_fret(facets: Facets, neck: Instrument) -> set[str]:
    return everyday(neck.sound(int(facets["string"]), int(facets["fret"])))


def _fret_of_note(facets: Facets, neck: Instrument) -> set[str]:
    return set(map(str, neck.frets(int(facets["string"]), pitch_class(facets["note"]))))


def _tonic_octave(facets: Facets, neck: Instrument) -> set[str]:
    string, sound = int(facets["string"]), neck.sound(int(facets["string"]), int(facets["fret"]))
    return {str(fret) for fret in range(neck.last + 1) if neck.sound(string - 2, fret) == sound + 12}


def _letter_skip(facets: Facets, neck: Instrument) -> set[str]:
    return {letter_from(facets["note"], 2 if facets["interval"] == "third-up" else -2)}


def _relative(facets: Facets, neck: Instrument) -> set[str]:
    return {relative(*read_key(facets["key"]))}


def _signature(facets: Facets, neck: Instrument) -> set[str]:
    count = signs(*read_key(facets["key"]))
    word = "sharp" if count > 0 else "flat"
    return {f"{abs(count)} {word}{'s' if abs(count) > 1 else ''}" if count else "0"}


def _signature_key(facets: Facets, neck: Instrument) -> set[str]:
    number, _, word = facets["signature"].partition("-")
    return keys(facets["mode"], count=-int(number) if word.startswith("flat") else int(number))


def _tonic_finger(facets: Facets, neck: Instrument) -> set[str]:
    """The finger that holds the tonic on the string of the shape."""
    string, (tonic, _) = shape_string(facets["shape"]), read_key(facets["key"])
    index = anchors(neck, string, minor_sound(facets["key"]))[0]
    held = shape(neck, string, index)[string]
    return {finger(index, fret) for fret in held if neck.sound(string, fret) % 12 == pitch_class(tonic)}


def _finger_key(facets: Facets, neck: Instrument) -> set[str]:
    index = int(facets["fret"]) - (int(facets["finger"]) - 1)
    minor = neck.sound(shape_string(facets["shape"]), index)
    return keys(facets["mode"], sound=minor + (3 if facets["mode"] == "major" else 0))


def _tonic_fret(facets: Facets, neck: Instrument) -> set[str]:
    return set(map(str, neck.frets(int(facets["string"]), pitch_class(read_key(facets["key"])[0]))))


def _shape_anchor(facets: Facets, neck: Instrument) -> set[str]:
    return set(map(str, anchors(neck, shape_string(facets["shape"]), minor_sound(facets["key"]))))


def _other_tonic(facets: Facets, neck: Instrument) -> set[str]:
    index = anchors(neck, shape_string(facets["shape"]), minor_sound(facets["key"]))[0]
    return {str(index + 3 if read_key(facets["key"])[1] == "minor" else index)}


def _neck_diagram(facets: Facets, neck: Instrument) -> set[str]:
    fret, name = int(facets["fret"]), facets["shape"]
    if name.isdecimal():
        found = [t for t in range(12) for spots in box(neck, int(name), t) if min(f for _, f in spots) == fret]
    else:
        string = shape_string(name)
        places = {t: [shape(neck, string, index) for index in anchors(neck, string, t)] for t in range(12)}
        found = [t for t, held in places.items() if fret in [min(map(min, each.values())) for each in held]]
    (minor,) = found
    return keys(facets["mode"], sound=minor + (3 if facets["mode"] == "major" else 0))


def _next_shape(facets: Facets, neck: Instrument) -> set[str]:
    minor, name = minor_sound(facets["key"]), facets["shape"]
    if name.isdecimal():
        return {str(box(neck, int(name), minor)[0][1][1])}  # the upper note of the lowest string begins the next
    here = anchors(neck, shape_string(name), minor)[0]
    other = {6: 5, 5: 6, 4: 3, 3: 4}[shape_string(name)]
    return {str(next(fret for fret in anchors(neck, other, minor) if fret > here))}


def _degree_at(facets: Facets, neck: Instrument) -> set[str]:
    home, string, mode = shape_string(facets["shape"]), int(facets["string"]), facets["mode"]
    tonic = neck.sound(home, 0) + (3 if mode == "major" else 0)  # wherever the hand lies: as if at fret 0
    held = [fret for fret in shape(neck, home, 0)[string] if finger(0, fret) == facets["finger"]]
    held = held or [int(facets["finger"]) - 1]  # a blue note between the notes of the shape
    return {DEGREES[mode][(neck.sound(string, fret) - tonic) % 12] for fret in held}


@cache
def triads(short: str) -> dict[str, set[str]]:
    """Chord name to its numerals, the small letters of a diminished one with or without their sign."""
    tonic, mode = read_key(short)
    names = scale(tonic, mode)
    found: dict[str, set[str]] = {}
    for degree in range(7):
        root, third, fifth = (names[(degree + n) % 7] for n in (0, 2, 4))
        above = tuple((pitch_class(name) - pitch_class(root)) % 12 for name in (third, fifth))
        quality = QUALITIES[above]  # type: ignore[index]
        roman = ROMANS[degree] if quality == "" else ROMANS[degree].lower()
        found[root + quality] = {roman + "o", roman} if quality == "dim" else {roman}
    if mode == "minor":
        found[names[4]] = {"V"}
    return found


def _chord_of_key(facets: Facets, neck: Instrument) -> set[str]:
    return {chord for chord, numerals in triads(facets["key"]).items() if facets["numeral"] in numerals}


def _numeral_of_chord(facets: Facets, neck: Instrument) -> set[str]:
    return triads(facets["key"])[facets["chord"]]


def _chord_tone(facets: Facets, neck: Instrument) -> set[str]:
    string, home = int(facets["string"]), shape_string(facets["shape"])
    index = anchors(neck, home, minor_sound(facets["key"]))[0]
    match = re.fullmatch(r"([A-G][#b]*)(dim|m)?", facets["chord"])
    assert match
    above = next(steps for steps, quality in QUALITIES.items() if quality == (match[2] or ""))
    sounds = {(pitch_class(match[1]) + step) % 12 for step in (0, *above)}
    return {finger(index, fret) for fret in shape(neck, home, index)[string] if neck.sound(string, fret) % 12 in sounds}


SOLVERS: dict[str, Solver] = {
    "note-at-fret": _note_at_fret,
    "fret-of-note": _fret_of_note,
    "tonic-octave": _tonic_octave,
    "letter-skip": _letter_skip,
    "relative-minor": _relative,
    "relative-major": _relative,
    "signature": _signature,
    "signature-key": _signature_key,
    "tonic-finger": _tonic_finger,
    "finger-key": _finger_key,
    "tonic-fret": _tonic_fret,
    "shape-anchor": _shape_anchor,
    "other-tonic": _other_tonic,
    "neck-diagram": _neck_diagram,
    "next-shape": _next_shape,
    "degree-at": _degree_at,
    "chord-of-key": _chord_of_key,
    "numeral-of-chord": _numeral_of_chord,
    "chord-tone": _chord_tone,
}
