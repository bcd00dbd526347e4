"""Kinds of answer: how a typed line becomes a canonical answer, and how an answer is shown.

Canonical answers are short ASCII strings ('Bb', '8', 'F minor'); two answers are the same when their strings are. A
line that cannot be read raises `UnknownName` with what the field takes: it is a slip of the keyboard, not a wrong
answer.

NoteAnswer LetterAnswer       a note, a letter
KeyAnswer AnyKeyAnswer        a key, where the question names the mode and where it does not
SignatureAnswer               so many sharps or flats
FretAnswer FingerAnswer       a place on the neck, a finger
DegreeAnswer                  a scale degree
ChordAnswer NumeralAnswer     a chord, its numeral in a key
"""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple, Protocol

from drill.errors import UnknownName
from drill.questions.wording import FINGERS, NO_SIGNS, named, named_degree, signature_in_words, to_screen
from drill.theory.chords import parse_chord
from drill.theory.harmony import chord_at, numeral_of, show_numeral
from drill.theory.keys import MOST_SIGNS, Key, Mode, parse_tonic
from drill.theory.names import LONGEST_NAME, NoteLanguage, parse_note, quoted, show_note
from drill.theory.pitch import Note

_NO_SIGNS_TYPED = "0"
_G, _E_MINOR = named(Note.of("G")), named(Note.of("E")) + "m"
_WORDS_FOR_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven")


class AnswerKind(Protocol):
    """What the answer field takes."""

    @property
    def hint(self) -> str:
        """What to type, in a few words, with its notes marked as in `wording`: 'a note, such as Eb'."""

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        """The canonical answer; raises `UnknownName` for what cannot be read."""

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        """A canonical answer as a person reads it."""


class NoteAnswer(NamedTuple):
    """A note name."""

    hint: str = f"a note, such as {named(Note.of('E', -1))}"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        return parse_note(text, language).name

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return show_note(parse_note(answer), language)


class LetterAnswer(NamedTuple):
    """One of the seven letters, without a sign."""

    hint: str = "a letter alone, without sharp or flat"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        note = parse_note(text, language)
        if note.accidental:
            raise UnknownName(f"{quoted(text)} carries a sharp or a flat.", f"Type {self.hint}.")
        return note.name

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return show_note(parse_note(answer), language)


class KeyAnswer(NamedTuple):
    """A key whose mode the question fixes, so that a bare tonic is enough."""

    mode: Mode

    @property
    def hint(self) -> str:
        return f"a {self.mode} key, such as {_G if self.mode == 'major' else _E_MINOR}"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        tonic, mode = parse_tonic(text, language)
        return f"{tonic.name} {mode or self.mode}"

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return _shown_key(answer, language)


class AnyKeyAnswer(NamedTuple):
    """A key of either mode; a bare tonic is major, as everywhere."""

    hint: str = f"a key, such as {_G} or {_E_MINOR}"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        tonic, mode = parse_tonic(text, language)
        return f"{tonic.name} {mode or 'major'}"

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return _shown_key(answer, language)


def _shown_key(answer: str, language: NoteLanguage) -> str:
    tonic, mode = parse_tonic(answer)
    return f"{show_note(tonic, language)} {mode}"


class SignatureAnswer(NamedTuple):
    """A number of sharps or of flats, canonically '3 flats', '1 sharp' or '0'."""

    hint: str = "how many and of which, such as 3 flats or 2#; 0 for none"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        match = _SIGNATURE.fullmatch(_plain(text).casefold())
        if match is None:
            raise UnknownName(f"{quoted(text)} is no key signature.", f"Type {self.hint}.")
        number, signs, sort = match["number"], match["signs"], match["sort"] or match["signs"] or ""
        count = len(signs) if signs else _counted(number)
        if count > MOST_SIGNS:
            raise UnknownName(f"No key signature holds {count} signs.", f"Type {self.hint}.")
        if count and not sort:
            raise UnknownName(f"{quoted(text)} does not say sharps or flats.", f"Type {self.hint}.")
        return signature_name(count if sort.startswith(("#", "s")) else -count)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return NO_SIGNS if answer == _NO_SIGNS_TYPED else answer


_SIGNATURE = re.compile(
    rf"(?P<number>[0-9]{{1,2}}|none|{'|'.join(_WORDS_FOR_NUMBERS)}) ?(?P<sort>sharps?(?: or flats?)?|flats?|[#b])?"
    r"|(?P<signs>#{1,9}|b{1,9})"
)


def _counted(number: str) -> int:
    if number in _WORDS_FOR_NUMBERS:
        return _WORDS_FOR_NUMBERS.index(number)
    return 0 if number == "none" else int(number)


def signature_name(signature: int) -> str:
    """The canonical answer: '3 sharps', '1 flat', and '0' for none."""
    return signature_in_words(signature) if signature else _NO_SIGNS_TYPED


class FretAnswer(NamedTuple):
    """A fret of this neck."""

    last_fret: int

    @property
    def hint(self) -> str:
        return f"a fret, 0 to {self.last_fret}"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        words = " ".join(text.casefold().split())
        match = _FRET.fullmatch(words if words not in _OPEN else "0")
        fret = _read_number(match["number"] if match else text, self.hint)
        if fret > self.last_fret:
            raise UnknownName(f"Fret {fret} is not on this neck.", f"Type {self.hint}.")
        return str(fret)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return f"fret {answer}"


_FRET = re.compile(r"(?:the )?(?:fret ?)?(?P<number>\d{1,3})(?:st|nd|rd|th)?(?: ?fret)?")
_OPEN = ("open", "open string", "the open string")


class FingerAnswer(NamedTuple):
    """A finger, by number or by name."""

    hint: str = "a finger, 1 (index) to 4 (little)"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        words = re.sub(r"finger|\bthe\b|[()]", " ", text.casefold()).split()
        if words in (["thumb"], ["t"]):
            raise UnknownName("The thumb has no number here.", f"Type {self.hint}.")
        fingers = {_FINGER_NAMES.get(word) or _read_number(word, self.hint) for word in words[:2] or [""]}
        if len(words) > 2 or len(fingers) > 1 or not fingers <= FINGERS.keys():  # "4 (little)" says it twice
            raise UnknownName(f"{quoted(text)} is not one finger.", f"Type {self.hint}.")
        return str(fingers.pop())

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return f"finger {answer} ({FINGERS[int(answer)]})"


_FINGER_NAMES = {name: number for number, name in FINGERS.items()} | {
    "pinky": 4, "pinkie": 4, "first": 1, "second": 2, "third": 3, "fourth": 4, "1st": 1, "2nd": 2, "3rd": 3, "4th": 4,
}  # fmt: skip


class DegreeAnswer(NamedTuple):
    """A scale degree against the major scale: '5', 'b3'; or the interval from the tonic: 'P5', 'm3'."""

    hint: str = "a degree, such as 5 or b3"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        spelled = _spelled_out(_plain(text))
        if interval := _INTERVAL.fullmatch(spelled):
            return _degree_of(interval, text, self.hint)
        match = _DEGREE.fullmatch(spelled.casefold())
        if match is None:
            raise UnknownName(f"{quoted(text)} is not a scale degree.", f"Type {self.hint}.")
        sign = (match["before"] or "") + (match["after"] or "")
        if len(sign) > 1:
            raise UnknownName(f"{quoted(text)} has too many signs.", f"Type {self.hint}.")
        return sign + match["number"].replace("8", "1")

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return to_screen(named_degree(answer), language)


_DEGREE = re.compile(r"(?P<before>[b#])? ?(?P<number>[1-8])(?:st|nd|rd|th)? ?(?P<after>[b#])?")
_DEGREE_WORDS = {
    "tonic": "1", "root": "1", "octave": "1", "first": "1", "second": "2", "third": "3", "fourth": "4", "fifth": "5",
    "sixth": "6", "seventh": "7", "unison": "1", "flat": "b", "sharp": "#", "minor": "m", "major": "M", "perfect": "P",
    "augmented": "A", "diminished": "d", "min": "m", "maj": "M", "perf": "P", "aug": "A", "dim": "d",
}  # fmt: skip
_INTERVAL = re.compile(r"(?P<quality>m|M|[Pp]|A|d|(?i:min|maj|perf|aug|dim)) ?(?P<number>[1-8])(?:st|nd|rd|th)?")
_PERFECT_NUMBERS = "1458"


def _spelled_out(text: str) -> str:
    """Words for numbers and qualities as their short signs: 'minor third' is 'm 3'."""
    words = text.replace("-", " ").replace(".", " ").split()
    return " ".join(_DEGREE_WORDS.get(word.casefold(), word) for word in words)


def _degree_of(interval: re.Match[str], text: str, hint: str) -> str:
    """The degree that lies an interval above the tonic; raises `UnknownName` for one that there is not, as 'm5'."""
    quality, number = interval["quality"], interval["number"]
    quality = _DEGREE_WORDS.get(quality.casefold(), quality)
    perfect = number in _PERFECT_NUMBERS
    signs = {"P": "", "p": "", "A": "#", "d": "b"} if perfect else {"M": "", "m": "b", "A": "#"}
    if quality not in signs:
        raise UnknownName(f"{quoted(text)} is not a scale degree.", f"Type {hint}.")
    return signs[quality] + number.replace("8", "1")


class ChordAnswer(NamedTuple):
    """A chord, as on a lead sheet."""

    hint: str = f"a chord, such as {_G}m or {named(Note.of('B'))}dim"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        return parse_chord(text, language).name

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return parse_chord(answer).shown_in(language)


class NumeralAnswer(NamedTuple):
    """A roman numeral in a key; 'bVI' and 'VI' are one in a minor key, as players write both."""

    key: Key
    hint: str = "a roman numeral, such as IV or vi"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        return numeral_of(chord_at(text if len(text) <= LONGEST_NAME else "", self.key), self.key)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return show_numeral(answer)


def _read_number(text: str, hint: str) -> int:
    """A whole number of at most three digits, in any script's digits."""
    digits = text.strip()
    if not digits.isdecimal() or len(digits) > 3:
        raise UnknownName(f"{quoted(text)} is not a number." if digits else "Nothing was typed.", f"Type {hint}.")
    return int(digits)


def _plain(text: str) -> str:
    """Full-width characters and real signs folded away, blanks made single; nothing of what is too long."""
    if len(text) > LONGEST_NAME:
        return ""
    plain = unicodedata.normalize("NFKC", text).replace("♭", "b").replace("♯", "#")
    return " ".join(plain.split())
