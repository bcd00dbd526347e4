"""The answer to a question that is heard: minor or major."""

from typing import NamedTuple

from drill.errors import UnknownName
from drill.theory.names import NoteLanguage, quoted

_MINOR = ("m", "mi", "min", "minor", "mo", "mol", "moll")
_MAJOR = ("ma", "maj", "major", "d", "du", "dur")


class ModeAnswer(NamedTuple):
    """A mode: minor or major, or their first two letters; in German Moll or Dur. A capital M alone is major."""

    hint: str = "mi for minor, ma for major"

    def read(self, text: str, language: NoteLanguage = "english") -> str:
        typed = text.strip()
        if typed == "M" or typed.casefold() in _MAJOR:
            return "major"
        if typed.casefold() in _MINOR:
            return "minor"
        raise UnknownName(f"{quoted(text)} is neither minor nor major.", f"Type {self.hint}.")

    def decides(self, text: str, language: NoteLanguage = "english") -> bool:
        """At the second letter, for both modes begin with the same; Dur at its first."""
        return text.casefold() in ("mi", "ma", "mo", "d")

    def show(self, answer: str, language: NoteLanguage = "english") -> str:
        return answer
