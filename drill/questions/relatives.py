"""Families about relative keys: the minor key of the same notes as a major key, and back."""

from __future__ import annotations

from collections.abc import Iterator

from drill.questions.answers import KeyAnswer
from drill.questions.card import Card, Facets, Mixup
from drill.questions.family import Family, register
from drill.questions.picture import Mark, Picture
from drill.questions.scope import Scope
from drill.questions.wording import named, named_key
from drill.theory.keys import Key, Mode, parse_key
from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note


def relative_fact(key: Key) -> str:
    """The fact that ties a major key to its relative minor, named by the minor key."""
    return f"relative:{key.minor.short}"


class _Relative(Family):
    """Both directions of the same bond; only the words and the mode asked for differ."""

    target_s = 2.0
    about_the_neck = False
    given: Mode

    def spread(self, scope: Scope) -> Iterator[Facets]:
        for key in dict.fromkeys(key.major if self.given == "major" else key.minor for key in scope.keys):
            yield {"key": key.name}

    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        return (relative_fact(parse_key(str(facets["key"]))),)

    def groups(self, facets: Facets) -> frozenset[str]:
        """Both keys of the pair: a weak bond holds back either."""
        key = parse_key(str(facets["key"]))
        return frozenset({f"key-{key.short}", f"key-{key.relative.short}"})

    def card(self, facets: Facets, neck: Neck) -> Card:
        key = parse_key(str(facets["key"]))
        return self.make(
            facets,
            neck,
            prompt=f"{named_key(key)}: which is its relative {key.relative.mode}?",
            kind=KeyAnswer(key.relative.mode),
            accepts=(key.relative.name,),
            because=steps_to_relative(key),
            mixups=tuple(_mixups(key)),
            shown=(),
            answer_picture=tonic_pair(key, neck),
        )


@register
class RelativeMinor(_Relative):
    """The relative minor of a major key."""

    id = "relative-minor"
    lesson = 5
    title = "Relative minor"
    given = "major"


@register
class RelativeMajor(_Relative):
    """The relative major of a minor key."""

    id = "relative-major"
    lesson = 6
    title = "Relative major"
    given = "minor"
    needs = ("relative-minor",)


def steps_to_relative(key: Key) -> tuple[str, ...]:
    """From a key to its relative: three frets and two letters, down from major, up from minor."""
    down = key.mode == "major"
    minor, major = key.minor.notes, key.major
    between = minor[1]
    letters = [major.tonic, between, key.minor.tonic] if down else [key.minor.tonic, between, major.tonic]
    way = " ".join(named(note) for note in letters)
    return (
        named_key(key),
        f"{'down' if down else 'up'} three frets and two letters: {way}",
        named_key(key.relative),
    )


def tonic_pair(key: Key, neck: Neck) -> Picture:
    """The tonics of both relatives, index and little finger, three frets apart on the lowest anchor string."""
    string = neck.tuning.anchor_strings[0]
    low = next(spot for spot in neck.spots_of(key.minor.tonic.pitch_class, (string,)) if spot.fret > 0)
    return (
        Mark(low, "minor tonic", key.minor.tonic, finger=1),
        Mark(Spot(string, low.fret + 3), "major tonic", key.major.tonic, finger=4),
    )


def _mixups(key: Key) -> Iterator[Mixup]:
    relative = key.relative
    yield Mixup(
        "parallel for relative",
        f"{key.tonic.name} {relative.mode}",
        f"{named(key.tonic)} {relative.mode} shares the tonic with {named_key(key)}; the relative shares its notes.",
    )
    wrong_way = Note(2 * key.tonic.fifths - relative.tonic.fifths)
    yield Mixup(
        "wrong way",
        f"{wrong_way.name} {relative.mode}",
        f"Three frets, but the wrong way: from major go down, from minor go up. {named(wrong_way)} is not in the key.",
    )
    for step in (-12, 12):
        other = Note(relative.tonic.fifths + step)
        yield Mixup(
            "right sound, wrong name",
            f"{other.name} {relative.mode}",
            f"It sounds the same, but two letters from {named(key.tonic)} lies {relative.tonic.letter}: {named_key(relative)}.",
        )
    yield Mixup(
        "mode not changed",
        f"{relative.tonic.name} {key.mode}",
        f"The tonic is right; a relative {relative.mode} key was asked for.",
    )
