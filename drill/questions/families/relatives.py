"""Families about relative keys: the minor key of the same notes as a major key, and back."""

from collections.abc import Iterator
from typing import NamedTuple

from drill.questions.answers import KeyAnswer
from drill.questions.card import Ask, Card
from drill.questions.facets import Group
from drill.questions.facts import Fact, relative_fact
from drill.questions.family import Family, key_groups
from drill.questions.mixups.keys import wrong_relatives
from drill.questions.picture import Mark, Picture, low_tonic
from drill.questions.scope import Scope
from drill.questions.wording import named_key, named_notes
from drill.theory.keys import Key, Mode
from drill.theory.neck import Neck, Spot

LITTLE_FINGER_UP = 3
"""Frets from the index finger to the little finger: from the minor tonic to the major one."""


class OneKey(NamedTuple):
    """A key alone."""

    key: Key


class _Relative(Family[OneKey]):
    """Both directions of the same bond; only the words and the mode asked for differ."""

    facet_type = OneKey
    about_the_neck = False
    given: Mode

    def spread(self, scope: Scope) -> Iterator[OneKey]:
        for key in dict.fromkeys(key.major if self.given == "major" else key.minor for key in scope.keys):
            yield OneKey(key)

    def facts(self, facets: OneKey, neck: Neck) -> tuple[Fact, ...]:
        return (relative_fact(facets.key),)

    def groups(self, facets: OneKey, neck: Neck) -> frozenset[Group]:
        """Both keys of the pair: a weak bond holds back either."""
        key = facets.key
        return key_groups((key, key.relative))

    def card(self, facets: OneKey, neck: Neck) -> Card:
        key = facets.key
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named_key(key), "", f"Relative {key.relative.mode}?"),
            kind=KeyAnswer(key.relative.mode),
            accepts=(key.relative.name,),
            explain=lambda: steps_to_relative(key),
            confuse=lambda: wrong_relatives(key),
            draw_answer=lambda: tonic_pair(key, neck),
        )


class RelativeMinor(_Relative):
    """The relative minor of a major key."""

    id = "relative-minor"
    title = "Relative minor"
    idea = (
        "Every major key shares its notes with one minor key, its relative, "
        "whose tonic, or home note, lies three frets lower."
    )
    given = "major"


class RelativeMajor(_Relative):
    """The relative major of a minor key."""

    id = "relative-major"
    title = "Relative major"
    idea = (
        "Every minor key shares its notes with one major key, its relative, "
        "whose tonic, or home note, lies three frets higher."
    )
    given = "minor"
    needs = ("relative-minor",)


def steps_to_relative(key: Key) -> tuple[str, ...]:
    """From a key to its relative: three frets and two letters, down from major, up from minor."""
    down = key.mode == "major"
    path = key.minor.notes[:3]  # tonic, the note between, the third: the major tonic
    return (
        named_key(key),
        f"{'down' if down else 'up'} three frets and two letters: {named_notes(path[::-1] if down else path)}",
        named_key(key.relative),
    )


def tonic_pair(key: Key, neck: Neck) -> Picture:
    """The tonics of both relatives on the lowest anchor string, under index and little finger where the neck allows."""
    string = neck.tuning.anchor_strings[0]
    for low in neck.spots_of(key.minor.tonic.pitch_class, (string,)):
        if 0 < low.fret <= neck.last_fret - LITTLE_FINGER_UP:
            return (
                Mark(low, "minor tonic", key.minor.tonic, finger=1),
                Mark(Spot(string, low.fret + LITTLE_FINGER_UP), "major tonic", key.major.tonic, finger=4),
            )
    return (*low_tonic(neck, key.minor), *low_tonic(neck, key.major))
