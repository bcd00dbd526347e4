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

import re
import unicodedata
from collections.abc import Iterable
from functools import cache
from typing import NamedTuple, Protocol

from drill.errors import FretsureError, UnknownName
from drill.questions import hints
from drill.questions.wording import FINGERS, NO_SIGNS, named_degree, signature_in_words, to_screen
from drill.theory.chords import parse_chord
from drill.theory.harmony import ROMANS, chord_at, numeral_of, show_numeral
from drill.theory.keys import KEYS, MOST_SIGNS, Key, Mode, parse_tonic
from drill.theory.names import LONGEST_NAME, NoteLanguage, parse_note, quoted, show_note, typed_note
from drill.theory.neck import names_of
from drill.theory.pitch import Note

_NO_SIGNS_TYPED = "0"
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

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        """Whether what was typed is a whole answer that needs no Enter, because no other answer begins with it.

        It is told from all answers that the question could have, never from the right one: that would betray it.
        """


class NoteAnswer(NamedTuple):
    """A note name; `naturals_only` where no question of its deck has any other note for an answer."""

    hint: str = hints.NOTE.beside()
    naturals_only: bool = False

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        return _whole(self, text, language, _note_spellings(_NATURALS if self.naturals_only else _EVERYDAY, language))

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

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        return _whole(self, text, language, _note_spellings(_NATURALS, language))

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return show_note(parse_note(answer), language)


class KeyAnswer(NamedTuple):
    """A key whose mode the question fixes, so that a bare tonic is enough."""

    mode: Mode

    @property
    def hint(self) -> str:
        return hints.KEY[self.mode].beside()

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        tonic, mode = parse_tonic(text, language)
        return f"{tonic.name} {mode or self.mode}"

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        """The note alone is enough, for the mode is known; its short sign may follow."""
        if _ends_with("m" if self.mode == "minor" else "M", text):
            return _can_be_read(self, text, language)
        return _whole(NoteAnswer(), text, language, _note_spellings(_tonics(self.mode), language))

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return _shown_key(answer, language)


class AnyKeyAnswer(NamedTuple):
    """A key of either mode; a bare tonic is major, as everywhere. A final m or M ends the answer: f#m is F# minor."""

    hint: str = hints.ANY_KEY.beside()

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        tonic, mode = parse_tonic(text, language)
        return f"{tonic.name} {mode or 'major'}"

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        return _ends_with("mM", text) and _can_be_read(self, text, language)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return _shown_key(answer, language)


def _shown_key(answer: str, language: NoteLanguage) -> str:
    tonic, mode = parse_tonic(answer)
    return f"{show_note(tonic, language)} {mode}"


class SignatureAnswer(NamedTuple):
    """A number of sharps or of flats, canonically '3 flats', '1 sharp' or '0'."""

    hint: str = hints.SIGNATURE.beside()

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        match = re.fullmatch(_SIGNATURE, _plain(text).casefold())
        if match is None:
            raise UnknownName(f"{quoted(text)} is not a key signature.", f"Type {self.hint}.")
        number, signs, sort = match["number"], match["signs"], match["sort"] or match["signs"] or ""
        count = len(signs) if signs else _counted(number)
        if count > MOST_SIGNS:
            raise UnknownName(f"No key signature holds {count} signs.", f"Type {self.hint}.")
        if count and not sort:
            raise UnknownName(f"{quoted(text)} does not say sharps or flats.", f"Type {self.hint}.")
        return signature_name(count if sort.startswith(("#", "s")) else -count)

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        return _whole(self, text, language, _SIGNATURE_SPELLINGS)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return NO_SIGNS if answer == _NO_SIGNS_TYPED else answer


_SIGNATURE = (
    rf"(?P<number>[0-9]{{1,2}}|none|{'|'.join(_WORDS_FOR_NUMBERS)}) ?(?P<sort>sharps?(?: or flats?)?|flats?|[#b])?"
    r"|(?P<signs>#{1,9}|b{1,9})"
)


_SIGNATURE_SPELLINGS = (
    *("0", "none", "nosharps", "noflats", "nosharpsorflats"),
    *(f"{count}{sign}" for count in range(1, MOST_SIGNS + 1) for sign in ("#", "b", "sharps", "flats")),
    *(sign * count for count in range(1, MOST_SIGNS + 1) for sign in "#b"),
)


def _counted(number: str) -> int:
    if number in _WORDS_FOR_NUMBERS:
        return _WORDS_FOR_NUMBERS.index(number)
    return 0 if number == "none" else int(number)


def signature_name(signature: int) -> str:
    """The canonical answer: '3 sharps', '1 flat', and '0' for none."""
    return signature_in_words(signature) if signature else _NO_SIGNS_TYPED


class FretAnswer(NamedTuple):
    """A fret of this neck, on the string that the question names.

    Where a finger holds the answer, `first_fret` is 1; the open string can be typed all the same, and is told as wrong.
    """

    last_fret: int
    string: int | None = None
    first_fret: int = 0

    @property
    def hint(self) -> str:
        return f"a fret, {self.first_fret} to {self.last_fret}"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        words = " ".join(text.casefold().split())
        match = re.fullmatch(_FRET, words if words not in _OPEN else "0")
        fret = _read_number(match["number"] if match else text, self.hint)
        if fret > self.last_fret:
            raise UnknownName(f"Fret {fret} is not on this neck.", f"Type {self.hint}.")
        return str(fret)

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        """Where no higher fret of the neck begins with the same figure."""
        if not _can_be_read(self, text, language):
            return False
        fret = self.read(text, language)
        return not any(str(other).startswith(fret) for other in range(int(fret) + 1, self.last_fret + 1))

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return f"fret {answer}"


_FRET = r"(?:the )?(?:fret ?)?(?P<number>\d{1,3})(?:st|nd|rd|th)?(?: ?fret)?"
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

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        return _can_be_read(self, text, language)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return f"finger {answer} ({FINGERS[int(answer)]})"


_FINGER_NAMES = {name: number for number, name in FINGERS.items()} | {
    "pinky": 4, "pinkie": 4, "first": 1, "second": 2, "third": 3, "fourth": 4, "1st": 1, "2nd": 2, "3rd": 3, "4th": 4,
}  # fmt: skip


class DegreeAnswer(NamedTuple):
    """A scale degree against the major scale: '5', 'b3'; or the interval from the tonic: 'P5', 'm3'."""

    hint: str = hints.DEGREE.beside()

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        spelled = _spelled_out(_plain(text))
        if interval := re.fullmatch(_INTERVAL, spelled):
            return _degree_of(interval, text, self.hint)
        match = re.fullmatch(_DEGREE, spelled.casefold())
        if match is None:
            raise UnknownName(f"{quoted(text)} is not a scale degree.", f"Type {self.hint}.")
        sign = (match["before"] or "") + (match["after"] or "")
        if len(sign) > 1:
            raise UnknownName(f"{quoted(text)} has too many signs.", f"Type {self.hint}.")
        return sign + match["number"].replace("8", "1")

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        """At its figure: signs are typed before it."""
        return text[-1:].isdecimal() and _can_be_read(self, text, language)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return to_screen(named_degree(answer), language)


_DEGREE = r"(?P<before>[b#])? ?(?P<number>[1-8])(?:st|nd|rd|th)? ?(?P<after>[b#])?"
_DEGREE_WORDS = {
    "tonic": "1", "root": "1", "octave": "1", "first": "1", "second": "2", "third": "3", "fourth": "4", "fifth": "5",
    "sixth": "6", "seventh": "7", "unison": "1", "flat": "b", "sharp": "#", "minor": "m", "major": "M", "perfect": "P",
    "augmented": "A", "diminished": "d", "min": "m", "maj": "M", "perf": "P", "aug": "A", "dim": "d",
}  # fmt: skip
_INTERVAL = r"(?P<quality>m|M|[Pp]|A|d|(?i:min|maj|perf|aug|dim)) ?(?P<number>[1-8])(?:st|nd|rd|th)?"
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

    hint: str = hints.CHORD.beside()

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        return parse_chord(text, language).name

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        """At the ending of a minor or a diminished triad; a major one could still become either."""
        return _ends_with("m°", text) and _can_be_read(self, text, language)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return parse_chord(answer).shown_in(language)


class NumeralAnswer(NamedTuple):
    """A roman numeral in a key; 'bVI' and 'VI' are one in a minor key, as players write both."""

    key: Key
    hint: str = hints.NUMERAL.beside()

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        return numeral_of(chord_at(text if len(text) <= LONGEST_NAME else "", self.key), self.key)

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        typed = text.strip().replace("°", "o")
        return _can_be_read(self, text, language) and not _is_extended(typed, _NUMERALS)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return show_numeral(answer)


_TRIADS = (*ROMANS, *map(str.lower, ROMANS), "iio", "viio")
_NUMERALS = tuple(flat + numeral for numeral in _TRIADS for flat in ("", "b"))
"""What a triad of a key can be called; capitals and small letters are different numerals."""


# -- whole answers -----------------------------------------------------------------------------------------------------

_NATURALS = tuple(Note(fifths) for fifths in range(-1, 6))
_EVERYDAY = tuple(note for pitch_class in range(12) for note in names_of(pitch_class))


@cache
def _tonics(mode: Mode) -> tuple[Note, ...]:
    return tuple(key.tonic for key in KEYS if key.mode == mode)


@cache
def _note_spellings(notes: tuple[Note, ...], language: NoteLanguage) -> tuple[str, ...]:
    """How a keyboard types these notes: by the names of the language, and by letters where it reads letters too."""
    return tuple(
        name.casefold()
        for note in notes
        for name in (typed_note(note, language), note.name)
        if _means(name, note, language)
    )


def _means(name: str, note: Note, language: NoteLanguage) -> bool:
    try:
        return parse_note(name, language) == note
    except UnknownName:
        return False


def _whole(kind: AnswerKind, text: str, language: NoteLanguage, spellings: Iterable[str]) -> bool:
    """Whether a text can be read and none of the spellings goes on from it."""
    return _can_be_read(kind, text, language) and not _is_extended(_plain(text).casefold().replace(" ", ""), spellings)


def _can_be_read(kind: AnswerKind, text: str, language: NoteLanguage) -> bool:
    try:
        kind.read(text, language)
    except FretsureError:
        return False
    return True


def _is_extended(text: str, spellings: Iterable[str]) -> bool:
    return any(spelling != text and spelling.startswith(text) for spelling in spellings)


def _ends_with(signs: str, text: str) -> bool:
    """Whether a text ends with one of these signs, in one word: whoever writes several words ends them with Enter."""
    return text[-1:] != "" and text[-1] in signs and not any(gap in text for gap in " -")


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
