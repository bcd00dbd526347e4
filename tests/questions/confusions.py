"""The plausible confusions of every family, and what a learner so confused answers to a card.

Each is one thing taken for another: a string for the next, one tonic for the other, a letter for its neighbour. The
wrong answers are counted out from open strings and pitch classes (see tests/support/arithmetic.py), not by the program.

`wrong_answers(card_id, frets, accepts)` gives confusion -> answers, without those that are right. Names of confusions
are those of the record.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from itertools import chain

from tests.support.arithmetic import (
    DEGREES,
    FIVE,
    LETTERS,
    ROMANS,
    Instrument,
    anchors,
    box,
    everyday,
    finger,
    instrument,
    keys,
    letter_from,
    minor_sound,
    pitch_class,
    read_key,
    relative,
    scale,
    shape,
    shape_string,
    signs,
    spelled,
    triads,
)

Facets = dict[str, str]
Wrong = dict[str, set[str]]
Confused = Callable[[Facets, Instrument, set[str]], Wrong]

OTHER = {"major": "minor", "minor": "major"}
MOST_SIGNS = 7


def wrong_answers(card_id: str, frets: int, accepts: Iterable[str]) -> Wrong:
    """Every confusion of a card with the answers it leads to."""
    family, *parts = card_id.split(":")
    facets = dict(part.split("=") for part in parts)
    tuning, capo = facets.pop("tuning", "standard"), int(facets.pop("capo", "0"))
    right = set(accepts)
    found = CONFUSIONS[family](facets | {"capo": str(capo)}, instrument(tuning, frets, capo), right)
    return {name: answers - right for name, answers in found.items() if answers - right}


# -- names -------------------------------------------------------------------------------------------------------------


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


def _find_note(note: str, string: int, facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def _fret_of_note(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    return _find_note(facets["note"], int(facets["string"]), facets, neck, right)


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


def tonic_of(key: str) -> str:
    return key.split()[0]


def counted(mode: str, count: int) -> set[str]:
    return keys(mode, count=count) if abs(count) <= MOST_SIGNS else set()


def other_mode(right: Iterable[str]) -> set[str]:
    """The same tonic in the other mode."""
    return {f"{tonic_of(key)} {OTHER[key.split()[1]]}" for key in right}


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


# -- the two shapes ----------------------------------------------------------------------------------------------------


def _tonic_finger(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    string = shape_string(facets["shape"])
    index = anchors(neck, string, minor_sound(facets["key"]))[0]
    with_note = {finger(index, fret) for fret in shape(neck, string, index)[string]}
    return {"wrong finger": with_note, "finger without a note": set("1234") - with_note}


def _finger_key(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    string, mode, fret = shape_string(facets["shape"]), facets["mode"], int(facets["fret"])
    sound, under_index = neck.sound(string, fret), facets["finger"] == "1"
    holds = "minor" if under_index else "major"
    # the other finger on this fret: the index would be minor's, the little finger major's
    if_other_minor = sound - 3 if under_index else sound
    to_relative = 3 if holds == "minor" else -3
    apart = (pitch_class(tonic_of(next(iter(right)))) - sound) % 12
    others = {f"{tonic} {m}" for key in right for tonic, m in [relative(*key.split()).split()]}
    return together(
        as_keys(of_each(map(tonic_of, right)), mode),
        {
            "wrong finger": keys(mode, sound=if_other_minor + (3 if mode == "major" else 0)),
            "mode not changed": others | other_mode(right),
            "other tonic": {f"{tonic_of(key)} {mode}" for key in others},
            "wrong way": set() if holds == mode else keys(mode, sound=sound - to_relative),
            "other string": set(
                chain.from_iterable(keys(mode, sound=neck.sound(s, fret) + apart) for s in beside(neck, string))
            ),
        },
    )


def _tonic_fret(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    tonic, mode = read_key(facets["key"])
    string = int(facets["string"])
    other = tonic_of(relative(tonic, mode))
    return together(
        _find_note(tonic, string, facets, neck, right),
        {"other tonic": frets_of(neck, [string], pitch_class(other))},
    )


def _shape_anchor(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    tonic, mode = read_key(facets["key"])
    string = shape_string(facets["shape"])
    minor = tonic if mode == "minor" else tonic_of(relative(tonic, mode))
    major = pitch_class(minor) + 3
    find = _find_note(minor, string, facets, neck, right)
    return together(
        find,
        {
            "wrong finger": frets_of(neck, [string], major),
            "wrong way": frets_of(neck, [string], major + 3) if mode == "major" else set(),
            "other mode": frets_of(neck, [string], pitch_class(minor) + (3 if mode == "major" else -3)),
        },
    )


def _other_tonic(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    tonic, mode = read_key(facets["key"])
    string, goal = shape_string(facets["shape"]), int(next(iter(right)))
    here = goal - 3 if mode == "minor" else goal + 3
    wanted = tonic_of(relative(tonic, mode))
    return together(
        on_string({"one letter off": name_slips(wanted)["one letter off"]}, neck, string),
        {
            "wrong way": held(neck, [2 * here - goal]),
            "one fret off": one_off(neck, right),
            "question given back": {str(here)},
            "right note, wrong octave": held(neck, [goal - 12, goal + 12]),
            "other string": frets_of(neck, anchor_strings(neck) - {string}, pitch_class(wanted)),
        },
    )


def _dots(name: str, neck: Instrument, minor: int) -> list[list[tuple[int, int]]]:
    """Every place of a shape by its name, as (string, fret) from the lowest note up."""
    if name.isdecimal():
        return box(neck, int(name), minor)
    string = shape_string(name)
    strings = range(len(neck.opens), 0, -1)
    return [
        [(s, fret) for s in strings for fret in shape(neck, string, index)[s]] for index in anchors(neck, string, minor)
    ]


def _neck_diagram(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    mode, name, fret = facets["mode"], facets["shape"], int(facets["fret"])
    up = 3 if mode == "major" else 0
    minor = (pitch_class(tonic_of(next(iter(right)))) - up) % 12
    drawn = next(spots for spots in _dots(name, neck, minor) if min(f for _, f in spots) == fret)
    lowest = neck.sound(*drawn[0])
    numbers = ("1", "2", "3", "4", "5")
    mistaken = [
        t for number in numbers for t in range(12) for spots in box(neck, int(number), t) if spots[0] == drawn[0]
    ]
    if not name.isdecimal():  # or the index finger is thought to hold the tonic, on another string than it does
        index = next(
            fret for string, fret in drawn if string == shape_string(name) and neck.sound(string, fret) % 12 == minor
        )
        mistaken += [neck.sound(*spot) for spot in drawn if finger(index, spot[1]) == "1"]
    others = {relative(*key.split()) for key in right}
    return together(
        as_keys(of_each(map(tonic_of, right)), mode),
        {
            "other tonic": {f"{tonic_of(key)} {mode}" for key in others},
            "mode not changed": others | other_mode(right),
            "lowest note for tonic": keys(mode, sound=lowest),
            "other shape": set(chain.from_iterable(keys(mode, sound=t + up) for t in mistaken if t % 12 != minor)),
            "wrong way": keys("major", sound=minor - 3) if mode == "major" else set(),
        },
    )


def _next_shape(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    name, minor, goal = facets["shape"], minor_sound(facets["key"]), int(next(iter(right)))
    here = _dots(name, neck, minor)[0]
    top = max(fret for _, fret in here)
    common = {"one fret off": one_off(neck, right), "top for the next": {str(top)}}
    if name.isdecimal():
        start, number = here[0][1], int(name)
        steps = [(FIVE[(n + 1) % 5] - FIVE[n]) % 12 for n in range(5)]
        beyond = goal + steps[number % 5]
        column = [fret for n, (_, fret) in enumerate(here) if n % 2]  # the upper notes: the next shape's lower ones
        return together(
            common,
            {
                "question given back": {str(start)},
                "wrong way": held(neck, [start - steps[number - 2], goal - 12]),
                "other shape": held(neck, [start + 12, beyond]),
                "lowest fret for lowest note": {str(min(column))},
            },
        )
    index = next(i for i in anchors(neck, shape_string(name), minor))
    nearer = min(fret for n, (_, fret) in enumerate(here) if n % 2)  # the lowest fret of the next of the five shapes
    return together(
        common,
        {
            "question given back": {str(index)},
            "wrong way": held(neck, [goal - 12]),
            "other shape": held(neck, [index + 12, index + 12 - (goal - index), nearer]),
            "wrong finger": held(neck, [goal + 3]),
        },
    )


# -- degrees, chords, loops --------------------------------------------------------------------------------------------


def _degree_at(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    home, string, mode = shape_string(facets["shape"]), int(facets["string"]), facets["mode"]
    (degree,) = right
    number, sign = degree.lstrip("b#"), degree[0] if degree[0] in "b#" else ""
    semitone = next(step for step, name in DEGREES[mode].items() if name == degree)
    # the two tonics lie three semitones apart, the major one higher
    from_other = DEGREES[OTHER[mode]].get((semitone + (3 if mode == "major" else -3)) % 12)
    five = [DEGREES[mode][step] for step in sorted(DEGREES[mode]) if mode == "minor" or step != 3]
    five = [name for name in five if name != "b5"]

    def degrees_of(home: int, string: int) -> dict[str, str]:
        """Finger to degree on a string of a shape laid at fret 0."""
        tonic = neck.sound(home, 0) + (3 if mode == "major" else 0)
        blue = [fret for fret in range(4) if (neck.sound(string, fret) - neck.sound(home, 0)) % 12 == 6]
        frets = [*blue, *shape(neck, home, 0)[string]]
        return {finger(0, fret): DEGREES[mode][(neck.sound(string, fret) - tonic) % 12] for fret in frets}

    step_of = {name: step for step, name in DEGREES[mode].items()}
    below = [name for name in five if step_of[name] < semitone] or five
    above = [name for name in five if step_of[name] > semitone] or five
    strings = beside(neck, string)
    return {
        "other tonic": {from_other} if from_other else set(),
        "wrong finger": {name for f, name in degrees_of(home, string).items() if f != facets["finger"]},
        "other string": {
            name for s in strings for f, name in degrees_of(home, s).items() if f == facets["finger"]
        },
        "other shape": {
            name
            for other in anchor_strings(neck) - {home}
            for f, name in degrees_of(other, string).items()
            if f == facets["finger"]
        },
        "next degree": {below[-1], above[0]},
        "sign left out": {number} if sign else set(),
        "sign added": {f"b{number}", f"#{number}"} if not sign and number not in "1" else set(),
        "sharp for flat": {f"{'#' if sign == 'b' else 'b'}{number}"} if sign else set(),
        "fourth for fifth": {{"4": "5", "5": "4"}[degree]} if degree in ("4", "5") else set(),
        "question given back": {facets["finger"]},
        "note for degree": {str(five.index(degree) + 1)} if degree in five else set(),
    }  # fmt: skip


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


def _chord_of_key(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def _numeral_of_chord(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def _loop_tonic(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def _chord_tone(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    string, home = int(facets["string"]), shape_string(facets["shape"])
    index = anchors(neck, home, minor_sound(facets["key"]))[0]
    with_note = {finger(index, fret) for fret in shape(neck, home, index)[string]}
    return {"not a chord tone": with_note, "finger without a note": set("1234") - with_note}


CONFUSIONS: dict[str, Confused] = {
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
    "loop-tonic": _loop_tonic,
    "chord-tone": _chord_tone,
}
