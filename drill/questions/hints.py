"""What to type for an answer, said with examples that are not the right one; notes are marked as in `wording`."""

from collections.abc import Collection
from typing import NamedTuple

from drill.questions.wording import named
from drill.theory.keys import Mode
from drill.theory.pitch import Note


class Hint(NamedTuple):
    """A sort of answer with examples: each a canonical answer, how it is typed, and another for where it is right."""

    sort: str
    examples: tuple[tuple[str, str, str], ...]
    more: str = ""

    def beside(self, answers: Collection[str] = ()) -> str:
        """The hint of a question with these canonical answers: 'a note, such as Eb'."""
        shown = (other if answer in answers else typed for answer, typed, other in self.examples)
        return f"{self.sort}, such as {' or '.join(shown)}{self.more}"


_A, _B, _D, _G, _E = (named(Note.of(letter)) for letter in "ABDGE")
_MAJOR, _MINOR = ("G major", _G, _D), ("E minor", f"{_E}m", f"{_B}m")
NOTE = Hint("a note", (("Eb", named(Note.of("E", -1)), named(Note.of("B", -1))),))
KEY: dict[Mode, Hint] = {"major": Hint("a major key", (_MAJOR,)), "minor": Hint("a minor key", (_MINOR,))}
ANY_KEY = Hint("a key", (_MAJOR, _MINOR))
SIGNATURE = Hint("how many and of which", (("3 flats", "3 flats", "4 flats"), ("2 sharps", "2#", "3#")), "; 0 for none")
DEGREE = Hint("a degree", (("5", "5", "6"), ("b3", "b3", "b7")))
CHORD = Hint("a chord", (("Gm", f"{_G}m", f"{_D}m"), ("Bdim", f"{_B}dim", f"{_A}dim")))
NUMERAL = Hint("a roman numeral", (("IV", "IV", "V"), ("vi", "vi", "iii")))
_BY_WORDS = {hint.beside(): hint for hint in (NOTE, *KEY.values(), ANY_KEY, SIGNATURE, DEGREE, CHORD, NUMERAL)}


def beside(hint: str, answers: Collection[str]) -> str:
    """A hint with other examples where one of its own is among these canonical answers."""
    found = _BY_WORDS.get(hint)
    return found.beside(answers) if found else hint
