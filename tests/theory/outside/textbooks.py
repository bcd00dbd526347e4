"""Open textbooks: Open Music Theory (CC BY-SA 4.0) and Understanding Basic Music Theory (CC BY). Figures only."""

from __future__ import annotations

from collections.abc import Iterator

from drill.theory.keys import MAJOR_KEYS, MINOR_KEYS, parse_key
from drill.theory.names import parse_note
from drill.theory.pitch import LETTERS, Note
from drill.theory.scales import MAJOR, MAJOR_PENTATONIC, SCALES, degree_interval, spell
from tests.theory.outside.intervals import INTERVALS, degree_above, rise
from tests.theory.outside.registry import Fact, source

OMT = "Open Music Theory (openmusictheory.github.io @d571fe2)"
UBMT = "Understanding Basic Music Theory, C. Schmidt-Jones"

# Solution to exercise 4.4.2: the relative major of each minor key.
_RELATIVES = {"A": "C", "G": "Bb", "Bb": "Db", "E": "G", "F": "Ab", "F#": "A"}


@source(UBMT, "six worked relative keys, both ways")
def relatives() -> Iterator[Fact]:
    for minor, major in _RELATIVES.items():
        yield Fact(f"relative of {minor} minor", parse_key(f"{minor} minor").relative.name, f"{major} major")
        yield Fact(f"relative of {major} major", parse_key(major).relative.name, f"{minor} minor")


@source("Coursera music theory lecture, transcript", "two letters and three half steps down; two worked keys")
def letters_and_half_steps() -> Iterator[Fact]:
    for major, minor in {"G": "E", "Eb": "C"}.items():
        yield Fact(f"relative of {major} major", parse_key(major).relative.tonic.name, minor)
    for key in MAJOR_KEYS:
        yield Fact(f"{key} down to its relative", rise(key.relative.tonic, key.tonic), (2, 3))


# keySignatures.md: the circle of fifths, sharps (flats negative) of each major and minor key.
_CIRCLE = {
    0: ("C", "A"), 1: ("G", "E"), 2: ("D", "B"), 3: ("A", "F#"), 4: ("E", "C#"), 5: ("B", "G#"), 6: ("F#", "D#"),
    7: ("C#", "A#"), -1: ("F", "D"), -2: ("Bb", "G"), -3: ("Eb", "C"), -4: ("Ab", "F"), -5: ("Db", "Bb"),
    -6: ("Gb", "Eb"), -7: ("Cb", "Ab"),
}  # fmt: skip


@source(OMT, "circle of fifths: 15 signatures, two keys each")
def circle() -> Iterator[Fact]:
    for signature, (major, minor) in _CIRCLE.items():
        yield Fact(f"{major} major", parse_key(major).signature, signature)
        yield Fact(f"{minor} minor", parse_key(f"{minor}m").signature, signature)
        yield Fact(f"relative of {major}", parse_key(major).relative.tonic.name, minor)


@source(OMT, "order of the accidentals, with two worked signatures")
def accidentals() -> Iterator[Fact]:
    for name, order in {"C#": "F C G D A E B", "Cb": "B E A D G C F", "A": "F C G", "Ab": "B E A D"}.items():
        yield Fact(name, " ".join(note.letter for note in parse_key(name).altered_notes), order)


@source(OMT, "interval table i0 to i12, from every one of 35 notes")
def intervals() -> Iterator[Fact]:
    for semitones, names in INTERVALS.items():
        for name in names.split():
            letters = int(name[1:]) - 1
            for start in (Note.of(letter, accidental) for letter in LETTERS for accidental in range(-2, 3)):
                end = start + degree_interval(degree_above(name))
                yield Fact(f"{name} above {start.name}", rise(start, end), (letters % 7, semitones % 12))


@source(OMT, "a pentatonic is the major scale without its fourth and seventh")
def pentatonics() -> Iterator[Fact]:
    yield Fact("C pentatonic", [n.name for n in spell(parse_note("C"), MAJOR_PENTATONIC)], ["C", "D", "E", "G", "A"])
    black = {note.pitch_class for note in spell(parse_note("F#"), MAJOR_PENTATONIC)}
    white = {note.pitch_class for note in spell(parse_note("C"), MAJOR)}
    yield Fact("the complement of C major is F# pentatonic", black, set(range(12)) - white)
    for key in MAJOR_KEYS:
        kept = [note for place, note in enumerate(key.notes, start=1) if place not in (4, 7)]
        yield Fact(f"{key} pentatonic", list(spell(key.tonic, MAJOR_PENTATONIC)), kept)
    for key in MINOR_KEYS:
        same = {note.name for note in spell(key.tonic, SCALES["minor pentatonic"])}
        relative = {note.name for note in spell(key.relative.tonic, MAJOR_PENTATONIC)}
        yield Fact(f"{key} shares its five notes with {key.relative}", same, relative)


# Modes in solfege, as semitones above do: re 2, ra 1, mi 4, me 3, fa 5, fi 6, sol 7, se 6, la 9, le 8, ti 11, te 10.
_SOLFEGE = {"do": 0, "ra": 1, "re": 2, "me": 3, "mi": 4, "fa": 5, "fi": 6, "se": 6, "sol": 7, "le": 8, "la": 9}
_SOLFEGE |= {"te": 10, "ti": 11}
_MODES = {
    "dorian": "do re me fa sol la te",
    "phrygian": "do ra me fa sol le te",
    "lydian": "do re mi fi sol la ti",
    "mixolydian": "do re mi fa sol la te",
    "locrian": "do ra me fa se le te",
}


@source(OMT, "the modes in solfege, on 15 tonics")
def modes() -> Iterator[Fact]:
    for name, syllables in _MODES.items():
        for key in MAJOR_KEYS:
            ours = [(note.pitch_class - key.tonic.pitch_class) % 12 for note in spell(key.tonic, SCALES[name])]
            yield Fact(f"{key.tonic.name} {name}", ours, [_SOLFEGE[syllable] for syllable in syllables.split()])


@source("A theory workbook's list of the fifteen minor keys", "the minor keys")
def minor_keys() -> Iterator[Fact]:
    listed = "F F# Ab D# Eb E G B A# Bb G# D A C C#"
    yield Fact("the tonics", {key.tonic.name for key in MINOR_KEYS}, set(listed.split()))
