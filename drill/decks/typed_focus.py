"""Reads a focus as a learner types it in one line: 'E flat minor on the A string', 'low E', 'Am A-string shape'."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from typing import NamedTuple

from drill.decks.focus import Focus, combined
from drill.decks.strings import NUMBERS, PLACES, find_string, find_strings, is_place, placed, string_number, unsure
from drill.decks.typed_weak import WEAK
from drill.errors import FretsureError, UnknownName
from drill.questions.catalogue import FAMILIES
from drill.questions.wording import named_key
from drill.theory.keys import MODE_WORDS, PRACTICAL_KEYS, Key, in_other_languages, is_mode_word, parse_key
from drill.theory.names import LONGEST_NAME, NoteLanguage, parse_note, plain_dashes, quoted, typed_note
from drill.theory.neck import Tuning
from drill.theory.pitch import Note

_NOTES, _FINGERS = ("note-at-fret", "fret-of-note"), ("tonic-finger", "finger-key")
_ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    "note": _NOTES, "note name": _NOTES, "octave": ("tonic-octave",),
    "relative": ("relative-minor", "relative-major"), "relative key": ("relative-minor", "relative-major"),
    "tonic": ("tonic-fret",), "root": ("tonic-fret",), "root note": ("tonic-fret",),
    "finger": _FINGERS, "fingering": _FINGERS, "index fret": ("shape-anchor",), "degree": ("degree-at",),
    "scale degree": ("degree-at",), "shape": ("shape-anchor", "neck-diagram"),
    "numeral": ("chord-of-key", "numeral-of-chord"), "chord": ("chord-of-key", "numeral-of-chord"),
    "loop": ("loop-tonic",), "ear": ("ear-tonic",), "by ear": ("ear-tonic",),
}  # fmt: skip
"""What learners call kinds of question besides their ids and titles; each in the plural too."""
_CALLED: Mapping[str, tuple[str, ...]] = {
    **{name.casefold(): (e.id,) for e in FAMILIES.values() for name in (e.id.replace("-", " "), e.title)},
    **_ALSO_CALLED,
}
_LONGEST_FAMILY = max(len(name.split()) for name in _CALLED)
_LONGEST_KEY = 5
"""Words, as in 'E double flat minor', and one to spare."""
_LONGEST_NOTE = 3
"""Words, as in 'E double flat'."""

_STRING, _STRINGS, _SHAPES = ("string", "saite"), ("strings", "saiten"), ("shape", "shapes")
_FINGER = ("finger", "fingers")
_ON = ("on", "auf")
_BETWEEN = (",", "+", "·", "&", "/", "and", "und")
_FILLERS = (
    *_BETWEEN, *_ON, "key", "keys", "in", "the", "of", "at", "der", "die", "das", "all", "both", "beide",
    "pentatonic", "scale", "scales",
)  # fmt: skip
_GROUPS: Mapping[str, Callable[[Key], bool]] = {
    "minor": lambda key: key.mode == "minor",
    "major": lambda key: key.mode == "major",
    "sharp": lambda key: key.signature > 0,
    "flat": lambda key: key.signature < 0,
}
"""Many keys by a word before 'keys'."""
_SIGNS = ("sharps", "flats")
"""Keys by their signs alone."""
MOST_KEYS_NAMED = 4
"""More keys than these are counted where they are named in one line."""
_KNOWN = sorted(
    {part for name in _CALLED for word in name.split() for part in (word, f"{word}s")}
    | {*PLACES, *NUMBERS, *_STRING, *_STRINGS, *_SHAPES, *_FINGER}
    | {*_FILLERS, *_GROUPS, *_SIGNS, *MODE_WORDS.split("|")}
)
"""Every word that a focus may have besides the names of notes."""
SHORTEST_RESPELLED = 3
"""Letters; shorter words are names of notes and keys."""
_WORD = re.compile(r"[,+·&/]|[^\s,+·&/]+")
_RANGE = re.compile(r"(?<!\S)([1-9])\s*(?:-|to|bis)\s*([1-9])(?!\S)", re.IGNORECASE)
_RUN_TOGETHER = re.compile(
    r"(?<=string)(?=\d)|(?<=strings)(?=\d)|(?<=saite)(?=\d)|(?<=\d)(?=string|saite)", re.IGNORECASE
)
_HYPHEN, _DASH = re.compile(r"(?<=\S)-(?=\w)"), re.compile(r"\s-+\s")


def read_typed_focus(text: str, tuning: Tuning, language: NoteLanguage) -> Focus | None:
    """The focus that a text names; None where something in it is not understood.

    >>> from drill.theory.neck import STANDARD
    >>> read_typed_focus("Eb minor on the A string", STANDARD, "english")
    Focus(strings=(5,), keys=(Key('Eb minor'),), families=(), shapes=())
    """
    try:
        found = read_words(text, tuning, language)
    except FretsureError:
        return None
    return found._replace(strings=tuple(string for string in found.strings if string in tuning.strings)) or None


def read_words(text: str, tuning: Tuning, language: NoteLanguage) -> Focus:
    """The strings, keys, families and shapes that a text names. Raises UnknownName for the part not understood.

    Where words are misspelt, the error offers the text with the known words that they are nearest to.
    """
    words = _split(text)
    try:
        return _Line(words, tuning, language).read()
    except UnknownName as refusal:
        if any(word.casefold() in WEAK for word in words):
            raise UnknownName(
                "What is weakest is drilled alone.", "Write weakest, weakest string or weakest key."
            ) from None
        meant = [_respelled(word) for word in words]
        if meant == words or not _Line(meant, tuning, language).is_understood():
            raise
        raise UnknownName(refusal.message, f"Did you mean {quoted(' '.join(meant))}?") from None


def keys_alike(group: str) -> tuple[Key, ...]:
    """The everyday keys that are called by one word: 'minor', 'flat'."""
    return tuple(filter(_GROUPS[group], PRACTICAL_KEYS))


def keys_in_words(keys: tuple[Key, ...]) -> list[str]:
    """The names of keys; of many the word for all of them, 'minor keys', or their number. Notes are marked.

    >>> keys_in_words(keys_alike("flat")), keys_in_words(PRACTICAL_KEYS[:5])
    (['flat keys'], ['5 keys'])
    """
    if len(keys) <= MOST_KEYS_NAMED:
        return [named_key(key) for key in keys]
    return [
        next((f"{group} keys" for group in _GROUPS if set(keys_alike(group)) == set(keys)), f"{len(set(keys))} keys")
    ]


def _respelled(word: str) -> str:
    """The known word that this one is nearest to; itself where it is near to none, or too short to tell."""
    text = word[:LONGEST_NAME].casefold()
    if len(text) < SHORTEST_RESPELLED or text in _KNOWN:
        return word
    near = difflib.get_close_matches(text, _KNOWN, n=1, cutoff=0.75)
    return next(iter([*(swapped for swapped in _swapped(text) if swapped in _KNOWN), *near]), word)


def _swapped(text: str) -> Iterator[str]:
    """The text with two neighbouring letters in each other's place: 'the' for 'teh'."""
    return (f"{text[:at]}{text[at + 1]}{text[at]}{text[at + 2 :]}" for at in range(len(text) - 1))


def _split(text: str) -> list[str]:
    """The words and the signs between them; of 'A-string', 'string5' and 'strings 1-3' the parts."""
    text = _RANGE.sub(lambda ends: _counted(int(ends[1]), int(ends[2])), plain_dashes(text))
    return _WORD.findall(_RUN_TOGETHER.sub(" ", _HYPHEN.sub(" ", _DASH.sub(" , ", text))))


def _counted(first: int, last: int) -> str:
    step = 1 if first <= last else -1
    return " + ".join(map(str, range(first, last + step, step)))


class _Part(NamedTuple):
    """What some words in a row name, and how many they are."""

    words: int
    focus: Focus = Focus()


class _Line:
    """The words of one focus, read from left to right; whatever follows is offered to each reader in turn."""

    def __init__(self, words: list[str], tuning: Tuning, language: NoteLanguage) -> None:
        self._words, self._tuning, self._language = words, tuning, language

    def read(self) -> Focus:
        """All that is named. Raises UnknownName for the part not understood."""
        found, at, run = Focus(), 0, 0
        while at < len(self._words):
            named = self._named(at)
            part = named or self._key(at)
            if part is None:
                raise self._not_understood(self._run_from(run))
            found = combined((found, part.focus))
            at += part.words
            run = at if named else run
        return found

    def is_understood(self) -> bool:
        try:
            return bool(self.read())
        except FretsureError:
            return False

    def _named(self, at: int) -> _Part | None:
        """What is no single key, or says nothing; None where a key may begin."""
        self._refuse_finger(at)
        readers = (self._shapes, self._family, self._keys_alike, self._placed, self._strings, self._on, self._filler)
        return next((part for reader in readers if (part := reader(at))), None)

    def _run_from(self, start: int) -> str:
        """The words from there on that only a key could be made of."""
        at = start
        while at < len(self._words) and not self._named(at):
            at += 1
        return " ".join(self._words[start:at])

    def _is(self, at: int, *wanted: str) -> bool:
        return at < len(self._words) and self._words[at].casefold() in wanted

    # -- kinds of question, keys, words that say nothing ---------------------------------------------------------------

    def _family(self, at: int) -> _Part | None:
        for count in range(_LONGEST_FAMILY, 0, -1):
            name = " ".join(self._words[at : at + count]).casefold()
            if found := _CALLED.get(name) or _CALLED.get(name.removesuffix("s")):
                return _Part(len(self._words[at : at + count]), Focus(families=found))
        return None

    def _key(self, at: int) -> _Part | None:
        """The key with the longest name: of 'C minor G' not C alone, else the minor is lost."""
        for count in range(min(len(self._words) - at, _LONGEST_KEY), 0, -1):
            with suppress(UnknownName):
                return _Part(count, Focus(keys=(parse_key(" ".join(self._words[at : at + count]), self._language),)))
        return None

    def _refuse_finger(self, at: int) -> None:
        """Raise UnknownName for one finger, as in 'finger 3' or 'third finger': its number is not that of a string."""
        by_number = any(
            self._is(word, *_FINGER) and self._number(number) for word, number in ((at, at + 1), (at + 1, at))
        )
        if by_number and not self._is(at + 2, *_STRING, *_STRINGS):
            finger = " ".join(self._words[at : at + 2])
            raise UnknownName(
                f"{quoted(finger)} is not drilled alone.", "Write finger for the questions about all four."
            )

    def _keys_alike(self, at: int) -> _Part | None:
        """All minor keys, or all flat ones."""
        if self._is(at, *_GROUPS) and self._is(at + 1, "keys"):
            return _Part(2, Focus(keys=keys_alike(self._words[at].casefold())))
        if self._is(at, *_SIGNS) and not (at and self._number(at - 1)):
            return _Part(1, Focus(keys=keys_alike(self._words[at].casefold().removesuffix("s"))))
        return None

    def _filler(self, at: int) -> _Part | None:
        return _Part(1) if self._is(at, *_FILLERS) else None

    # -- strings and shapes --------------------------------------------------------------------------------------------

    def _shapes(self, at: int) -> _Part | None:
        """Shapes by number or by the string that their minor tonic is on: 'shape 3', 'A-string shape', 'E shape'."""
        if self._is(at, *_SHAPES):
            names, end = self._listed(at + 1)
            return _Part(end - at, Focus(shapes=tuple(map(self._shape, names)))) if names else None
        for blanks, words in ((True, ("shapes",)), (False, _SHAPES)):
            names, end = self._listed(at, blanks)
            by_string = self._is(end, *_STRING, *_STRINGS)
            if names and self._is(end + by_string, *words):
                shapes = tuple(self._shape(name, by_string) for name in names)
                return _Part(end + by_string + 1 - at, Focus(shapes=shapes))
        return None

    def _shape(self, name: str, by_string: bool = False) -> str:
        """The id of a shape by its string, or its number; of two strings with that note the anchor."""
        number = string_number(name)
        if number and not by_string:
            return str(number)
        strings = find_strings((name,), self._tuning, self._language, plural=True)
        return f"string-{next((each for each in strings if each in self._tuning.anchor_strings), strings[0])}"

    def _placed(self, at: int) -> _Part | None:
        """Strings by their place alone: 'lowest string', 'two highest strings', 'bass strings'."""
        before = self._number(at) if self._is_place(at + 1) else None
        place = at + (before is not None)
        after = self._number(place + 1)
        end = place + 1 + (after is not None)
        if not (self._is_place(place) and self._is(end, *_STRING, *_STRINGS)):
            return None
        usual = 1 if self._is(end, *_STRING) else None
        strings = placed(self._words[place], before or after or usual, self._tuning, self._language)
        return _Part(end + 1 - at, Focus(strings=strings))

    def _strings(self, at: int) -> _Part | None:
        """Strings beside the word 'string', or by names that only a string has: 'low E', '5th'."""
        if self._is(at, *_STRING, *_STRINGS):
            return self._after_the_word(at)
        row, end = self._listed(at, blanks=True)
        if row and self._is(end, *_STRINGS):
            self._refuse_count(at, row)
            return _Part(end + 1 - at, self._on_strings(row, plural=True))
        names, end = self._listed(at)
        if names and self._is(end, *_STRING) and not self._number(end + 1):
            return _Part(end + 1 - at, self._on_strings(names))
        if names and (self._is_place(at) or self._number(at)):
            return _Part(end - at, self._on_strings(names))
        after = at + max(self._note(at)[0], 1)
        if self._is(after, *_STRING, *_STRINGS) and not (self._is(at, *_FILLERS) or self._name(after + 1)):
            find_string(" ".join(self._words[at:after]), self._tuning, self._language)  # raises what is wrong with it
        return None

    def _refuse_count(self, at: int, row: list[str]) -> None:
        """Raise UnknownName for 'two strings': a number before the plural counts strings, and does not name one."""
        if len(row) == 1 and self._number(at):
            problem = f"{quoted(' '.join(self._words[at : at + 2]))} does not say which ones."
            raise UnknownName(problem, f"Write string {self._number(at)} for that one, or, say, two lowest strings.")

    def _after_the_word(self, at: int) -> _Part | None:
        """The strings named after 'string' or 'strings'; after the singular only one, or numbers."""
        names, end = self._listed(at + 1)
        if not names and at + 1 < len(self._words) and not self._named(at + 1):
            find_string(self._words[at + 1], self._tuning, self._language)
        if self._is(at, *_STRING) and not all(map(string_number, names)):
            names, end = names[:1], at + 1 + self._name(at + 1)
        return _Part(end - at, self._on_strings(names)) if names else None

    def _on(self, at: int) -> _Part | None:
        """The strings after 'on', as in 'notes on D'; a key follows 'in'. At the start, 'on' says nothing."""
        names, end = self._listed(at + 1 + self._is(at + 1, "the", "der"))
        if at and names and self._is(at, *_ON) and not self._is(end, *_STRING, *_STRINGS, *_SHAPES):
            return _Part(end - at, self._on_strings(names))
        return None

    def _on_strings(self, names: list[str], plural: bool = False) -> Focus:
        return Focus(strings=find_strings(names, self._tuning, self._language, plural))

    def _listed(self, at: int, blanks: bool = False) -> tuple[list[str], int]:
        """The names of strings from there on, with 'and', a comma or even blanks between them, and their end."""
        names: list[str] = []
        following = at
        while len(names) < len(self._tuning.strings) and (count := self._name(following)):
            names.append(" ".join(self._words[following : following + count]).removesuffix("-"))
            at = following = following + count
            while self._is(following, *_BETWEEN):
                following += 1
            if following == at and not (blanks or (self._number(at - 1) and self._number(at))):
                break
        return names, at

    def _name(self, at: int) -> int:
        """How many words name a string from there on; 0 for none. After 'low' or 'thin' any note is taken for one."""
        place = self._is_place(at)
        count, note = self._note(at + place)
        if self._number(at):
            return 1
        return place + count if count and (place or note in self._open_notes) else 0

    def _note(self, at: int) -> tuple[int, int]:
        """How many words name a note from there on, and its pitch class; none for the tonic of a key."""
        for count in range(min(_LONGEST_NOTE, len(self._words) - at), 0, -1):
            with suppress(UnknownName):
                note = parse_note(" ".join(self._words[at : at + count]).removesuffix("-"), self._language)
                ends = self._is(at + count - 1, *_BETWEEN) or is_mode_word(" ".join(self._words[at + count :][:1]))
                return (0, 0) if ends else (count, note.pitch_class)
        return 0, 0

    @property
    def _open_notes(self) -> set[int]:
        return {pitch.note.pitch_class for pitch in self._tuning.open_strings}

    def _number(self, at: int) -> int | None:
        return string_number(self._words[at]) if at < len(self._words) else None

    def _is_place(self, at: int) -> bool:
        return at < len(self._words) and is_place(self._words[at])

    def _not_understood(self, text: str) -> UnknownName:
        if is_place(text):
            return unsure(text, self._tuning, self._language)
        key, string = (typed_note(Note.of(*name), self._language) for name in (("E", -1), ("A", 0)))
        problem = f"{quoted(text)} is neither a key nor a string, a shape or a kind of question."
        fix = f"Example: {key} minor on the {string} string"
        return UnknownName(in_other_languages(text, self._language) or problem, fix)
