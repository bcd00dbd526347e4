"""The plausible confusions of the families about shapes (see `confusions`)."""

from __future__ import annotations

from itertools import chain

from tests.questions.slips import (
    OTHER,
    Facets,
    Wrong,
    anchor_strings,
    as_keys,
    beside,
    frets_of,
    held,
    look_for,
    name_slips,
    of_each,
    on_string,
    one_off,
    other_mode,
    together,
    tonic_of,
)
from tests.support.arithmetic import (
    DEGREES,
    FIVE,
    Instrument,
    anchors,
    box,
    finger,
    keys,
    minor_sound,
    pitch_class,
    read_key,
    relative,
    shape,
    shape_string,
)


def tonic_finger(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    string = shape_string(facets["shape"])
    index = anchors(neck, string, minor_sound(facets["key"]))[0]
    with_note = {finger(index, fret) for fret in shape(neck, string, index)[string]}
    return {"wrong finger": with_note, "finger without a note": set("1234") - with_note}


def finger_key(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def tonic_fret(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    tonic, mode = read_key(facets["key"])
    string = int(facets["string"])
    other = tonic_of(relative(tonic, mode))
    return together(
        look_for(tonic, string, facets, neck, right),
        {"other tonic": frets_of(neck, [string], pitch_class(other))},
    )


def shape_anchor(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    tonic, mode = read_key(facets["key"])
    string = shape_string(facets["shape"])
    minor = tonic if mode == "minor" else tonic_of(relative(tonic, mode))
    major = pitch_class(minor) + 3
    find = look_for(minor, string, facets, neck, right)
    return together(
        find,
        {
            "wrong finger": frets_of(neck, [string], major),
            "wrong way": frets_of(neck, [string], major + 3) if mode == "major" else set(),
            "other mode": frets_of(neck, [string], pitch_class(minor) + (3 if mode == "major" else -3)),
        },
    )


def other_tonic(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def neck_diagram(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def next_shape(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def degree_at(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
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


def chord_tone(facets: Facets, neck: Instrument, right: set[str]) -> Wrong:
    string, home = int(facets["string"]), shape_string(facets["shape"])
    index = anchors(neck, home, minor_sound(facets["key"]))[0]
    with_note = {finger(index, fret) for fret in shape(neck, home, index)[string]}
    return {"not a chord tone": with_note, "finger without a note": set("1234") - with_note}
