"""What stands on a chord chart: bars, repeats, rests, and every chord as somebody spelled it.

read_chart   a whole chart to its chords, with what had to be simplified
read_chord   one chord of it
nearest      the chord that a text which is none begins with
run_together the chords of a word such as 'Am-F-C-G'

A chord whose extensions are unknown here is reduced: third, fifth and seventh are kept, and the chart says so.

>>> chart = read_chart("|: Am7 | % | N.C. | D9sus4 G7b9#11 :|")
>>> [chord.name for chord in chart.chords], [(one.written, one.chord.name) for one in chart.reduced]
(['Am7', 'Am7', 'D9sus4', 'G7'], [('G7b9#11', 'G7')])
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from drill.errors import UnknownName, UsageProblem
from drill.theory.chords import CHORD_KINDS, Chord, parse_chord
from drill.theory.keys import Key, in_other_languages
from drill.theory.names import LONGEST_NAME, NoteLanguage, parse_note, quoted
from drill.theory.pitch import Note

MOST_CHORDS = 1000
"""A chart that unfolds to more is cut there; a loop may be far shorter anyway."""

_BAR_LINES = re.compile(r"(\|:|:\|+|[|‖]+:?|[()]?[x×]\s?\d{1,2}\)?(?=\s|$)|(?<!\S)\d{1,2}[x×](?=\s|$))")
_COMMAS = re.compile(r",(?![^()]*\))")
"""Commas between chords; those in brackets belong to one, as in 'C7(b9,b13)'."""
_LABELS = re.compile(r"\[[^\[\]]*\]")
_SILENT = re.compile(r"n\.?c\.?|no\s?chord|[/.>→–—-]+|\d{1,2}/\d{1,2}", re.IGNORECASE)
"""Words that are no chord and change nothing: no chord, another beat, a dash or an arrow, the metre."""
_AGAIN = ("%", "𝄎")
JOINTS = (r"[>→–—-]+", r"[>→–—/-]+")
"""What may stand between chords instead of spaces; the slash comes last, since it may belong to a chord."""


class Reduced(NamedTuple):
    """A chord of which only third, fifth and seventh could be read."""

    written: str
    chord: Chord


class Chart(NamedTuple):
    """The chords of a chart in the order they sound, and those that had to be reduced.

    `rests_on` is the key that the learner named beside them, or the chord that a bare note means, and `mode` the mode;
    `taken` tells how the text was read where that was not plain, in sentences with marked names.
    """

    chords: tuple[Chord, ...]
    reduced: tuple[Reduced, ...] = ()
    rests_on: Chord | Key | None = None
    mode: str = ""
    taken: tuple[str, ...] = ()

    def resting_on(self, chord: Chord | None) -> Chart:
        """The chart as it rests on a chord, whatever key was named; as it stands without one."""
        return self._replace(rests_on=chord, mode="") if chord else self


def read_chart(text: str, language: NoteLanguage = "english") -> Chart:
    """Read chords with anything charts put between them; raises `UnknownName` with the nearest reading."""
    bars = _Bars(language)
    for piece in _BAR_LINES.split(_COMMAS.sub(" ", _LABELS.sub(" ", text))):
        if _BAR_LINES.fullmatch(piece):
            bars.sign(piece)
        else:
            for word in piece.split():
                bars.word(word)
    return Chart(tuple(bars.chords()), tuple(dict.fromkeys(bars.reduced)))


class _Bars:
    """The bars read so far, and the section that a repeat sign plays again."""

    def __init__(self, language: NoteLanguage) -> None:
        self._language = language
        self._bars: list[list[Chord]] = [[]]
        self._section_start = 0
        self._section: list[list[Chord]] = []
        """The section that was just repeated, until another chord comes."""
        self._repeats = False
        self.reduced: list[Reduced] = []

    def chords(self) -> Iterator[Chord]:
        """All chords; of a chart that only repeats itself, one round."""
        bars = [bar for bar in self._bars if bar]
        if self._repeats:
            lengths = (length for length in range(1, len(bars) + 1) if len(bars) % length == 0)
            bars = next((bars[:n] for n in lengths if bars[:n] * (len(bars) // n) == bars), bars)
        return (chord for bar in bars for chord in bar)

    def sign(self, sign: str) -> None:
        """A bar line or a repeat."""
        if times := re.search(r"\d+", sign):
            self._repeat(int(times[0]) - (2 if self._section else 1))
            return
        if sign.startswith(":"):
            self._repeat(1)
        if self._bars[-1]:
            self._bars.append([])
        if sign.endswith(":"):
            self._begin_section()

    def word(self, word: str) -> None:
        """A chord, a sign that repeats one, or silence."""
        if _SILENT.fullmatch(word):
            return
        if self._section:
            self._begin_section()
        if word in _AGAIN:
            self._bars[-1] += self._bars[-1][-1:] or self._bar_before()
            return
        for symbol in run_together(word, self._language) or (word,):
            self._chord(symbol)

    def _chord(self, symbol: str) -> None:
        chord, whole = read_chord(symbol, self._language)
        self._bars[-1].append(chord)
        if not whole:
            self.reduced.append(Reduced(symbol, chord))

    def _bar_before(self) -> list[Chord]:
        if len(self._bars) < 2:
            raise UsageProblem("% repeats the bar before it, and there is none.", "Write a chord first.")
        return self._bars[-2]

    def _begin_section(self) -> None:
        if self._bars[-1]:
            self._bars.append([])
        self._section_start, self._section = len(self._bars) - 1, []

    def _repeat(self, times: int) -> None:
        """Play the section again so many times more, as long as the chart stays within reason."""
        self._section = self._section or [bar for bar in self._bars[self._section_start :] if bar]
        length = max(sum(map(len, self._section)), 1)
        for _ in range(min(times, MOST_CHORDS // length)):
            self._bars += [list(bar) for bar in self._section]
        self._repeats = True


def read_chord(text: str, language: NoteLanguage = "english") -> tuple[Chord, bool]:
    """The chord, and whether it was read whole; raises `UnknownName` with the nearest reading."""
    word = text[1:-1] if text.startswith("(") and text.endswith(")") else text
    try:
        return parse_chord(word, language), True
    except UnknownName as refusal:
        upper, _, below = word.rpartition("/")
        for symbol, bass in ((upper, below), (word, "")):
            if found := _rebuilt(symbol, bass, language):
                return found
        raise _refused(text, language, refusal) from None


def _rebuilt(symbol: str, bass: str, language: NoteLanguage) -> tuple[Chord, bool] | None:
    """A chord put together from the parts of its symbol: a kind with just these notes, or the nearest below it."""
    for length in range(min(len(symbol), LONGEST_NAME) - 1, 0, -1):
        root, parts = _root(symbol[:length], language), _Parts.of(symbol[length:])
        below = _root(bass, language) if bass else None
        if root and parts and (below or not bass):
            suffix, exact = parts.kind()
            return Chord(root, suffix, below if below != root else None), exact
    return None


def _root(text: str, language: NoteLanguage) -> Note | None:
    try:
        return parse_note(text, language) if not text.endswith("-") else None
    except UnknownName:
        return None


def _refused(text: str, language: NoteLanguage, refusal: UnknownName) -> UnknownName:
    """What to say of a text that is no chord: that it is one in another language, or that its beginning is one."""
    if told := elsewhere(text, language):
        problem, _, fix = told.partition(". ")
        return UnknownName(f"{problem}.", fix)
    if found := nearest(text, language):
        return UnknownName(f"{quoted(text)} is not a chord; the nearest is {found}.", refusal.fix)
    return refusal


def nearest(text: str, language: NoteLanguage) -> str:
    """The longest beginning of a text that is a chord, as it is typed; '' where there is none."""
    for length in range(min(len(text), LONGEST_NAME) - 1, 0, -1):
        if _is_chord(text[:length], language):
            return parse_chord(text[:length], language).typed_in(language)
    return ""


def run_together(text: str, language: NoteLanguage) -> tuple[str, ...]:
    """The chords of a word that has dashes, arrows or slashes between them; none where it is one chord, or no chords.

    >>> run_together("Am-F-C/E", "english"), run_together("C-7", "english"), run_together("C/E", "english")
    (('Am', 'F', 'C/E'), (), ())
    """
    for between in JOINTS if not _is_chord(text, language) else ():
        words = tuple(word for word in re.split(between, text) if word)
        if len(words) > 1 and all(_is_chord(word, language) for word in words):
            return words
    return ()


def elsewhere(word: str, language: NoteLanguage) -> str:
    """That a word would be a chord if note names were in another language; else nothing."""
    return in_other_languages(word, language, "chord", _is_chord)


def _is_chord(word: str, language: NoteLanguage) -> bool:
    try:
        return bool(parse_chord(word, language))
    except UnknownName:
        return False


_PART = re.compile(
    r"[\s(),/]*(?:(?P<quality>maj|ma|[MΔ∆△^j]|min|mi|m|-(?!\d)|dim|[°oø]|aug|\+(?!\d))"
    r"|(?P<sus>sus[24]*)|(?:no|omit)(?P<no>[35])|(?P<add>add)?(?P<sign>[b#+-]?)(?P<number>\d\d?)|(?P<other>alt))[\s(),/]*"
)
_QUALITIES = {
    "b3": ("min", "mi", "m", "-"), "7": ("maj", "ma", "M", "j", "Δ", "∆", "△", "^"), "dim": ("dim", "°", "o"),
    "half": ("ø",), "#5": ("aug", "+"),
}  # fmt: skip
_TRIANGLES = ("Δ", "∆", "△", "^")
"""These alone mean a major seventh, where 'maj' needs a number."""
_STACKED = {7: (), 9: ("2",), 11: ("2", "4"), 13: ("2", "4", "6")}
"""What a number without a sign stacks on the seventh."""
_PLAIN = {2: "2", 4: "4", 5: "5", 6: "6", 9: "2", 11: "4", 13: "6"}


class _Parts:
    """Third, fifth and seventh of a chord symbol, and what else it adds."""

    def __init__(self) -> None:
        self.third, self.fifth, self.seventh = "3", "5", ""
        self.more: set[str] = set()
        self._major_seventh = self._diminished = False

    @classmethod
    def of(cls, text: str) -> _Parts | None:
        """The parts of a suffix; None where something in it cannot be understood."""
        plain = text.replace("♭", "b").replace("♯", "#").replace("6/9", "69")
        parts, place = cls(), 0
        while place < len(plain):
            match = _PART.match(plain, place)
            if not match or not parts._take(match):
                return None
            place = match.end()
        return parts

    def kind(self) -> tuple[str, bool]:
        """The suffix with exactly these notes, else the one that has only third, fifth and seventh."""
        core = {"1", self.third, self.fifth, self.seventh} - {""}
        if suffix := _suffix_of(frozenset(core | self.more)):
            return suffix, True
        plain_fifth = {"1", self.third, "5", self.seventh} - {""}
        known = (_suffix_of(frozenset(each)) for each in (core, plain_fifth, {"1", self.third or "5", "5"}))
        return next(suffix for suffix in known if suffix is not None), False

    def _take(self, match: re.Match[str]) -> bool:
        """Take in one part; False where it cannot stand there."""
        if quality := match["quality"]:
            return self._quality(quality, match.start() == 0)
        if match["sus"]:
            self.third = "2" if match["sus"] == "sus2" else "4"
            self.more |= {"2"} if {"2", "4"} <= set(match["sus"]) else set()
        elif match["no"]:
            self.third, self.fifth = ("", self.fifth) if match["no"] == "3" else (self.third, self.fifth)
        elif match["number"]:
            return self._number(int(match["number"]), match["sign"], bool(match["add"]))
        else:
            self.more.add("altered")
        return True

    def _quality(self, written: str, first: bool) -> bool:
        quality = next(name for name, ways in _QUALITIES.items() if written in ways)
        if quality == "7":
            self._major_seventh = True
            self.seventh = "7" if written in _TRIANGLES else self.seventh
            return first or self.third == "b3" or self.fifth == "#5"
        if quality == "#5":
            self.fifth = "#5"
        else:
            self.third = "b3"
        if quality in ("dim", "half"):
            self.fifth = "b5"
            self._diminished = quality == "dim"
            self.seventh = "b7" if quality == "half" else ""
        return first

    def _number(self, number: int, sign: str, added: bool) -> bool:
        sign = {"+": "#", "-": "b"}.get(sign, sign)
        if number == 69:
            self.more |= {"6", "2"}
        elif number in _STACKED and not (sign or added):
            self.seventh = "7" if self._major_seventh else "bb7" if self._diminished else "b7"
            self.more |= set(_STACKED[number])
        elif number == 5:
            self.fifth = f"{sign}5"
            self.third = self.third if sign else ""
        elif number in _PLAIN:
            self.more.add(sign + _PLAIN[number])
        else:
            return number == 7 and self._lowered_seventh(sign)
        return True

    def _lowered_seventh(self, sign: str) -> bool:
        self.seventh = "7" if self._major_seventh else f"{sign}7".replace("#7", "7")
        return True


@cache
def _suffix_of(notes: frozenset[str]) -> str | None:
    """The suffix of the kind of chord with these degrees."""
    return next((suffix for suffix, kind in CHORD_KINDS.items() if frozenset(kind.formula) == notes), None)
