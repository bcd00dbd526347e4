"""Read a loop as a learner types it with its key: 'Am F C G in Am', 'ii V I in G', 'blues in A'. Starts light."""

from __future__ import annotations

import re
from contextlib import suppress

from drill.errors import UnknownName
from drill.lookup.charts import Chart, read_chart
from drill.lookup.in_other_words import IN, LINKS, bare, chord_of_numeral, numerals, together
from drill.lookup.typed_scale import typed_scale
from drill.questions.wording import named, named_chord, named_key, named_numeral
from drill.theory.chords import Chord
from drill.theory.harmony import chord_at
from drill.theory.keys import KEYS, Key, Mode, in_other_languages, parse_key, parse_tonic
from drill.theory.modes import MARKS, OUTSIDE, part_in_scale
from drill.theory.names import NoteLanguage, one_line, quoted, typed_note
from drill.theory.pitch import Note
from drill.theory.scales import scale_mode

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
_PLAIN_MODES = ("major", "ionian", "natural minor", "aeolian")
_SMALL = re.compile("[b#♭♯]*[iv]")
_FIFTH_BELOW = {"II": re.compile("V(?!I)"), "VI": re.compile("II$"), "III": re.compile("VI$")}
"""Capitals that jazz players write for the minor chords of a major key, with what follows where they lead to V."""


def typed_loop(text: str, language: NoteLanguage) -> Chart | None:
    """The loop in a text that names its key as well; None for any other text.

    Raises UnknownName for numerals, or a blues, without a key, and for chords in what is none.

    >>> loop = typed_loop("I VI II V in Bb", "english")
    >>> [chord.name for chord in loop.chords], loop.rests_on
    (['Bb', 'Gm', 'Cm', 'F'], Chord('Bb'))
    """
    plain = bare(" ".join(text.split())) if len(text) <= LONGEST else ""  # long blanks are slow to match
    _refuse_without_key(plain, language)
    if not (found := IN.fullmatch(plain) or _OF_A_KEY.fullmatch(plain)):
        return None
    what = found["what"]
    if blues := _BLUES.fullmatch(what):
        key, _ = _key_named(found["key"], language)
        return _blues(_key_on(key.tonic, "minor") if blues["minor"] else key)
    of_key, chart = numerals(what), _chords(what, language)
    if not (of_key or chart.chords):
        return None
    key, mode = _key_named(found["key"], language)
    chart = _of_numerals(of_key, key) if of_key else chart
    rests_on = Chord(key.tonic) if _is_bare(found["key"], language) else key  # a bare A may mean the Am of the loop
    return _in_mode(chart._replace(rests_on=rests_on), key, mode)


def _chords(text: str, language: NoteLanguage) -> Chart:
    """The chords in a text, each perhaps in two words; none where a word of it is no chord."""
    with suppress(UnknownName):
        return read_chart(together(LINKS.sub(" ", text), language), language)
    return Chart(())


def _key_named(text: str, language: NoteLanguage) -> tuple[Key, str]:
    """A key, and the mode where it is one of `MARKS`: 'E dorian' is E minor with a mode. Raises UnknownName."""
    scale = typed_scale(text, language)
    if scale and scale[1] in (*MARKS, *_PLAIN_MODES):
        tonic, name = scale
        return _key_on(tonic, "minor" if scale_mode(name) == "minor" else "major"), name if name in MARKS else ""
    try:
        return parse_key(text, language), ""
    except UnknownName as refusal:
        raise UnknownName(in_other_languages(text, language) or str(refusal)) from None


def _is_bare(text: str, language: NoteLanguage) -> bool:
    """Whether a key is a note without a mode."""
    with suppress(UnknownName):
        return parse_tonic(text, language)[1] is None
    return False


def _in_mode(chart: Chart, key: Key, mode: str) -> Chart:
    """The chart with its mode, or with the chord that speaks against it."""
    outside = [chord for chord in chart.chords if mode and part_in_scale(chord, key.tonic, mode) in OUTSIDE]
    if not outside:
        return chart._replace(mode=mode)
    told = f"{named_chord(outside[0])} does not lie in {named(key.tonic)} {mode}, so the chords decide the mode."
    return chart._replace(taken=(*chart.taken, told))


def _refuse_without_key(text: str, language: NoteLanguage) -> None:
    is_blues = _BLUES.fullmatch(text)
    if is_blues or numerals(text):
        key = typed_note(Note.of("A" if is_blues else "G"), language)
        what = "is a loop in any key" if is_blues else "are numerals"
        raise UnknownName(f"{quoted(text)} {what}. Say in which key: {one_line(text)} in {key}.")


def _key_on(tonic: Note, mode: Mode) -> Key:
    """The key on a tonic, on its other name where no signature can write it."""
    alike = [key for key in KEYS if key.mode == mode and key.tonic.sounds_like(tonic)]
    return next((key for key in alike if key.tonic == tonic), alike[0])


def _blues(key: Key) -> Chart:
    chords = tuple(chord_at(numeral, key) for numeral in _BLUES_CHORDS[key.mode].split())
    scale = f"{named(key.tonic)}{'m' * (key.mode == 'minor')} blues"
    taken = f"This is the twelve-bar blues in {named_key(key)}, one chord a bar; the scale of that name is {scale}."
    return Chart(chords, rests_on=key, taken=(taken,))


def _of_numerals(typed: list[str], key: Key) -> Chart:
    meant = _as_jazz_players_mean(typed) if key.mode == "major" else typed
    chords, taken = [], []
    for numeral, small in zip(typed, meant, strict=True):
        as_typed, chord = chord_of_numeral(numeral, key), chord_of_numeral(small, key)
        if as_typed and chord:
            chords.append(chord)
        if as_typed and chord and chord != as_typed:
            read = f"{named_numeral(numeral)} is read as {named_numeral(small)}, as jazz players write it"
            taken.append(f"{read}: {named_chord(chord)}, not {named_chord(as_typed)}.")
    return Chart(tuple(chords), taken=tuple(dict.fromkeys(taken)))


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
