"""Published standards and notation formats: ISO 16, MIDI, MusicXML, MEI, LilyPond. Figures only; read, not run."""

from __future__ import annotations

from collections.abc import Iterator

from music21 import converter

from drill.system.tunings import tunings
from drill.theory.names import parse_pitch
from drill.theory.neck import STANDARD, Neck, Spot
from tests.theory.outside.registry import Fact, source

_NECK = Neck(STANDARD, frets=24)


def _hertz(midi: int) -> float:
    """Frequency in equal temperament."""
    return 440.0 * 2.0 ** ((midi - 69) / 12)


@source("ISO 16:1975, Standard tuning frequency", "A in the treble stave")
def concert_a() -> Iterator[Fact]:
    yield Fact("A4 in hertz", _hertz(parse_pitch("A4").midi), 440.0)


@source("OEIS A320304, a(n) = round(6.875 * 2^(n/12 + 1/4))", "the six open strings in whole hertz")
def frequencies() -> Iterator[Fact]:
    for string, hertz in zip((6, 5, 4, 3, 2, 1), (82, 110, 147, 196, 247, 330), strict=True):
        yield Fact(f"string {string} in hertz", round(_hertz(STANDARD.open(string).midi)), hertz)


@source("Scientific pitch notation, as in Open Music Theory, pitches.md", "octave numbers at the border of octaves")
def octave_numbers() -> Iterator[Fact]:
    for name, number in {"C4": 60, "Cb4": 59, "B#3": 60, "B3": 59, "E2": 40, "E4": 64}.items():
        yield Fact(name, parse_pitch(name).midi, number)
    yield Fact("string 2 fret 1 is middle C", _NECK.sounding(Spot(2, 1)), 60)


# Distance of frets from the nut on a 650 mm scale, mm: L (1 - 2^(-n/12)), the rule of 17.817154.
_FRETS_MM = {1: 36.482, 3: 103.417, 5: 163.050, 7: 216.177, 12: 325.000, 24: 487.500}


@source(
    "Rule of 17.817 (Guild of American Luthiers), worked out to 6 decimals", "where a fret must lie to sound its note"
)
def fret_places() -> Iterator[Fact]:
    def from_nut(string: int, fret: int) -> float:
        sounding = 2 ** ((_NECK.sounding(Spot(string, fret)) - _NECK.sounding(Spot(string, 0))) / 12)
        return 650 * (1 - 1 / sounding)

    for string in STANDARD.strings:
        for fret, distance_mm in _FRETS_MM.items():
            yield Fact(f"string {string} fret {fret}", round(from_nut(string, fret), 3), distance_mm)
        yield Fact(f"string {string}, the constant", round(650 / from_nut(string, 1), 6), 17.817154)


# Note examples with string, fret and pitch printed in the MusicXML 4.0 documentation (w3c/musicxml).
_MUSICXML_EXAMPLES = (
    (3, 5, "C4"),
    (3, 7, "D4"),
    (3, 8, "Eb4"),
    (4, 5, "G3"),
    (5, 3, "C3"),
    (2, 1, "C4"),
    (3, 3, "Bb3"),
    (2, 5, "E4"),
    (1, 7, "B4"),
    (1, 10, "D5"),
    (1, 14, "F#5"),
)
MUSICXML = "MusicXML 4.0, w3c/musicxml"


@source(MUSICXML, "published examples of string, fret and pitch")
def musicxml_examples() -> Iterator[Fact]:
    for string, fret, name in _MUSICXML_EXAMPLES:
        sounding = parse_pitch(name).midi
        yield Fact(f"string {string} fret {fret}", _NECK.sounding(Spot(string, fret)), sounding)
        yield Fact(f"fret of {name} on string {string}", _NECK.fret_of(string, sounding), fret)


@source(MUSICXML, "staff-tuning lines, bottom line 1 is the lowest string")
def musicxml_lines() -> Iterator[Fact]:
    for line, name in enumerate(("E2", "A2", "D3", "G3", "B3", "E4"), start=1):
        yield Fact(f"line {line}", STANDARD.open(7 - line).name, name)


_NOTE_XML = """<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Guitar</part-name></score-part>
</part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>{notes}</measure></part>
</score-partwise>"""
_ONE_NOTE_XML = """<note><pitch><step>{step}</step>{alter}<octave>{octave}</octave></pitch><duration>1</duration>
<voice>1</voice><type>quarter</type><notations><technical><string>{string}</string><fret>{fret}</fret></technical>
</notations></note>"""


def _note_xml(string: int, fret: int, name: str) -> str:
    one = parse_pitch(name)
    alter = f"<alter>{one.note.accidental}</alter>" if one.note.accidental else ""
    return _ONE_NOTE_XML.format(step=one.note.letter, alter=alter, octave=one.octave, string=string, fret=fret)


@source(MUSICXML, "the same examples written as MusicXML and read back by music21")
def musicxml_round() -> Iterator[Fact]:
    text = _NOTE_XML.format(notes="".join(_note_xml(*example) for example in _MUSICXML_EXAMPLES))
    notes = list(converter.parse(text, format="musicxml").recurse().notes)
    yield Fact("notes read", len(_MUSICXML_EXAMPLES), len(notes))
    for found in notes:
        marks = {type(mark).__name__: mark.number for mark in found.articulations}
        spot = Spot(marks["StringIndication"], marks["FretIndication"])
        yield Fact(f"{spot}", _NECK.sounding(spot), found.pitch.midi)


# MEI guidelines, data.COURSETUNING; lowest string first.
_MEI = {
    "standard": "E2 A2 D3 G3 B3 E4",
    "drop-d": "D2 A2 D3 G3 B3 E4",
    "open-d": "D2 A2 D3 F#3 A3 D4",
    "open-g": "D2 G2 D3 G3 B3 D4",
    "open-a": "E2 A2 E3 A3 C#4 E4",
}


@source("MEI guidelines, data.COURSETUNING", "tunings by pitch name")
def mei_tunings() -> Iterator[Fact]:
    for name, pitches in _MEI.items():
        for string, theirs in zip(reversed(tunings()[name].strings), pitches.split(), strict=True):
            yield Fact(f"{name} string {string}", tunings()[name].open(string).name, theirs)


# LilyPond 2.24.1, ly/string-tunings-init.ly, read as MIDI numbers; highest-numbered string first.
_LILYPOND = {
    "standard": (40, 45, 50, 55, 59, 64),
    "seven-string": (35, 40, 45, 50, 55, 59, 64),
    "drop-d": (38, 45, 50, 55, 59, 64),
    "open-g": (38, 43, 50, 55, 59, 62),
    "open-d": (38, 45, 50, 54, 57, 62),
    "dadgad": (38, 45, 50, 55, 57, 62),
    "bass": (28, 33, 38, 43),
    "bass-five-string": (23, 28, 33, 38, 43),
    "ukulele": (67, 60, 64, 69),
    "ukulele-low-g": (55, 60, 64, 69),
    "baritone-ukulele": (50, 55, 59, 64),
}
# Others, from the source each row of data/tunings.toml names.
_ELSEWHERE = {
    "half-step-down": ("pytheory 0.57.13, guitar tunings", (39, 44, 49, 54, 58, 63)),
    "whole-step-down": ("Wikipedia, Guitar tunings, D tuning", (38, 43, 48, 53, 57, 62)),
    "open-c": ("Wikipedia, Guitar tunings, open C", (36, 43, 48, 55, 60, 64)),
    "baritone": ("MW Guitars, baritone model page", (35, 40, 45, 50, 54, 59)),
}


def _tuning_facts(name: str, numbers: tuple[int, ...]) -> Iterator[Fact]:
    for string, theirs in zip(reversed(tunings()[name].strings), numbers, strict=True):
        yield Fact(f"{name} string {string}", tunings()[name].open(string).midi, theirs)


@source("LilyPond 2.24.1, string-tunings-init.ly", "tunings by MIDI number")
def lilypond_tunings() -> Iterator[Fact]:
    for name, numbers in _LILYPOND.items():
        yield from _tuning_facts(name, numbers)


@source("Named in data/tunings.toml", "tunings from pytheory, Wikipedia and a luthier")
def other_tunings() -> Iterator[Fact]:
    for name, (_, numbers) in _ELSEWHERE.items():
        yield from _tuning_facts(name, numbers)
    compared = set(_LILYPOND) | set(_MEI) | set(_ELSEWHERE)
    yield Fact("no tuning is left unchecked", set(tunings()), compared)
