"""The plausible confusions of every family, and what a learner so confused answers to a card.

Each is one thing taken for another: a string for the next, one tonic for the other, a letter for its neighbour. The
wrong answers are counted out from open strings and pitch classes (see tests/support/arithmetic.py), not by the program.

`wrong_answers(card_id, frets, accepts)` gives confusion -> answers, without those that are right. Names of confusions
are those of the record.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import chain

from tests.questions.confusions_in_shapes import (
    chord_tone,
    degree_at,
    finger_key,
    neck_diagram,
    next_shape,
    other_tonic,
    shape_anchor,
    tonic_finger,
    tonic_fret,
)
from tests.questions.confusions_of_chords import chord_of_key, loop_tonic, numeral_of_chord
from tests.questions.slips import (
    MOST_SIGNS,
    OTHER,
    Facets,
    Wrong,
    as_keys,
    beside,
    counted,
    held,
    look_for,
    name_slips,
    of_each,
    one_off,
    other_mode,
    together,
    tonic_of,
)
from tests.support.arithmetic import (
    Instrument,
    everyday,
    instrument,
    keys,
    letter_from,
    pitch_class,
    read_key,
    relative,
    signs,
    spelled,
)

Confused = Callable[[Facets, Instrument, set[str]], Wrong]


def wrong_answers(card_id: str, frets: int, accepts: Iterable[str]) -> Wrong:
    """Every confusion of a card with the answers it leads to."""
    family, *parts = card_id.split(":")
    facets = dict(part.split("=") for part in parts)
    tuning, capo = facets.pop("tuning", "standard"), int(facets.pop("capo", "0"))
    right = set(accepts)
    found = CONFUSIONS[family](facets | {"capo": str(capo)}, instrument(tuning, frets, capo), right)
    return {name: answers - right for name, answers in found.items() if answers - right}


# -- notes and frets ---------------------------------------------------------------------------------------------------


def _note_at_fret(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    string, fret, capo = int(facets["string"]), int(facets["fret"]), int(facets["capo"])
    far = len(neck.opens) + 1 - string
    return together(
        of_each(right),
        {
            "one fret off": everyday(neck.sound(string, fret - 1)) | everyday(neck.sound(string, fret + 1)),
            "other string": set(chain.from_iterable(everyday(neck.sound(s, fret)) for s in beside(neck, string))),
            "strings from the wrong side": everyday(neck.sound(far, fret)),
            "counted from the nut": everyday(neck.sound(string, fret) - capo) if capo else set(),
            "question given back": everyday(neck.sound(string, 0)),
        },
    )


def _fret_of_note(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    return look_for(facets["note"], int(facets["string"]), facets, neck, right)


def _tonic_octave(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    string, fret, goal = int(facets["string"]), int(facets["fret"]), int(next(iter(right)))
    high, sound = string - 2, neck.sound(string, fret)
    return {
        "one fret off": one_off(neck, right),
        "wrong way": held(neck, [2 * fret - goal]),
        "question given back": {str(fret)},
        "right note, wrong octave": held(neck, [goal - 12, goal + 12]),
        "other string": held(
            neck,
            [
                sound + 12 - neck.sound(string - 1, 0),  # the octave, one string too low
                *(neck.sound(near, fret) + 12 - neck.sound(high, 0) for near in beside(neck, string)),
            ],
        ),
    }


def _letter_skip(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    start, way = facets["note"], 1 if facets["interval"] == "third-up" else -1
    return {
        "one letter off": {letter_from(start, way), letter_from(start, 3 * way)},
        "wrong way": {letter_from(start, -2 * way)},
        "question given back": {start},
        "two thirds for one": {letter_from(start, 4 * way)},
    }


# -- keys --------------------------------------------------------------------------------------------------------------


def _relative(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    tonic, mode = read_key(facets["key"])
    goal = relative(tonic, mode)
    count, way = signs(tonic, mode), 3 if mode == "major" else -3
    return together(
        as_keys(name_slips(tonic_of(goal)), OTHER[mode]),
        {
            "parallel for relative": {f"{tonic} {OTHER[mode]}"},
            "wrong way": keys(OTHER[mode], sound=pitch_class(tonic) + way),
            "mode not changed": other_mode(right),
            "question given back": {f"{tonic} {mode}"},
            "one sign off": counted(OTHER[mode], count - 1) | counted(OTHER[mode], count + 1),
        },
    )


def signature_text(count: int) -> set[str]:
    if abs(count) > MOST_SIGNS:
        return set()
    word = "sharp" if count > 0 else "flat"
    return {f"{abs(count)} {word}{'s' if abs(count) > 1 else ''}" if count else "0"}


def _signature(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    tonic, mode = read_key(facets["key"])
    count = signs(tonic, mode)
    slips = name_slips(tonic)
    wrong_majors = keys("major", sound=pitch_class(tonic) - 3) if mode == "minor" else set()

    def of(names: Iterable[str]) -> set[str]:
        return set(chain.from_iterable(signature_text(signs(name, mode)) for name in names))

    return {
        "one sign off": signature_text(count - 1) | signature_text(count + 1),
        "sharp for flat": signature_text(-count),
        "parallel for relative": signature_text(signs(tonic, OTHER[mode])),
        "sign left out": of(slips["sign left out"]),
        "sign added": of(slips["sign added"]),
        "right sound, wrong name": of(slips["right sound, wrong name"]),
        "wrong way": set(chain.from_iterable(signature_text(signs(tonic_of(key), "major")) for key in wrong_majors)),
    }


def _signature_key(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    (key,), mode = right, facets["mode"]
    tonic = tonic_of(key)
    count, other = signs(tonic, mode), relative(tonic, mode)
    last = spelled("FCGDAEB"[count - 1], pitch_class("F#") + 7 * (count - 1)) if count > 0 else ""
    last = spelled("BEADGCF"[-count - 1], pitch_class("Bb") - 7 * (-count - 1)) if count < 0 else last
    return together(
        as_keys(name_slips(tonic), mode),
        {
            "mode not changed": {other} | other_mode(right),
            "parallel for relative": {f"{tonic_of(other)} {mode}"},
            "one sign off": counted(mode, count - 1) | counted(mode, count + 1),
            "sharp for flat": counted(mode, -count),
            "last sign for tonic": {f"{last} {mode}"} if last else set(),
            "wrong way": keys("minor", sound=pitch_class(tonic_of(other)) + 3) if mode == "minor" else set(),
        },
    )


CONFUSIONS: dict[str, Confused] = {
    "note-at-fret": _note_at_fret,
    "fret-of-note": _fret_of_note,
    "tonic-octave": _tonic_octave,
    "letter-skip": _letter_skip,
    "relative-minor": _relative,
    "relative-major": _relative,
    "signature": _signature,
    "signature-key": _signature_key,
    "tonic-finger": tonic_finger,
    "finger-key": finger_key,
    "tonic-fret": tonic_fret,
    "shape-anchor": shape_anchor,
    "other-tonic": other_tonic,
    "neck-diagram": neck_diagram,
    "next-shape": next_shape,
    "degree-at": degree_at,
    "chord-of-key": chord_of_key,
    "numeral-of-chord": numeral_of_chord,
    "loop-tonic": loop_tonic,
    "chord-tone": chord_tone,
    "ear-tonic": lambda facets, neck, right: {"other tonic": {OTHER[mode] for mode in right}},
}
