"""What a note is taken for, and the lists of wrong answers that the confusions of the families are made of."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain

from tests.support.arithmetic import LETTERS, Instrument, everyday, keys, letter_from, pitch_class, spelled

Facets = dict[str, str]
Wrong = dict[str, set[str]]

OTHER = {"major": "minor", "minor": "major"}
MOST_SIGNS = 7


def sign_of(name: str) -> str:
    return name[1:]


def names_of_sound(sound: int) -> set[str]:
    """Every name with at most two signs."""
    return {spelled(letter, sound) for letter in LETTERS if len(spelled(letter, sound)) <= 3}


def name_slips(name: str) -> Wrong:
    """What a note is taken for: by its sign, by its letter, by its sound."""
    letter, sign = name[0], sign_of(name)
    beside = [letter_from(letter, step) for step in (-1, 1)]
    return {
        "right sound, wrong name": names_of_sound(pitch_class(name)) - {name},
        "sign left out": {letter} if sign else set(),
        "sign added": set() if sign else {letter + "#", letter + "b"},
        "sharp for flat": {letter + ("b" if sign == "#" else "#")} if len(sign) == 1 else set(),
        "one letter off": {other + keep for other in beside for keep in ("", sign)},
        "one fret off": set(chain.from_iterable(everyday(pitch_class(name) + step) for step in (-1, 1))),
    }


def together(*parts: Wrong) -> Wrong:
    """Several lists of confusions as one."""
    found: Wrong = {}
    for part in parts:
        for name, answers in part.items():
            found.setdefault(name, set()).update(answers)
    return found


def of_each(names: Iterable[str]) -> Wrong:
    return together(*map(name_slips, names))


def as_keys(wrong: Wrong, mode: str) -> Wrong:
    return {name: {f"{tonic} {mode}" for tonic in tonics} for name, tonics in wrong.items()}


def on_string(wrong: Wrong, neck: Instrument, string: int) -> Wrong:
    """Names as the frets of a string; a sound has the same frets whatever it is called."""
    return {
        name: set(map(str, chain.from_iterable(neck.frets(string, pitch_class(note)) for note in notes)))
        for name, notes in wrong.items()
        if name not in ("right sound, wrong name", "one fret off")
    }


def anchor_strings(neck: Instrument) -> set[int]:
    """The strings of the two shapes: 6 and 5 of a guitar with or without a low B, 4 and 3 of a bass likewise."""
    lowest = {7: 6, 5: 4}.get(len(neck.opens), len(neck.opens))
    return {lowest, lowest - 1}


def beside(neck: Instrument, string: int) -> list[int]:
    return [other for other in (string - 1, string + 1) if 1 <= other <= len(neck.opens)]


def held(neck: Instrument, frets: Iterable[int]) -> set[str]:
    return {str(fret) for fret in frets if 0 <= fret <= neck.last}


def one_off(neck: Instrument, right: Iterable[str]) -> set[str]:
    return held(neck, [int(fret) + step for fret in right for step in (-1, 1)])


def frets_of(neck: Instrument, strings: Iterable[int], sound: int) -> set[str]:
    return set(map(str, chain.from_iterable(neck.frets(string, sound) for string in strings)))


def look_for(note: str, string: int, facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    """A note looked for on a string."""
    sound, capo, far = pitch_class(note), int(facets["capo"]), len(neck.opens) + 1 - string
    return together(
        on_string(name_slips(note), neck, string),
        {
            "one fret off": one_off(neck, right),
            "other string": frets_of(neck, beside(neck, string), sound),
            "strings from the wrong side": frets_of(neck, [far], sound),
            "counted from the nut": held(neck, [int(fret) + capo for fret in right]) if capo else set(),
            "right note, wrong octave": frets_of(neck, [string], sound),
        },
    )


def tonic_of(key: str) -> str:
    return key.split()[0]


def counted(mode: str, count: int) -> set[str]:
    return keys(mode, count=count) if abs(count) <= MOST_SIGNS else set()


def other_mode(right: Iterable[str]) -> set[str]:
    """The same tonic in the other mode."""
    return {f"{tonic_of(key)} {OTHER[key.split()[1]]}" for key in right}
