"""Whether what a mix-up claims is true, counted out from open strings and pitch classes (tests/support/arithmetic.py).

A sentence is made of claims that hold the values it states. Each sort of claim is verified here by a way of its own;
nothing is read out of the words.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import Any

from drill.questions.card import Card
from drill.questions.facets import string_of
from drill.questions.mixups import claims as said
from drill.questions.mixups import shape_claims as shaped
from drill.questions.mixups.mixup import Mixup
from drill.theory.chords import Chord
from drill.theory.keys import Key
from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note
from drill.theory.shapes import Shape
from tests.questions.confusions import wrong_answers
from tests.support.arithmetic import (
    DEGREES,
    FIVE,
    NATURALS,
    QUALITIES,
    ROMANS,
    Instrument,
    finger,
    instrument,
    letter_from,
    pitch_class,
    relative,
    scale,
    shape,
    signs,
)

Check = Callable[[Any, Card], bool]
planted_in = lru_cache(maxsize=16)(wrong_answers)
SEMITONES = {"b3": 3, "4": 5, "b5": 6, "5": 7, "b7": 10}


def untruths(card: Card, given: str, mixup: Mixup) -> Iterator[str]:
    """What is wrong with the explanation of an answer; nothing if all of it is true."""
    for claim in mixup.claims:
        if not CHECKS[type(claim)](claim, card):
            yield f"{card.id} -> {given}: {mixup.name}: {claim}"
    if not set(atoms(given)) & {atom for claim in mixup.claims for atom in held_in(claim)}:
        yield f"{card.id} -> {given}: {mixup.name} says nothing of the answer: {mixup.claims}"
    planted = planted_in(card.id, card.neck.frets, card.accepts).get(mixup.name, set())
    if not any(sounds_alike(given, answer, card) for answer in planted):
        yield f"{card.id} -> {given}: {mixup.name} does not lead there"
    if mixup.name in BY_NAME and not BY_NAME[mixup.name](card, mixup):
        yield f"{card.id} -> {given}: {mixup.name} names the wrong string or key: {mixup.claims}"
    if re.search(r"\d|[A-G][b#]?\b", re.sub(r"\{\d\}", "", mixup.frame)):
        yield f"{card.id}: {mixup.name} states a value outside its claims: {mixup.frame}"


# -- what an answer and a claim speak of -------------------------------------------------------------------------------


def atoms(given: str) -> tuple[str, ...]:
    """The answer itself, and the note it begins with."""
    note = re.match(r"[A-G][b#]*", given)
    sort = re.fullmatch(r"(\d) (sharp|flat)s?", given)
    number = str(int(sort[1]) * (1 if sort[2] == "sharp" else -1)) if sort else given
    numerals = (given + "o", given.lstrip("#b"))  # ii may stand for iio, and viio is read as #viio in minor
    return (given, number, *numerals, *([note[0]] if note else []))


def held_in(value: Any) -> Iterator[str]:
    """Every value that a claim holds, as text."""
    if isinstance(value, Note | Key | Chord):
        yield value.name
        if not isinstance(value, Note):
            yield value.tonic.name if isinstance(value, Key) else value.root.name
        if isinstance(value, Key):
            yield value.mode
    elif isinstance(value, Shape):
        yield from (value.key.name, value.key.tonic.name, value.key.relative.name, value.key.relative.tonic.name)
        yield from map(str, (value.index_fret, value.dots[0].spot.fret))
    elif isinstance(value, said.Claim):
        yield from held_in(value.values)
    elif isinstance(value, tuple):
        for each in value:
            yield from held_in(each)
    elif isinstance(value, str | int):
        yield str(value)


def sounds_alike(given: str, answer: str, card: Card) -> bool:
    """Whether two answers are one, by name or by sound."""
    read = card.kind.read(answer)
    if given in (answer, read):
        return True
    pattern = re.compile(r"([A-G][b#]*)(.*)")
    one, other = pattern.fullmatch(given), pattern.fullmatch(read)
    return bool(one and other and one[2] == other[2] and pitch_class(one[1]) == pitch_class(other[1]))


def strings_of(neck: Neck) -> Instrument:
    return instrument(neck.tuning.id, neck.frets, neck.capo)


def sound(neck: Neck, spot: Spot) -> int:
    return strings_of(neck).sound(spot.string, spot.fret) % 12


def on(neck: Neck, spot: Spot) -> bool:
    return 0 <= spot.fret <= strings_of(neck).last and 1 <= spot.string <= len(neck.tuning.open_strings)


def above(note: Note, other: Note) -> int:
    return (pitch_class(note.name) - pitch_class(other.name)) % 12


def frets(card: Card) -> set[int]:
    return {int(answer) for answer in card.accepts}


# -- notes, frets, keys ------------------------------------------------------------------------------------------------


def _letters(claim: said.LettersApart, card: Card) -> bool:
    steps = (claim.letters - 1) * (1 if claim.up else -1)
    return letter_from(claim.start.name[0], steps) == claim.note.name


def _from_the_nut(claim: said.FromTheNut, card: Card) -> bool:
    return claim.from_capo in frets(card) and claim.from_nut - claim.from_capo == claim.capo == card.neck.capo


def _gap(claim: said.StringGap, card: Card) -> bool:
    opens = strings_of(claim.neck).opens
    return opens[claim.high - 1] - opens[claim.low - 1] == claim.semitones == 4  # the frame says: a major third


def _given_fret(claim: said.GivenFret, card: Card) -> bool:
    """The fret stands in the question: as a facet, or as the place of the shape it starts from."""
    if card.family == "tonic-octave":
        return claim.fret == card.facets.fret
    if card.family == "other-tonic":
        (goal,) = frets(card)
        return claim.fret == goal + (3 if card.facets.key.mode == "major" else -3)
    neck, name = strings_of(card.neck), card.facets.shape
    minor = pitch_class(card.facets.key.minor.name.split()[0])
    string = len(neck.opens) if name.isdecimal() else int(name.removeprefix("string-"))
    degree = FIVE[int(name) - 1] if name.isdecimal() else 0
    return neck.sound(string, claim.fret) % 12 == (minor + degree) % 12 and claim.fret < min(frets(card))


def _parallels(claim: said.Parallels, card: Card) -> bool:
    tonic, mode = claim.key.name.split()
    return claim.tonic.name == tonic and claim.mode != mode


def _right_tonic(claim: said.RightTonic, card: Card) -> bool:
    return f"{claim.tonic.name} {claim.right}" in card.accepts and claim.given != claim.right


def _last_sign(claim: said.LastSign, card: Card) -> bool:
    count = signs(*claim.key.name.split())
    name = "FCGDAEB"[count - 1] + "#" if count > 0 else "BEADGCF"[-count - 1] + "b"
    return claim.note.name == name


# -- shapes ------------------------------------------------------------------------------------------------------------


def _lies(placed: Shape, neck: Neck) -> bool:
    """Two scale tones a string from its lowest note, which is the degree its number says; and its index fret."""
    strings, minor = strings_of(neck), pitch_class(placed.key.name.split()[0])
    lowest = len(strings.opens)
    sounds = [strings.sound(lowest, placed.dots[0].spot.fret)]
    if placed.key.mode != "minor" or sounds[0] % 12 != (minor + FIVE[placed.number - 1]) % 12:
        return False
    while len(sounds) < 2 * lowest:
        sounds.append(next(s for s in range(sounds[-1] + 1, sounds[-1] + 4) if (s - minor) % 12 in FIVE))
    spots = [(lowest - n // 2, sounds[n] - strings.sound(lowest - n // 2, 0)) for n in range(len(sounds))]
    if placed.anchor_string and strings.sound(placed.anchor_string, placed.index_fret) % 12 != minor:
        return False
    return [tuple(dot.spot) for dot in placed.dots] == spots


def _holds(claim: shaped.Holds, card: Card) -> bool:
    heard = sound(claim.neck, claim.spot) == pitch_class(claim.note.name)
    return heard and finger(claim.index_fret, claim.spot.fret) == str(claim.finger)


def _holds_nothing(claim: shaped.HoldsNothing, card: Card) -> bool:
    own = [fret for string, fret in (dot.spot for dot in claim.shape.dots) if string == claim.string]
    index = claim.shape.index_fret
    return _lies(claim.shape, claim.neck) and str(claim.finger) not in {finger(index, fret) for fret in own}


def _would_be(claim: shaped.WouldBe, card: Card) -> bool:
    held = "minor" if claim.finger == 1 else "major"
    key = f"{claim.note.name} {held}" if held == claim.mode else relative(claim.note.name, held)
    return key == f"{claim.tonic.name} {claim.mode}" and claim.finger in (1, 4)


def _no_place(claim: shaped.NoPlace, card: Card) -> bool:
    neck = strings_of(claim.neck)
    held = shape(neck, int(card.facets.shape.removeprefix("string-")), claim.index_fret)
    reached = [fret for pair in held.values() for fret in pair]
    whole = min(reached) > 0 and max(reached) <= neck.last and claim.index_fret > 0
    return (min(reached), max(reached)) == (claim.lowest, claim.highest) and not whole


def _edge(claim: shaped.EdgeOf, card: Card) -> bool:
    reached = [dot.spot.fret for dot in claim.shape.dots]
    return _lies(claim.shape, claim.neck) and claim.fret == (max(reached) if claim.highest else min(reached))


def _two_ways(claim: shaped.TwoWays, card: Card) -> bool:
    apart = claim.there.index_fret - claim.here.index_fret
    return (
        _lies(claim.here, claim.neck)
        and _lies(claim.there, claim.neck)
        and (claim.frets, claim.back) == (apart, 12 - apart)
    )


# -- degrees and chords ------------------------------------------------------------------------------------------------


def _degree_under(claim: shaped.DegreeUnder, card: Card) -> bool:
    neck, home = strings_of(claim.neck), claim.shape.anchor_string
    assert home is not None
    tonic = neck.sound(home, 0) + (3 if claim.mode == "major" else 0)
    held = [fret for fret in (*shape(neck, home, 0)[claim.string], claim.finger - 1) if finger(0, fret)]
    under = [fret for fret in held if finger(0, fret) == str(claim.finger)]
    return claim.degree in {DEGREES[claim.mode].get((neck.sound(claim.string, fret) - tonic) % 12) for fret in under}


def _step(degree: str, mode: str) -> int:
    return next(step for step, name in DEGREES[mode].items() if name == degree)


def _degree_in_other(claim: shaped.DegreeInOther, card: Card) -> bool:
    up = 3 if claim.mode == "minor" else -3  # the minor tonic lies three semitones below the major one
    heard = (_step(claim.right, card.facets.mode) + up) % 12
    other = claim.mode != card.facets.mode
    return other and claim.right in card.accepts and DEGREES[claim.mode][heard] == claim.degree


def _degree_beside(claim: shaped.DegreeBeside, card: Card) -> bool:
    five = [(step - (3 if claim.mode == "major" else 0)) % 12 for step in FIVE]
    here, there = _step(claim.right, claim.mode), _step(claim.degree, claim.mode)
    way = (lambda step: (step - here) % 12 or 12) if claim.up else (lambda step: (here - step) % 12 or 12)
    return claim.right in card.accepts and there in five and way(there) == min(way(step) for step in five)


def _note_of_five(claim: shaped.NoteOfFive, card: Card) -> bool:
    five = sorted((step - (3 if claim.mode == "major" else 0)) % 12 for step in FIVE)
    return claim.degree in card.accepts and five[claim.place - 1] == _step(claim.degree, claim.mode)


def _numeral(claim: shaped.NumeralMeans, card: Card) -> bool:
    """The root stands on the degree of the numeral, raised or lowered by its signs; capitals have a major third."""
    match = re.fullmatch(r"([b#]*)([IViv]+)(o?)", claim.numeral)
    chord = re.fullmatch(r"([A-G][b#]*)(dim|m)?", claim.chord.name)
    if not match or not chord:
        return False
    tonic, mode = claim.key.name.split()
    degree = scale(tonic, mode)[ROMANS.index(match[2].upper())]
    raised = match[1].count("#") - match[1].count("b")
    quality = "dim" if match[3] else "m" if match[2].islower() else ""
    same = (pitch_class(chord[1]) - pitch_class(degree)) % 12 == raised % 12 and chord[1][0] == degree[0]
    return same and (chord[2] or "") == quality


def _not_in_chord(claim: shaped.NotInChord, card: Card) -> bool:
    match = re.fullmatch(r"([A-G][b#]*)(dim|m)?", claim.chord.name)
    assert match
    steps = next(steps for steps, quality in QUALITIES.items() if quality == (match[2] or ""))
    return (pitch_class(claim.note.name) - pitch_class(match[1])) % 12 not in (0, *steps)


# -- what the words around the claims say ------------------------------------------------------------------------------


def _on_a_string_beside(card: Card, mixup: Mixup) -> bool:
    """A note lies on a string next to the one that is asked about, a finger's degree too."""
    asked = string_of(card.facets) if card.family != "degree-at" else card.facets.string
    there = [claim for claim in mixup.claims if isinstance(claim, said.LiesAt | shaped.DegreeUnder)]
    strings = [claim.spot.string if isinstance(claim, said.LiesAt) else claim.string for claim in there]
    return bool(strings) and all(asked is not None and abs(asked - string) == 1 for string in strings)


def _of_the_parallel(card: Card, mixup: Mixup) -> bool:
    if card.family != "chord-of-key":
        return True
    keys = [claim.key for claim in mixup.claims if isinstance(claim, shaped.NumeralMeans)]
    return all(key.tonic == card.facets.key.tonic and key != card.facets.key for key in keys)


def _of_the_relative(card: Card, mixup: Mixup) -> bool:
    keys = [claim.key for claim in mixup.claims if isinstance(claim, shaped.NumeralMeans)]
    return all(key.name == relative(*card.facets.key.name.split()) for key in keys)


def _unlike_the_right_quality(card: Card, mixup: Mixup) -> bool:
    qualities = [claim.suffix for claim in mixup.claims if isinstance(claim, shaped.ChordQuality)]
    return card.family == "loop-tonic" or len(set(qualities)) == len(qualities) > 0


BY_NAME: dict[str, Callable[[Card, Mixup], bool]] = {
    "other string": _on_a_string_beside,
    "parallel for relative": _of_the_parallel,
    "other tonic": _of_the_relative,
    "wrong quality": _unlike_the_right_quality,
}
"""Names whose sentences say more than their claims do: 'the string next to it', 'the parallel key'."""

CHECKS: dict[type, Check] = {
    said.SameSound: lambda c, _: above(c.note, c.other) == 0 and c.note != c.other,
    said.OneFretApart: lambda c, _: above(c.note, c.other) == (1 if c.up else 11),
    said.ThreeFretsApart: lambda c, _: above(c.note, c.other) == (3 if c.up else 9),
    said.Sign: lambda c, _: c.note.name[0] == c.right.name[0] and c.note.name[1:] != c.right.name[1:],
    said.LetterBeside: lambda c, _: letter_from(c.other.name[0], 1 if c.up else -1) == c.note.name[0],
    said.LettersApart: _letters,
    said.LiesAt: lambda c, _: on(c.neck, c.spot) and sound(c.neck, c.spot) == pitch_class(c.note.name),
    said.FretSounds: lambda c, _: (
        on(c.neck, c.spot) and {pitch_class(note.name) for note in c.notes} == {sound(c.neck, c.spot)}
    ),
    said.FretsFromNote: lambda c, _: (
        on(c.neck, c.spot) and (sound(c.neck, c.spot) - c.frets - pitch_class(c.note.name)) % 12 == 0 != c.frets
    ),
    said.FretsApart: lambda c, card: c.fret != c.other and c.fret not in frets(card),
    said.OneFretTooFar: lambda c, card: abs(c.fret - c.right) == 1 and c.right in frets(card),
    said.OctaveTooFar: lambda c, card: abs(c.fret - c.right) == 12 and c.right in frets(card),
    said.FromTheNut: _from_the_nut,
    said.StringGap: _gap,
    said.GivenFret: _given_fret,
    said.GivenKey: lambda c, card: c.key == card.facets.key,
    said.Relatives: lambda c, _: relative(*c.key.name.split()) == c.relative.name,
    said.RelativeTonic: lambda c, _: relative(*c.key.name.split()).split()[0] == c.note.name,
    said.Parallels: _parallels,
    said.RightTonic: _right_tonic,
    said.HasSigns: lambda c, _: signs(*c.key.name.split()) == c.signature,
    said.NoSignature: lambda c, _: abs(signs(c.tonic.name, c.mode)) > 7,
    said.LastSign: _last_sign,
    shaped.Holds: _holds,
    shaped.HoldsNothing: _holds_nothing,
    shaped.WouldBe: _would_be,
    shaped.HoldsTonic: lambda c, _: (c.finger, c.mode) in {(1, "minor"), (4, "major")},
    shaped.NoPlace: _no_place,
    shaped.BeginsAt: lambda c, _: _lies(c.shape, c.neck),
    shaped.BelongsTo: lambda c, _: _lies(c.shape, c.neck),
    shaped.IndexAt: lambda c, _: _lies(c.shape, c.neck) and c.shape.anchor_string is not None,
    shaped.EdgeOf: _edge,
    shaped.TwoWays: _two_ways,
    shaped.DegreeUnder: _degree_under,
    shaped.DegreeInOther: _degree_in_other,
    shaped.DegreeBeside: _degree_beside,
    shaped.NoteOfFive: _note_of_five,
    shaped.DegreeSign: lambda c, card: c.right in card.accepts and c.degree.lstrip("b#") == c.right.lstrip("b#"),
    shaped.DegreeSemitones: lambda c, _: SEMITONES[c.degree] == c.semitones,
    shaped.FingerNumber: lambda c, card: c.finger == card.facets.finger,
    shaped.NumeralMeans: _numeral,
    shaped.NumeralSign: lambda c, card: (
        c.right in card.accepts and c.numeral[0] in "b#" and c.numeral[1:] in (c.right, c.right.removesuffix("o"))
    ),
    shaped.ChordQuality: lambda c, _: c.chord.name == c.chord.root.name + c.suffix,
    shaped.NotInChord: _not_in_chord,
    shaped.InLoop: lambda c, _: c.chord.name in c.loop.split(),
}
"""How each sort of claim is verified."""

# -- every answer that could be given ----------------------------------------------------------------------------------

NOTES = [letter + sign for letter in NATURALS for sign in ("", "b", "#", "bb", "##")]
ANSWERS: dict[str, list[str]] = {
    "NoteAnswer": NOTES,
    "LetterAnswer": list(NATURALS),
    "KeyAnswer": [f"{note} {mode}" for note in NOTES for mode in ("major", "minor")],
    "AnyKeyAnswer": [f"{note} {mode}" for note in NOTES for mode in ("major", "minor")],
    "SignatureAnswer": ["0", *(f"{n} {word}{'s' * (n > 1)}" for n in range(1, 8) for word in ("sharp", "flat"))],
    "FretAnswer": [],
    "FingerAnswer": list("1234"),
    "ModeAnswer": ["minor", "major"],
    "DegreeAnswer": [sign + number for number in "1234567" for sign in ("", "b", "#")],
    "ChordAnswer": [note + kind for note in NOTES for kind in ("", "m", "dim", "7", "m7", "maj7", "aug")],
    "NumeralAnswer": [
        sign + roman + end
        for sign in ("", "b", "#")
        for numeral in ROMANS
        for roman in (numeral, numeral.lower())
        for end in ("", *("o" if roman.islower() else ""))
    ],
}


def wrong_ones(card: Card) -> list[str]:
    """Every wrong answer that a card could be given, as its field reads it."""
    frets_here = list(map(str, range(card.neck.last_fret + 1)))
    typed = frets_here if type(card.kind).__name__ == "FretAnswer" else ANSWERS[type(card.kind).__name__]
    read = dict.fromkeys(map(card.kind.read, typed))
    return [answer for answer in read if answer not in card.accepts and card.kind.read(answer) == answer]
