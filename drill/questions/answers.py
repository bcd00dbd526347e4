"""Kinds of answer: how a typed line becomes a canonical answer, and how an answer is shown.

Canonical answers are short ASCII strings ('Bb', '8', 'F minor'); two answers are the same when their strings are. A line
that cannot be read raises `UnknownName` with what the field takes: it is a slip of the keyboard, not a wrong answer.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from drill.errors import UnknownName
from drill.questions.wording import FINGERS
from drill.theory.keys import Mode, parse_tonic
from drill.theory.names import NoteLanguage, parse_note, quoted, show_note


class AnswerKind(Protocol):
    """What the answer field takes."""

    @property
    def hint(self) -> str:
        """What to type, in a few words: 'a note, such as Bb'."""

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        """The canonical answer; raises `UnknownName` for what cannot be read."""

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        """A canonical answer as a person reads it."""


@dataclass(frozen=True, slots=True)
class NoteAnswer:
    """A note name."""

    hint: str = "a note, such as Bb"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        return parse_note(text, language).name

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return show_note(parse_note(answer), language)


@dataclass(frozen=True, slots=True)
class KeyAnswer:
    """A key whose mode the question fixes, so that a bare tonic is enough."""

    mode: Mode

    @property
    def hint(self) -> str:
        return f"a {self.mode} key, such as {'G' if self.mode == 'major' else 'Em'}"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        tonic, mode = parse_tonic(text, language)
        return f"{tonic.name} {mode or self.mode}"

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        tonic, mode = parse_tonic(answer)
        return f"{show_note(tonic, language)} {mode}"


@dataclass(frozen=True, slots=True)
class FretAnswer:
    """A fret of this neck."""

    last_fret: int

    @property
    def hint(self) -> str:
        return f"a fret, 0 to {self.last_fret}"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        fret = read_number(text.casefold().removeprefix("fret"), self.hint)
        if fret > self.last_fret:
            raise UnknownName(f"Fret {fret} is not on this neck.", f"Type {self.hint}.")
        return str(fret)

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return f"fret {answer}"


@dataclass(frozen=True, slots=True)
class FingerAnswer:
    """A finger, by number or by name."""

    hint: str = "a finger, 1 (index) to 4 (little)"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        word = text.casefold().replace("finger", "").strip()
        by_name = {name: str(number) for number, name in FINGERS.items()} | {"pinky": "4", "pinkie": "4"}
        finger = by_name.get(word) or str(read_number(word, self.hint))
        if finger not in "1234":
            raise UnknownName(f"There is no finger {finger}.", f"Type {self.hint}.")
        return finger

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return f"finger {answer} ({FINGERS[int(answer)]})"


def read_number(text: str, hint: str) -> int:
    """A whole number of at most three digits, in any script's digits."""
    digits = text.strip()
    if not digits.isdecimal() or len(digits) > 3:
        raise UnknownName(f"{quoted(text)} is not a number." if digits else "Nothing was typed.", f"Type {hint}.")
    return int(digits)
