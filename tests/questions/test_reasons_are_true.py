"""What the steps of a reason say of strings, frets, notes and numbers, against counting on the open strings."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable

import pytest

from drill.decks import shipped_decks
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.wording import to_ascii
from drill.system.tunings import find_tuning
from drill.theory.neck import Neck
from tests.support.arithmetic import (
    FIVE,
    Instrument,
    everyday,
    instrument,
    pitch_class,
    read_key,
    relative,
    scale,
    signs,
    spelled,
)
from tests.support.necks import NECKS

NOTE = "[A-G][#b]*"
STRING = r"string (?P<string>\d) \((?:low |high |middle )?[A-G][#b]*\)"
FOUND = rf"(?P<note>{NOTE})"


class Told:
    """The steps of one reason so far: the string they are on, and the fret and the key last named."""

    def __init__(self, neck: Instrument) -> None:
        self.neck, self.string, self.fret, self.key = neck, 0, 0, ""

    def at(self, fret: int, *names: str) -> bool:
        """Whether the fret of this string sounds each of these notes."""
        self.fret = fret
        return {pitch_class(name) for name in names} == {self.neck.sound(self.string, fret) % 12}


def _open(told: Told, said: re.Match[str]) -> bool:
    told.string = int(said["string"])
    return told.at(0, said["note"])


def _landmark(told: Told, said: re.Match[str]) -> bool:
    told.string = int(said["string"])
    return told.at(int(said["fret"]), said["note"])


def _path(told: Told, said: re.Match[str]) -> bool:
    """Every natural note between the start and the end, none left out."""
    start, steps = told.fret, re.findall(rf"({NOTE}) at (\d+)", said[0])
    naturals = [
        f for f in range(start + 1, int(steps[-1][1]) + 1) if len(everyday(told.neck.sound(told.string, f))) == 1
    ]
    return [int(fret) for _, fret in steps] == naturals and all(told.at(int(fret), note) for note, fret in steps)


def _one_up(told: Told, said: re.Match[str]) -> bool:
    fret = told.fret + 1
    names = said["names"].split(" or ")
    return fret == int(said["fret"]) and told.at(fret, *names) and len(set(names)) == 2


def _octave_up(told: Told, said: re.Match[str]) -> bool:
    return int(said["high"]) - int(said["low"]) == 12


def _three_letters(told: Told, said: re.Match[str]) -> bool:
    """Two steps of the scale, three half steps, the middle one in the key."""
    first, middle, last = said["notes"].split()
    turn = 1 if said["way"] == "up" else -1
    apart = (pitch_class(last) - pitch_class(first)) * turn % 12
    minor = first if turn > 0 else last
    told.key = f"{last} {'major' if turn > 0 else 'minor'}"
    return apart == 3 and middle == scale(minor, "minor")[1]


def _sum(told: Told, said: re.Match[str]) -> bool:
    one, two, all_of_it = int(said["one"]), int(said["two"]), int(said["sum"])
    if said["string"]:
        told.string = int(said["string"])
        assert told.at(all_of_it, said["note"])
    return (one + two if said["sign"] == "+" else one - two) == all_of_it


def _signs_in_order(told: Told, said: re.Match[str]) -> bool:
    """Sharps a fifth apart from F sharp, flats a fourth apart from B flat."""
    names = said["names"].split()
    first, step = ("F#", 7) if "#" in names[0] else ("Bb", 5)
    sounds = [(pitch_class(first) + step * n) % 12 for n in range(len(names))]
    return names[0] == first and [pitch_class(name) for name in names] == sounds


def _stack(told: Told, said: re.Match[str]) -> bool:
    root, third, fifth = said["names"].split()
    above = tuple((pitch_class(name) - pitch_class(root)) % 12 for name in (third, fifth))
    letters = [
        spelled(letter, pitch_class(name)) for letter, name in zip(_thirds(root[0]), (root, third, fifth), strict=True)
    ]
    return (
        letters == [root, third, fifth]
        and above == {"major": (4, 7), "minor": (3, 7), "diminished": (3, 6)}[said["sort"]]
    )


def _thirds(letter: str) -> str:
    letters = "CDEFGAB"
    start = letters.index(letter)
    return "".join(letters[(start + step) % 7] for step in (0, 2, 4))


def _scale(told: Told, said: re.Match[str]) -> bool:
    return said["names"].split() == scale(said["tonic"], said["mode"])


def _rise(told: Told, said: re.Match[str]) -> bool:
    high, low = (told.neck.sound(int(said[name]), 0) for name in ("high", "low"))
    return high - low == int(said["rise"])


STEPS: dict[str, Callable[[Told, re.Match[str]], bool]] = {
    rf"{STRING} sounds {FOUND} (?:open|at the capo)": _open,
    rf"{STRING} has {FOUND} at (?P<fret>\d+)": _landmark,
    rf"then {NOTE} at \d+(?:, {NOTE} at \d+)*": _path,
    rf"one fret up, at (?P<fret>\d+): (?P<names>{NOTE} or {NOTE})": _one_up,
    r"fret (?P<high>\d+) is fret (?P<low>\d+), an octave up": _octave_up,
    rf"(?P<way>up|down) three frets and two letters: (?P<notes>{NOTE} {NOTE} {NOTE})": _three_letters,
    rf"(?P<one>\d+) (?P<sign>[+-]) (?P<two>\d+) = (?P<sum>\d+): {FOUND}(?: on {STRING})?": _sum,
    rf"(?:sharps in order up to it|flats in order, one past it): (?P<names>{NOTE}(?: {NOTE})*)": _signs_in_order,
    rf"\d (?:sharps?|flats?): (?P<names>{NOTE}(?: {NOTE})*)": _signs_in_order,
    rf"stack thirds: (?P<names>{NOTE} {NOTE} {NOTE}), a (?P<sort>major|minor|diminished) chord": _stack,
    rf"(?P<tonic>{NOTE}) (?P<mode>major|minor): (?P<names>{NOTE}(?: {NOTE}){{6}})": _scale,
    r"string (?P<high>\d) sounds (?P<rise>-?\d+) semitones above string (?P<low>\d)": _rise,
}


def cards(tuning: str, frets: int, capo: int) -> list[Card]:
    decks = shipped_decks(Neck(find_tuning(tuning), frets, capo))
    return list(dict.fromkeys(card for deck in decks for card in deck.cards()))


@pytest.mark.long(but=1)
@pytest.mark.parametrize(("tuning", "frets", "capo"), NECKS)
def test_what_a_step_says_can_be_counted_out(tuning: str, frets: int, capo: int) -> None:
    counted: Counter[str] = Counter()
    for card in cards(tuning, frets, capo):
        own = card.name.tuning if FAMILIES[card.family].about_the_neck else tuning
        told = Told(instrument(own, card.neck.frets, card.neck.capo))
        for step in map(to_ascii, card.because):
            for form, is_true in STEPS.items():
                if said := re.fullmatch(form, step):
                    assert is_true(told, said), (card.id, step)
                    counted[form] += 1
    assert len(counted) >= (len(STEPS) if tuning == "standard" else 8)


def test_two_neighbouring_shapes_share_a_note_of_each_string() -> None:
    """The two notes told of the lowest string lie side by side in the scale of the key."""
    told = 0
    for card in (card for card in cards("standard", 24, 0) if card.family == "next-shape"):
        if found := re.fullmatch(rf"string 6: ({NOTE}) at (\d+), ({NOTE}) at (\d+)", to_ascii(card.because[1])):
            tonic, mode = read_key(card.facets.key.short)
            minor = pitch_class(tonic if mode == "minor" else relative(tonic, mode).split()[0])
            degrees = [(pitch_class(name) - minor) % 12 for name in (found[1], found[3])]
            assert FIVE.index(degrees[1]) == (FIVE.index(degrees[0]) + 1) % 5
            assert [pitch_class(found[1]), pitch_class(found[3])] == [(40 + int(found[n])) % 12 for n in (2, 4)]
            told += 1
    assert told >= 100


def test_a_signature_is_told_by_the_notes_that_it_changes() -> None:
    for card in cards("standard", 15, 0):
        if card.family == "signature" and len(card.because) > 1 and "in order" in to_ascii(card.because[-2]):
            tonic, mode = read_key(card.facets.key.short)
            told = to_ascii(card.because[-2]).partition(": ")[2].split()
            assert set(told) == {name for name in scale(tonic, mode) if name[1:]}
            assert len(told) == abs(signs(tonic, mode))
