"""A mix-up: a wrong answer with the confusion that leads to it, and how an answer finds the mix-ups that fit it."""

from collections.abc import Callable, Collection, Iterable, Iterator
from functools import lru_cache
from typing import Literal, NamedTuple

from drill.errors import UnknownName
from drill.questions.answers import AnswerKind, AnyKeyAnswer, ChordAnswer, KeyAnswer, NoteAnswer
from drill.questions.facts import Fact
from drill.questions.mixups.claims import Claim, SameSound
from drill.questions.wording import capital
from drill.theory.chords import parse_chord
from drill.theory.keys import parse_tonic
from drill.theory.names import parse_note
from drill.theory.neck import is_everyday
from drill.theory.pitch import Note

MixupName = Literal[
    "chord of the other mode",
    "counted from the nut",
    "finger without a note",
    "fourth for fifth",
    "last sign for tonic",
    "lowest fret for lowest note",
    "lowest note for tonic",
    "mode not changed",
    "next degree",
    "not a chord tone",
    "note for degree",
    "one fret off",
    "one letter off",
    "one sign off",
    "other mode",
    "other shape",
    "other string",
    "other tonic",
    "parallel for relative",
    "question given back",
    "right note, wrong octave",
    "right sound, wrong name",
    "sharp for flat",
    "sign added",
    "sign left out",
    "strings from the wrong side",
    "top for the next",
    "two thirds for one",
    "wrong finger",
    "wrong quality",
    "wrong way",
]
"""Every confusion a wrong answer can be traced to. The record keeps these names: they never change meaning."""

NATURAL: frozenset[MixupName] = frozenset(
    {
        "fourth for fifth",
        "mode not changed",
        "next degree",
        "one fret off",
        "other mode",
        "other string",
        "other tonic",
        "parallel for relative",
        "right note, wrong octave",
        "right sound, wrong name",
        "sign left out",
        "wrong finger",
        "wrong quality",
    }
)
"""Slips that everybody makes; an answer that fits two of them may well be either."""

GUESSES: frozenset[MixupName] = frozenset({"one letter off", "one sign off", "strings from the wrong side"})
"""What a blind guess often hits by chance."""

MOST_NAMED = 2
"""How many confusions are named where several lead to one answer."""


class Mixup(NamedTuple):
    """A wrong answer with the confusion that leads to it.

    Whatever the sentence states it takes from `claims`; `frame` holds the words around them and states no value of its
    own. `fact` is the only one of its card's facts that this answer casts doubt on; None where no single fact failed.
    (Whoever answers with the tonic of the relative, for one, does know the bond between the two keys.)
    """

    name: MixupName
    answer: str
    claims: tuple[Claim, ...]
    frame: str = "{0}."
    fact: Fact | None = None

    @property
    def parts_right(self) -> bool:
        """Whether whoever answers so has right all that the question takes, and only holds it elsewhere."""
        return self.name == "right note, wrong octave"

    @property
    def sentence(self) -> str:
        """What was confused, as a teacher says it, with marked notes."""
        return capital(self.frame.format(*[claim.words() for claim in self.claims]))


def fitting(mixups: Iterable[Mixup], kind: AnswerKind, given: str) -> tuple[Mixup, ...]:
    """The mix-ups that lead to an answer, the likelier first: those to its very name, then those to its sound.

    One to a name as rare as F flat explains another name of that sound only where nothing else does.
    """
    offered = tuple(mixups)
    found: dict[MixupName, Mixup] = {}
    sounding = tuple(_sounding(offered, kind, given))
    for mixup in (*_named(offered, given), *(mixup for other, mixup in sounding if is_everyday(other))):
        found.setdefault(mixup.name, mixup)
    for _, mixup in () if found else sounding:
        found.setdefault(mixup.name, mixup)
    return tuple(found.values())[:MOST_NAMED]


def worth_telling(mixups: tuple[Mixup, ...], before: Collection[str] = ()) -> tuple[Mixup, ...]:
    """Of the mix-ups that fit an answer, those to tell a learner: the likeliest, and the next if it is as natural.

    `before` are the names of those that this drill has already come upon: what happened once is natural. Beside one
    fret off, a sign too many is the same slip in other words.
    """
    if mixups and mixups[0].name == "one fret off":
        mixups = tuple(mixup for mixup in mixups if mixup.name != "sign added")
    natural = [mixup.name in NATURAL or mixup.name in before for mixup in mixups]
    return mixups if all(natural) else mixups[:1]


def _named(mixups: Iterable[Mixup], given: str) -> Iterator[Mixup]:
    return (mixup for mixup in mixups if mixup.answer == given)


def _sounding(mixups: Iterable[Mixup], kind: AnswerKind, given: str) -> Iterator[tuple[Note, Mixup]]:
    """The mix-ups to an answer of the same sound, told of the name that was given, each after the note it leads to."""
    heard = _heard(type(kind), given)
    if heard is None:
        return
    (note, rest), sounds = heard, heard[0].pitch_class
    for mixup in mixups:
        other = _heard(type(kind), mixup.answer)
        if other and mixup.answer != given and (other[0].pitch_class, other[1]) == (sounds, rest):
            frame = f"{{{len(mixup.claims)}}}: {mixup.frame}"
            yield other[0], mixup._replace(answer=given, claims=(*mixup.claims, SameSound(note, other[0])), frame=frame)


@lru_cache(maxsize=4096)
def _heard(kind: type, answer: str) -> tuple[Note, str] | None:
    """The note an answer names and what it says beside, None for answers that name none.

    A log from elsewhere may hold an answer that is none of this kind.
    """
    try:
        return _HEARD[kind](answer) if kind in _HEARD else None
    except UnknownName:
        return None


def _heard_key(answer: str) -> tuple[Note, str]:
    tonic, mode = parse_tonic(answer)
    return tonic, mode or ""


def _heard_chord(answer: str) -> tuple[Note, str]:
    chord = parse_chord(answer)
    return chord.root, chord.suffix if chord.bass is None else answer


_HEARD: dict[type, Callable[[str], tuple[Note, str]]] = {
    NoteAnswer: lambda answer: (parse_note(answer), ""),
    KeyAnswer: _heard_key,
    AnyKeyAnswer: _heard_key,
    ChordAnswer: _heard_chord,
}
