"""How an answer is typed, said with examples that are not the answer."""

from collections.abc import Collection

from drill.questions.answers import AnswerKind
from drill.questions.wording import named
from drill.theory.pitch import Note


def hint_beside(kind: AnswerKind, answers: Collection[str]) -> str:
    """The hint of a question with these canonical answers: an example that is one of them gives way to another."""
    hint = kind.hint
    for answer, (example, other) in _OTHER_EXAMPLES.get(type(kind).__name__, {}).items():
        if answer in answers:
            hint = hint.replace(example, other)
    return hint


_A, _B, _D, _G, _E = (named(Note.of(letter)) for letter in "ABDGE")
_OTHER_EXAMPLES = {
    "NoteAnswer": {"Eb": (named(Note.of("E", -1)), named(Note.of("B", -1)))},
    "KeyAnswer": {"G major": (_G, _D), "E minor": (f"{_E}m", f"{_B}m")},
    "AnyKeyAnswer": {"G major": (_G, _D), "E minor": (f"{_E}m", f"{_B}m")},
    "SignatureAnswer": {"3 flats": ("3 flats", "4 flats"), "2 sharps": ("2#", "3#")},
    "DegreeAnswer": {"5": ("5", "6"), "b3": ("b3", "b7")},
    "ChordAnswer": {"Gm": (f"{_G}m", f"{_D}m"), "Bdim": (f"{_B}dim", f"{_A}dim")},
    "NumeralAnswer": {"IV": ("IV", "V"), "vi": ("vi", "iii")},
}
"""For each kind of answer: the answers that its hint has for examples, as they stand there, and others instead."""
