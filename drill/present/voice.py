"""How a learner wants things named."""

from typing import NamedTuple

from drill.questions.wording import to_screen, to_typed
from drill.theory.names import NoteLanguage


class Voice(NamedTuple):
    """Says sentences with their notes in a language, and shapes with or without their numbers."""

    language: NoteLanguage = "english"
    shape_numbers: bool = False

    def say(self, sentence: str) -> str:
        """A sentence with marked notes (see `questions.wording`), as a person reads it.

        >>> from drill.questions.wording import named
        >>> from drill.theory.pitch import Note
        >>> Voice("german").say(f"It is {named(Note.of('B', -1))}.")
        'It is B.'
        """
        return to_screen(sentence, self.language, self.shape_numbers)

    def hint(self, sentence: str) -> str:
        """The same with its notes as a keyboard types them."""
        return to_typed(sentence, self.language)
