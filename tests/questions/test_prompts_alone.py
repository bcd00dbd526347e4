"""Every prompt answered from its words alone, by counting, on necks of several kinds.

The reader knows the instrument and plain terms, and never sees a card's facets or its picture.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

import pytest

from drill.decks import shipped_decks
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.wording import to_ascii
from drill.system.tunings import find_tuning
from drill.theory.neck import Neck
from tests.support.arithmetic import (
    FIVE,
    OPEN_STRINGS,
    SOLVERS,
    Facets,
    Instrument,
    anchors,
    instrument,
    keys,
    pitch_class,
    shape,
)
from tests.support.necks import NECKS

FINGERS = {"index": "1", "middle": "2", "ring": "3", "little": "4"}
NOTE = "[A-G][#b]*"
KEY = rf"(?P<key>{NOTE} (?:major|minor))"
STRING = r"string (?P<string>\d) \((?:(?:low|high|middle) )?[A-G][#b]*\)"
SHAPE = rf"(?P<shape>(?:(?:low|high|middle)-)?{NOTE}-string shape|shape that starts on the b?\d)"
CAPO = r"(?:, counted from the capo)?"

Reader = Callable[[Facets, Instrument], set[str]]


def _with(family: str) -> Reader:
    """The answer by the facets that the words name, worked out as for the card's id."""
    return lambda said, neck: SOLVERS[family](said, neck)


def _octave(said: Facets, neck: Instrument) -> set[str]:
    sound = neck.sound(int(said["string"]), int(said["fret"])) + 12
    return {str(fret) for fret in range(neck.last + 1) if neck.sound(int(said["there"]), fret) == sound}


def _third_above_home(said: Facets, neck: Instrument) -> set[str]:
    """The chords rest on the last of them; of the five notes one lies three semitones above it, or four."""
    steps = {(pitch_class(note) - pitch_class(said["home"])) % 12 for note in said["notes"].split()}
    return {mode for mode, third in (("minor", 3), ("major", 4)) if third in steps}


def _signature(said: Facets, neck: Instrument) -> set[str]:
    count = 0 if said["count"] == "No" else int(said["count"])
    return keys(said["mode"], count=-count if said["sort"].startswith("flat") else count)


def _other_tonic(said: Facets, neck: Instrument) -> set[str]:
    """Wherever the shape has the tonic at that fret, the other one on the same string."""
    home, tonic, wanted = _home(said), _tonic(said["key"]), _relative_tonic(said["key"])
    found = set()
    for index in anchors(neck, home, _minor(said["key"])):
        for string, held in shape(neck, home, index).items():
            sounds = {fret: neck.sound(string, fret) % 12 for fret in held}
            if sounds.get(int(said["fret"])) == tonic:
                found |= {str(fret) for fret, sound in sounds.items() if sound == wanted}
    return found


def _next_anchored(said: Facets, neck: Instrument) -> set[str]:
    there = int(_home({**said, "shape": said["next"]}))
    return {str(next(fret for fret in anchors(neck, there, _minor(said["key"])) if fret > int(said["fret"])))}


def _next_box(said: Facets, neck: Instrument) -> set[str]:
    lowest = len(neck.opens)
    scale = {(_minor(said["key"]) + step) % 12 for step in FIVE}
    above = range(int(said["fret"]) + 1, neck.last + 1)
    return {str(next(fret for fret in above if neck.sound(lowest, fret) % 12 in scale))}


def _dots(said: Facets, neck: Instrument) -> set[str]:
    pairs = [map(int, pair.split("-")) for pair in said["dots"].split()]
    strings = range(int(said["low"]), int(said["high"]) - 1, -1)
    sounds = {neck.sound(s, fret) % 12 for s, pair in zip(strings, pairs, strict=True) for fret in pair}
    (minor,) = (tonic for tonic in range(12) if {(tonic + step) % 12 for step in FIVE} == sounds)
    return keys(said["mode"], sound=minor + (3 if said["mode"] == "major" else 0))


READERS: dict[str, tuple[str, Reader]] = {
    "note-at-fret": (rf"Fret (?P<fret>\d+), {STRING}{CAPO}: which note\?", _with("note-at-fret")),
    "fret-of-note": (rf"(?P<note>{NOTE}), {STRING}{CAPO}: which fret\?", _with("fret-of-note")),
    "tonic-octave": (rf"Fret (?P<fret>\d+), {STRING}{CAPO}: octave up, string (?P<there>\d) \(.+\): fret\?", _octave),
    "letter-skip": (
        r"(?P<note>[A-G]): letter a third (?P<interval>above|below)\?",
        lambda said, neck: SOLVERS["letter-skip"]({**said, "interval": _WAYS[said["interval"]]}, neck),
    ),
    "relative-minor": (rf"{KEY}: relative minor\?", _with("relative-minor")),
    "relative-major": (rf"{KEY}: relative major\?", _with("relative-major")),
    "signature": (rf"{KEY}: how many sharps or flats\?", _with("signature")),
    "signature-key": (
        r"(?P<count>\d|No) (?P<sort>sharps?|flats?|sharps or flats): which (?P<mode>major|minor) key\?",
        _signature,
    ),
    "tonic-finger": (rf"{KEY}, {SHAPE}: tonic finger, string (?P<string>\d)\?", _with("tonic-finger")),
    "finger-key": (
        rf"Fret (?P<fret>\d+), (?P<finger>index|little) finger, {SHAPE}{CAPO}: (?P<mode>major|minor) key\?",
        _with("finger-key"),
    ),
    "tonic-fret": (rf"{KEY}, {STRING}{CAPO}: tonic fret\?", _with("tonic-fret")),
    "shape-anchor": (
        rf"{KEY}, {SHAPE}(?:, whole on the neck|, whole, no open strings)?{CAPO}: index fret\?",
        _with("shape-anchor"),
    ),
    "other-tonic": (
        rf"{KEY} at (?P<fret>\d+), {SHAPE}{CAPO}: (?:major|minor) tonic's fret, same string\?",
        _other_tonic,
    ),
    "neck-diagram": (
        r"Frets (?P<dots>[\d -]+), string (?P<low>\d) \(.+\) to string (?P<high>\d) \(.+\)"
        rf"{CAPO}: (?P<mode>major|minor) pentatonic of which key\?",
        _dots,
    ),
    "next-shape": (
        rf"{KEY}, {SHAPE} at (?P<fret>\d+){CAPO}: index fret, next (?P<next>\S+-string shape) up\?",
        _next_anchored,
    ),
    "next-shape of five": (
        rf"{KEY}, {SHAPE}, lowest note at (?P<fret>\d+){CAPO}: lowest note's fret, next shape up\?",
        _next_box,
    ),
    "degree-at": (
        rf"(?P<finger>Index|Middle|Ring|Little) finger, {STRING}, {SHAPE}: degree in (?P<mode>major|minor)\?",
        _with("degree-at"),
    ),
    "chord-of-key": (rf"{KEY}: which triad is (?P<numeral>[IViv]+o?)\?", _with("chord-of-key")),
    "numeral-of-chord": (rf"(?P<chord>{NOTE}(?:m|dim)?), {KEY}: which numeral\?", _with("numeral-of-chord")),
    "chord-tone": (
        rf"(?P<chord>{NOTE}(?:m|dim)?) chord, {KEY}, {SHAPE}, {STRING}: chord-tone finger\?",
        _with("chord-tone"),
    ),
    "ear-tonic": (
        rf"{NOTE}m? {NOTE} (?P<home>{NOTE})m?, then (?P<notes>{NOTE}(?: {NOTE}){{4}}): minor or major\?",
        _third_above_home,
    ),
}
_WAYS = {"above": "third-up", "below": "third-down"}


@cache
def _string_named(words: str, tuning: str) -> int:
    """The string of 'low-E-string shape', counted out on the open strings."""
    *place, name = words.removesuffix("-string shape").split("-")
    sounds = [midi % 12 for midi in OPEN_STRINGS[tuning]]
    strings = [string for string, sound in enumerate(sounds, 1) if sound == pitch_class(name)]
    named = {"low": strings[-1], "high": strings[0], "middle": strings[len(strings) // 2], "": strings[0]}
    assert bool(place) == (len(strings) > 1), words
    return named["".join(place)]


def _home(said: Facets) -> int:
    return _string_named(said["shape"], said["tuning"])


def _tonic(key: str) -> int:
    return pitch_class(key.split()[0])


def _relative_tonic(key: str) -> int:
    return (_tonic(key) + (3 if key.endswith("minor") else -3)) % 12


def _minor(key: str) -> int:
    return _tonic(key) if key.endswith("minor") else _relative_tonic(key)


def _short(key: str) -> str:
    return key.removesuffix(" major").replace(" minor", "m")


def read(prompt: str, tuning: str) -> tuple[str, Facets]:
    """The one kind of question that these words ask, and what they say."""
    found = [(kind, match) for kind, (form, _) in READERS.items() if (match := re.fullmatch(form, prompt))]
    assert len(found) == 1, prompt
    kind, match = found[0]
    said = {**match.groupdict(), "tuning": tuning}
    if said.get("finger"):
        said["finger"] = FINGERS[said["finger"].lower()]
    return kind, said


def as_facets(kind: str, said: Facets) -> Facets:
    """What arithmetic takes in its own words: short keys, shapes by their string."""
    if READERS[kind][1] in (_other_tonic, _next_anchored, _next_box):
        return said
    facets = dict(said)
    if "key" in said:
        facets["key"] = _short(said["key"])
    if "shape" in said:
        facets["shape"] = f"string-{_home(said)}"
    return facets


def cards(tuning: str, frets: int, capo: int) -> list[Card]:
    return [card for deck in shipped_decks(Neck(find_tuning(tuning), frets, capo)) for card in deck.cards()]


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("tuning", "frets", "capo"), NECKS)
def test_a_prompt_can_be_answered_from_its_words_alone(tuning: str, frets: int, capo: int) -> None:
    answered = set()
    for card in cards(tuning, frets, capo):
        if card.family == "loop-tonic":  # which key a loop is in takes an ear and is checked against textbooks
            continue
        own = card.name.tuning if FAMILIES[card.family].about_the_neck else tuning
        kind, said = read(to_ascii(card.prompt), own)
        worked_out = READERS[kind][1](as_facets(kind, said), instrument(own, card.neck.frets, card.neck.capo))
        assert worked_out == set(card.accepts), (card.id, card.prompt)
        answered.add(kind)
    assert len(answered) >= (len(READERS) - 1 if tuning in ("standard", "half-step-down") else 8)


def test_a_capo_is_said_where_frets_are_counted_and_nowhere_else() -> None:
    counted = {card.family for card in cards("half-step-down", 22, 3) if "counted from the capo" in card.prompt}
    assert counted == {
        "note-at-fret",
        "fret-of-note",
        "tonic-octave",
        "finger-key",
        "tonic-fret",
        "shape-anchor",
        "other-tonic",
        "neck-diagram",
        "next-shape",
    }
