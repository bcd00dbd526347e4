"""Read a loop as a learner types it with its key: 'Am F C G in Am', 'ii V I in G', 'blues in A'. Starts light."""

from __future__ import annotations

import re
from contextlib import suppress
from typing import NamedTuple

from drill.errors import UnknownName
from drill.lookup.charts import Chart, read_chart
from drill.lookup.in_other_words import IN, LINKS, bare, chord_of_numeral, numerals, together
from drill.questions.wording import named, named_chord, named_key, named_numeral
from drill.theory.chords import Chord
from drill.theory.harmony import chord_at
from drill.theory.keys import MINOR_KEYS, Key, parse_key, parse_tonic
from drill.theory.names import NoteLanguage, one_line, quoted, typed_note
from drill.theory.pitch import Note

LONGEST = 1000
"""Signs; longer texts have no key beside the chords."""

_TWELVE = r"(?:12|twelve)[\s-]*bars?[\s-]+"
_BLUES = re.compile(rf"(?:{_TWELVE})?(?P<minor>minor\s+)?(?:{_TWELVE})?blues", re.IGNORECASE)
_OF_A_KEY = re.compile(rf"(?P<key>\S+(?:\s+(?:major|minor))?)\s+(?P<what>{_TWELVE}blues)", re.IGNORECASE)
_BLUES_CHORDS = {
    "major": "I7 I7 I7 I7 IV7 IV7 I7 I7 V7 IV7 I7 I7",
    "minor": "i7 i7 i7 i7 iv7 iv7 i7 i7 V7 iv7 i7 i7",
}
"""The twelve-bar blues, a chord a bar (common practice, no source)."""
_SMALL = re.compile("[b#♭♯]*[iv]")
_FIFTH_BELOW = {"II": re.compile("V(?!I)"), "VI": re.compile("II$"), "III": re.compile("VI$")}
"""Capitals that jazz players write for the minor chords of a major key, with what follows where they lead to V."""


class TypedLoop(NamedTuple):
    """The chords of a loop, where the learner said it rests, and how the text was read where that was not plain."""

    chart: Chart
    rests_on: Chord | Key | None = None
    taken: tuple[str, ...] = ()
    """Sentences with marked names."""


def typed_loop(text: str, language: NoteLanguage) -> TypedLoop | None:
    """The loop in a text that names its key as well; None for any other text.

    Raises UnknownName for numerals, or a blues, without a key.

    >>> loop = typed_loop("I VI II V in Bb", "english")
    >>> [chord.name for chord in loop.chart.chords], loop.rests_on
    (['Bb', 'Gm', 'Cm', 'F'], Chord('Bb'))
    """
    plain = bare(text) if len(text) <= LONGEST else ""
    _refuse_without_key(plain, language)
    found = IN.fullmatch(plain) or _OF_A_KEY.fullmatch(plain)
    with suppress(UnknownName):
        return _in_a_key(found["what"], found["key"], language) if found else None
    return None


def _in_a_key(what: str, key: str, language: NoteLanguage) -> TypedLoop | None:
    """The loop that `what` is in a key; None where it is none. Raises UnknownName for what is neither chord nor key."""
    blues, of_key = _BLUES.fullmatch(what), numerals(what)
    chart = Chart(()) if blues or of_key else read_chart(together(LINKS.sub(" ", what), language), language)
    if not (blues or of_key or chart.chords):
        return None
    named, has_mode = parse_key(key, language), parse_tonic(key, language)[1] is not None
    if blues:
        return _blues(_minor_on(named.tonic) if blues["minor"] else named)
    rests_on = named if has_mode else Chord(named.tonic)  # a bare A may mean the Am of the loop
    return _of_numerals(of_key, named, rests_on) if of_key else TypedLoop(chart, rests_on)


def _refuse_without_key(text: str, language: NoteLanguage) -> None:
    is_blues = _BLUES.fullmatch(text)
    if is_blues or numerals(text):
        key = typed_note(Note.of("A" if is_blues else "G"), language)
        what = "is a loop in any key" if is_blues else "are numerals"
        raise UnknownName(f"{quoted(text)} {what}. Say in which key: {one_line(text)} in {key}.")


def _minor_on(tonic: Note) -> Key:
    """The minor key on a tonic, on its other name where no signature can write it."""
    minors = [key for key in MINOR_KEYS if key.tonic.sounds_like(tonic)]
    return next((key for key in minors if key.tonic == tonic), minors[0])


def _blues(key: Key) -> TypedLoop:
    chords = tuple(chord_at(numeral, key) for numeral in _BLUES_CHORDS[key.mode].split())
    scale = f"{named(key.tonic)}{'m' * (key.mode == 'minor')} blues"
    taken = f"This is the twelve-bar blues in {named_key(key)}, one chord a bar; the scale of that name is {scale}."
    return TypedLoop(Chart(chords), key, (taken,))


def _of_numerals(typed: list[str], key: Key, rests_on: Chord | Key) -> TypedLoop:
    meant = _as_jazz_players_mean(typed) if key.mode == "major" else typed
    chords, taken = [], []
    for numeral, small in zip(typed, meant, strict=True):
        as_typed, chord = chord_of_numeral(numeral, key), chord_of_numeral(small, key)
        if as_typed and chord:
            chords.append(chord)
        if as_typed and chord and chord != as_typed:
            read = f"{named_numeral(numeral)} is read as {named_numeral(small)}, as jazz players write it"
            taken.append(f"{read}: {named_chord(chord)}, not {named_chord(as_typed)}.")
    return TypedLoop(Chart(tuple(chords)), rests_on, tuple(dict.fromkeys(taken)))


def _as_jazz_players_mean(typed: list[str]) -> list[str]:
    """Numerals of a major key with the capitals made small that stand for its minor chords.

    That is safe where there are capitals alone and a chain of falling fifths leads to V, as in III VI II V.

    >>> _as_jazz_players_mean(["III", "VI", "II", "V7", "I"]), _as_jazz_players_mean(["I", "II", "IV"])
    (['iii', 'vi', 'ii', 'V7', 'I'], ['I', 'II', 'IV'])
    """
    meant = list(typed)
    if any(_SMALL.match(each) for each in typed):
        return meant
    for at in reversed(range(len(typed) - 1)):
        falls = typed[at] in _FIFTH_BELOW and _FIFTH_BELOW[typed[at]].match(typed[at + 1])
        if falls and (typed[at] == "II" or meant[at + 1].islower()):
            meant[at] = typed[at].lower()
    return meant
