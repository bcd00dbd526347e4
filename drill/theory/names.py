"""Text to note and note to text, in the learner's note language.

Players type a flat as a letter, a sign or a word; all of these are read. What a bare letter means depends on the note
language (a German b is B flat, an English one B), which is always given and never guessed.

>>> parse_note("b flat"), parse_note("F𝄪"), parse_note("bb")
(Note('Bb'), Note('F##'), Note('Bb'))
>>> parse_note("b", "german"), parse_note("si bémol", "french"), show_note(parse_note("F#"), "german")
(Note('Bb'), Note('Bb'), 'Fis')
>>> show_note(parse_note("Ebb"))
'E♭♭'
"""

import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import cache
from types import MappingProxyType
from typing import Literal, NamedTuple, get_args

from drill.errors import UnknownName
from drill.theory.pitch import LETTERS, Note, Pitch

NoteLanguage = Literal["english", "german", "italian", "french", "spanish"]
NOTE_LANGUAGES: tuple[NoteLanguage, ...] = get_args(NoteLanguage)

SHARP_SIGN, FLAT_SIGN = "♯", "♭"
LONGEST_NAME = 40
"""Longer text is refused unread, so that a pasted page costs nothing."""

_CIRCLES = str.maketrans(dict.fromkeys("º˚ᵒ", "°"))
_APART = r"[a-h][\s-]+[a-z]{1,2}"
"""A letter, then a space or hyphen, then one or two letters: 'A B' is two notes, not A flat."""
_DASHES = str.maketrans(dict.fromkeys("‐‑–—−", "-"))
_TYPED = {"♯": "#", "♭": "b", "𝄪": "##", "𝄫": "bb", "♮": "", "-": ""}
_SIGNS: Mapping[str, int] = {"": 0, "#": 1, "##": 2, "x": 2, "b": -1, "bb": -2}


class _Naming(NamedTuple):
    """How one language names notes: seven words for C to B, endings for accidentals, and exceptions."""

    words: str
    endings: Mapping[str, int]
    fix: str
    irregular: Mapping[str, str | None] = MappingProxyType({})
    """Names that break the rule, with the ASCII name they mean; None for names the rule would make but nobody uses."""
    also_letters: bool = False
    """Whether the plain letters A-G with signs are read too; in German they would clash."""


_NAMINGS: Mapping[NoteLanguage, _Naming] = {
    "english": _Naming(
        "c d e f g a b",
        {"natural": 0, "sharp": 1, "doublesharp": 2, "sharpsharp": 2, "flat": -1, "doubleflat": -2, "flatflat": -2},
        "Type a letter A to G with # or b, such as F# or Bb.",
    ),
    "german": _Naming(
        "c d e f g a h",
        {"is": 1, "isis": 2, "es": -1, "eses": -2},
        "Type C D E F G A H, such as Fis or Es; B is H lowered, and B lowered again is Heses.",
        irregular={"b": "Bb", "es": "Eb", "eses": "Ebb", "as": "Ab", "ases": "Abb", "asas": "Abb"}
        | dict.fromkeys(("ees", "eeses", "aes", "aeses", "hes")),
    ),
    "italian": _Naming(
        "do re mi fa sol la si",
        {"diesis": 1, "d": 1, "doppiodiesis": 2, "dd": 2, "bemolle": -1, "doppiobemolle": -2},
        "Type do re mi fa sol la si, such as fa diesis, sib or si bemolle.",
        also_letters=True,
    ),
    "french": _Naming(
        "do re mi fa sol la si",
        {"diese": 1, "d": 1, "doublediese": 2, "dd": 2, "bemol": -1, "doublebemol": -2},
        "Type do ré mi fa sol la si, such as fa dièse, sib or si bémol.",
        also_letters=True,
    ),
    "spanish": _Naming(
        "do re mi fa sol la si",
        {"sostenido": 1, "s": 1, "doblesostenido": 2, "ss": 2, "bemol": -1, "doblebemol": -2},
        "Type do re mi fa sol la si, such as fa sostenido, sib or si bemol.",
        also_letters=True,
    ),
}


def parse_note(text: str, language: NoteLanguage = "english") -> Note:
    """Read a note name in any common spelling of its language; raise `UnknownName` for anything else."""
    note = _readable(language).get(_plain(text))
    if note is None:
        raise UnknownName(f"{quoted(text)} is not a note.", _NAMINGS[language].fix)
    return note


def parse_pitch(text: str) -> Pitch:
    """Read an English note name followed by its scientific octave, as in 'Bb3'."""
    match = re.fullmatch(r"(.+?)(-?\d)", text.strip())
    if not match:
        raise UnknownName(f"{quoted(text)} is not a pitch.", "Write a note and an octave, such as E2 or F#3.")
    note = parse_note(match[1])
    return Pitch.of(note.letter, note.accidental, int(match[2]))


def plain_dashes(text: str) -> str:
    """The text with every dash and minus sign as the hyphen that keyboards have; word processors put others there."""
    return text.translate(_DASHES)


def plain_circles(text: str) -> str:
    """The text with every small raised circle as the degree sign, which marks a diminished chord."""
    return text.translate(_CIRCLES)


def show_note(note: Note, language: NoteLanguage = "english") -> str:
    """The name for a screen: real accidental signs, or the German words."""
    if language == "german":
        return _german(note)
    word = _NAMINGS[language].words.split()[LETTERS.index(note.letter)].capitalize()
    return word + (SHARP_SIGN * note.accidental or FLAT_SIGN * -note.accidental)


def typed_note(note: Note, language: NoteLanguage = "english") -> str:
    """The name as a keyboard types it in a note language: 'Bb', 'Sib', in German 'B'; `parse_note` reads it back."""
    return show_note(note, language).replace(SHARP_SIGN, "#").replace(FLAT_SIGN, "b")


def show_signs(ascii_name: str) -> str:
    """Turn the b and # of an ASCII note, key or chord name into ♭ and ♯."""
    return re.sub(r"(?<=[A-G])([#b]+)", _with_signs, ascii_name)


def one_line(text: str) -> str:
    """The learner's own text for a message: one short line, no control characters."""
    text = text.strip()
    printable = "".join(ch if ch.isprintable() else "?" for ch in text[:LONGEST_NAME])
    return printable + ("…" if len(text) > LONGEST_NAME else "")


def quoted(text: str) -> str:
    """The learner's own text on one line, in quotes."""
    return f"“{one_line(text)}”"


def joined(words: Sequence[str], conjunction: str) -> str:
    """Words as a sentence lists them.

    >>> joined(["A"], "and"), joined(["A", "C"], "and"), joined(["A", "C", "E"], "or"), joined([], "or")
    ('A', 'A and C', 'A, C or E', '')
    """
    return f"{', '.join(words[:-1])} {conjunction} {words[-1]}" if len(words) > 1 else "".join(words)


def _with_signs(match: re.Match[str]) -> str:
    return match[1].replace("#", SHARP_SIGN).replace("b", FLAT_SIGN)


def _german(note: Note) -> str:
    """The first irregular name where there is one (Es, As, B), else the word with its ending."""
    naming = _NAMINGS["german"]
    for name, meant in naming.irregular.items():
        if meant == note.name:
            return name.capitalize()
    word = naming.words.split()[LETTERS.index(note.letter)].capitalize()
    return word + ("is" * note.accidental or "es" * -note.accidental)


@cache
def _readable(language: NoteLanguage) -> dict[str, Note]:
    """Every spelling that a language reads, in the form that `_plain` makes."""
    naming = _NAMINGS[language]
    spellings = _spellings(_NAMINGS["english"].words, _SIGNS) if naming.also_letters else {}
    spellings |= _spellings(naming.words, {**_SIGNS, **naming.endings})
    for name, meant in naming.irregular.items():
        spellings.pop(name, None)
        if meant is not None:
            spellings[name] = Note.of(meant[0], meant.count("#") - meant.count("b"))
    return spellings


def _spellings(words: str, endings: Mapping[str, int]) -> dict[str, Note]:
    return {
        word + ending: Note.of(letter, accidental)
        for letter, word in zip(LETTERS, words.split(), strict=True)
        for ending, accidental in endings.items()
    }


def _plain(text: str) -> str:
    """The text in lower case, without accents, hyphens and spaces, its signs as a keyboard types them."""
    if len(text) > LONGEST_NAME:
        return ""
    folded = plain_dashes(unicodedata.normalize("NFKC", text)).casefold().strip()
    if re.fullmatch(_APART, folded):
        return ""
    letter, rest = folded[:1], folded[1:]  # a name begins with a letter; a sign there must not turn into one
    for typed, plain in _TYPED.items():
        rest = rest.replace(typed, plain)
    unaccented = unicodedata.normalize("NFKD", letter + rest)
    return "".join(ch for ch in unaccented if not ch.isspace() and not unicodedata.combining(ch))
