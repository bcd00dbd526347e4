"""The plausible confusions of the families about chords (see `confusions`)."""

from __future__ import annotations

import re
from itertools import chain

from tests.questions.slips import (
    MOST_SIGNS,
    OTHER,
    Facets,
    Wrong,
    as_keys,
    counted,
    name_slips,
    other_mode,
    together,
    tonic_of,
)
from tests.support.arithmetic import ROMANS, Instrument, read_key, relative, scale, signs, triads


def _chord_parts(chord: str) -> tuple[str, str]:
    match = re.fullmatch(r"([A-G][#b]*)(dim|m)?", chord)
    assert match
    return match[1], match[2] or ""


def _own_chords(short: str) -> list[str]:
    """The seven triads of a key from the tonic up."""
    tonic, mode = read_key(short)
    roots = scale(tonic, mode)
    return [next(c for c in triads(short) if c in {root, root + "m", root + "dim"}) for root in roots]


def _short(key: str) -> str:
    tonic, mode = key.split()
    return tonic + ("m" if mode == "minor" else "")


def _keys_beside(tonic: str, mode: str) -> set[str]:
    """The keys with a sign more or less."""
    return counted(mode, signs(tonic, mode) - 1) | counted(mode, signs(tonic, mode) + 1)


def chord_of_key(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    short, (chord,) = facets["key"], right
    tonic, mode = read_key(short)
    root, quality = _chord_parts(chord)
    place = scale(tonic, mode).index(root)
    own, count = _own_chords(short), signs(tonic, OTHER[mode])
    near = [own[place - 1], own[(place + 1) % 7]]
    dominant = {scale(tonic, mode)[4]} if mode == "minor" else set()  # major, as it leads home
    slips = {name: {note + quality for note in notes} for name, notes in name_slips(root).items()}
    slips.pop("one letter off")  # the letter beside is the degree beside
    return together(
        slips,
        {
            "wrong quality": {root + other for other in ("", "m", "dim", "aug", "7", "m7", "maj7", "m7b5")},
            "other tonic": {_own_chords(_short(relative(tonic, mode)))[place]},
            "next degree": {*near} | (dominant if place in (3, 5) else set()),
            "parallel for relative": (
                {_own_chords(_short(f"{tonic} {OTHER[mode]}"))[place]} if abs(count) <= MOST_SIGNS else set()
            ),
            "fourth for fifth": {own[{3: 4, 4: 3}[place]]} | (dominant if place == 3 else set())
            if place in (3, 4)
            else set(),
            "wrong way": {own[-place]},  # counted down from the tonic
            "question given back": {own[0]},
            "one sign off": {_own_chords(_short(near))[place] for near in _keys_beside(tonic, mode)},
        },
    )


def _romans(short: str, place: int) -> set[str]:
    return triads(short)[_own_chords(short)[place]]


def numeral_of_chord(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    short, chord = facets["key"], facets["chord"]
    tonic, mode = read_key(short)
    root, _ = _chord_parts(chord)
    place = scale(tonic, mode).index(root)
    plain = ROMANS[place]
    other = _short(relative(tonic, mode))
    there = scale(*read_key(other)).index(root)
    small = chord.endswith(("m", "dim"))
    five = {"V"} if place in (3, 5) else set()  # the major chord on the fifth degree of a minor key
    return {
        "wrong quality": {plain, plain.lower(), plain.lower() + "o"},
        "other tonic": {ROMANS[there].lower() if small else ROMANS[there]} | triads(other).get(chord, set()),
        "next degree": _romans(short, (place - 1) % 7)
        | _romans(short, (place + 1) % 7)
        | (five if place != 4 else set()),
        "fourth for fifth": _romans(short, {3: 4, 4: 3}[place]) | (five if place == 3 else set())
        if place in (3, 4)
        else set(),
        "wrong way": _romans(short, -place % 7),
        "sign added": {sign + (plain.lower() if small else plain) for sign in "b#"},
        "one sign off": set(
            chain.from_iterable(triads(_short(near)).get(chord, ()) for near in _keys_beside(tonic, mode))
        ),
    }


def loop_tonic(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    roots = [re.match(r"([A-G][#b]?)(m(?!aj))?", chord) for chord in facets["loop"].split("-")]
    in_loop = {f"{match[1]} {mode}" for match in roots if match for mode in OTHER}  # a bare root reads as major
    near = [counted(key.split()[1], signs(*key.split()) + step) for key in right for step in (-1, 1)]
    slips = together(*(as_keys(name_slips(tonic_of(key)), key.split()[1]) for key in right))
    return together(
        slips,
        {
            "wrong quality": other_mode(right),
            "other tonic": {relative(*key.split()) for key in right} | in_loop,
            "one sign off": set(chain.from_iterable(near)),
        },
    )
