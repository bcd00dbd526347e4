"""Note names in five languages: LilyPond's tables, music21's names, and the spellings players type."""

from __future__ import annotations

from collections.abc import Iterator

from music21 import pitch

from drill.errors import UnknownName
from drill.theory.keys import parse_key
from drill.theory.names import NOTE_LANGUAGES, NoteLanguage, parse_note, show_note
from drill.theory.pitch import LETTERS, Note
from tests.theory.outside.registry import Fact, source

LILYPOND = "LilyPond 2.24.1, define-note-names.scm"

# Per language the names of C D E F G A B, double flat to double sharp, as the table lists them.
_LILYPOND: dict[NoteLanguage, str] = {
    "german": """ceses ces c cis cisis / deses des d dis disis / eses es e eis eisis / feses fes f fis fisis /
        geses ges g gis gisis / asas as a ais aisis / heses b h his hisis""",
    "italian": """dobb dob do dod dodd / rebb reb re red redd / mibb mib mi mid midd / fabb fab fa fad fadd /
        solbb solb sol sold soldd / labb lab la lad ladd / sibb sib si sid sidd""",
    "french": """dobb dob do dod dodd / rebb reb re red redd / mibb mib mi mid midd / fabb fab fa fad fadd /
        solbb solb sol sold soldd / labb lab la lad ladd / sibb sib si sid sidd""",
    "spanish": """dobb dob do dos doss / rebb reb re res ress / mibb mib mi mis miss / fabb fab fa fas fass /
        solbb solb sol sols solss / labb lab la las lass / sibb sib si sis siss""",
    "english": """c-flatflat c-flat c c-sharp c-sharpsharp / d-flatflat d-flat d d-sharp d-sharpsharp /
        e-flatflat e-flat e e-sharp e-sharpsharp / f-flatflat f-flat f f-sharp f-sharpsharp /
        g-flatflat g-flat g g-sharp g-sharpsharp / a-flatflat a-flat a a-sharp a-sharpsharp /
        b-flatflat b-flat b b-sharp b-sharpsharp""",
}


def read(text: str, language: NoteLanguage = "english") -> str:
    """What fretsure reads, as an ASCII name; 'refused' when it is no note in that language."""
    try:
        return parse_note(text, language).name
    except UnknownName:
        return "refused"


@source(LILYPOND, "35 note names in each of five languages")
def lilypond_names() -> Iterator[Fact]:
    for language, table in _LILYPOND.items():
        for letter, names in zip(LETTERS, table.split("/"), strict=True):
            for accidental, name in zip(range(-2, 3), names.split(), strict=True):
                yield Fact(f"{language} {name}", read(name, language), Note.of(letter, accidental).name)


# The three names that mean two notes (Dutch b = English, Nordic b = German); 'refused' where the table would have
# them as typing shorthand (English es, as) that no player says.
_COLLISIONS: dict[tuple[str, NoteLanguage], str] = {
    ("b", "english"): "B",
    ("b", "german"): "Bb",
    ("es", "german"): "Eb",
    ("es", "english"): "refused",
    ("as", "german"): "Ab",
    ("as", "english"): "refused",
    ("h", "german"): "B",
    ("h", "english"): "refused",
}


@source(LILYPOND, "names that two languages read differently")
def collisions() -> Iterator[Fact]:
    for (name, language), theirs in _COLLISIONS.items():
        yield Fact(f"{language} {name}", read(name, language), theirs)


@source("music21 10", "35 note names in German, French, Italian and Spanish")
def music21_names() -> Iterator[Fact]:
    for letter in LETTERS:
        for accidental in range(-2, 3):
            ours = Note.of(letter, accidental)
            theirs = pitch.Pitch(letter + ("#" * accidental or "-" * -accidental))
            for language in NOTE_LANGUAGES[1:]:
                yield Fact(f"{language} {ours.name}", read(getattr(theirs, language), language), ours.name)
            yield Fact(f"{ours.name} shown in German", show_note(ours, "german"), theirs.german)


# Forms in use among players (common practice, no source); signs by their Unicode names.
_TYPED_NOTES = {
    "Bb": "Bb", "B♭": "Bb", "bb": "Bb", "b flat": "Bb", "b-flat": "Bb", "Bflat": "Bb", "B FLAT": "Bb", " Bb ": "Bb",
    "A#": "A#", "A♯": "A#", "a sharp": "A#", "A-sharp": "A#", "ASHARP": "A#", "Fx": "F##", "F##": "F##", "F𝄪": "F##",
    "f double sharp": "F##", "Bbb": "Bbb", "B𝄫": "Bbb", "b double flat": "Bbb", "♭": "refused", "Ｂｂ": "Bb",
    "Ｃ＃": "C#", "c": "C", "C natural": "C", "G♮": "G", "": "refused", "H": "refused", "Bbbb": "refused",
    "C###": "refused", "Bb#": "refused", "5": "refused", "do": "refused", "B b b": "Bbb", "E4": "refused",
}  # fmt: skip
_TYPED_KEYS = {
    "Am": "A minor", "a minor": "A minor", "A min": "A minor", "A-": "A minor", "A MINOR": "A minor", "am": "A minor",
    "a": "A major", "A": "A major", "AM": "A major", "A maj": "A major", "A major": "A major", "Bb": "Bb major",
    "bb": "Bb major", "bbm": "Bb minor", "B♭ minor": "Bb minor", "b flat minor": "Bb minor", "B♭m": "Bb minor",
    "f sharp minor": "F# minor", "F#m": "F# minor", "F♯-": "F# minor", "Ｆ♯m": "F# minor", "E-flat major": "Eb major",
}  # fmt: skip
_TYPED_ABROAD: dict[tuple[str, NoteLanguage], str] = {
    ("b-Moll", "german"): "Bb minor",
    ("h-Moll", "german"): "B minor",
    ("As-Dur", "german"): "Ab major",
    ("Es Dur", "german"): "Eb major",
    ("fis moll", "german"): "F# minor",
    ("la minore", "italian"): "A minor",
    ("Si bemolle maggiore", "italian"): "Bb major",
    ("fa diesis minore", "italian"): "F# minor",
    ("mi", "italian"): "E major",
    ("si bémol mineur", "french"): "Bb minor",
    ("Ré majeur", "french"): "D major",
    ("la bemol mayor", "spanish"): "Ab major",
    ("sol sostenido menor", "spanish"): "G# minor",
    ("solm", "spanish"): "G minor",
}


@source("Common practice, no source", "ways players type notes and keys")
def typed() -> Iterator[Fact]:
    for text, name in _TYPED_NOTES.items():
        yield Fact(f"note {text!r}", read(text), name)
    for text, name in _TYPED_KEYS.items():
        yield Fact(f"key {text!r}", parse_key(text).name, name)
    for (text, language), name in _TYPED_ABROAD.items():
        yield Fact(f"{language} key {text!r}", parse_key(text, language).name, name)
