"""Families about anchors: where a key's tonic lies on a string, where a shape goes, where its other tonic is."""

from collections.abc import Iterator
from itertools import chain
from typing import NamedTuple

from drill.questions.answers import FretAnswer
from drill.questions.card import Ask, Card
from drill.questions.facts import Fact, finger_fact, other_tonic_fact, relative_fact, spot_fact
from drill.questions.families.relatives import steps_to_relative
from drill.questions.family import Family
from drill.questions.in_shapes import KeyAndShape, ShapeFamily, finger_of, placed
from drill.questions.mixups.claims import FretsApart, RelativeTonic, ThreeFretsApart
from drill.questions.mixups.frets import (
    at_frets_of,
    given_back,
    letters_off,
    misplaced,
    octave_off,
    on_neck,
    on_other_string,
    one_off,
    sounds,
)
from drill.questions.mixups.mixup import Mixup
from drill.questions.mixups.shape_claims import HoldsTonic, NoPlace
from drill.questions.picture import Mark, marked_dot, shape_picture, tonic_role
from drill.questions.reasons import and_again, walk, walk_marks
from drill.questions.scope import Scope
from drill.questions.wording import FINGERS, counted, named, named_key, shape_label, string_label
from drill.theory.keys import Key
from drill.theory.neck import FRETS_PER_OCTAVE, Neck, Spot, names_of
from drill.theory.shapes import Dot, Shape


class KeyAndString(NamedTuple):
    """A key, and the string on which to find its tonic."""

    key: Key
    string: int


class TonicFret(Family[KeyAndString]):
    """At which fret of a string a key's tonic lies."""

    id = "tonic-fret"
    title = "Fret of a tonic"
    idea = "The tonic is the note that a key is named after and comes home to; find its fret, and you have the key."
    facet_type = KeyAndString
    needs = ("fret-of-note",)

    def spread(self, scope: Scope) -> Iterator[KeyAndString]:
        for key in scope.keys:
            for string in scope.strings:
                if scope.neck.spots_of(key.tonic.pitch_class, (string,)):
                    yield KeyAndString(key, string)

    def facts(self, facets: KeyAndString, neck: Neck) -> tuple[Fact, ...]:
        return (spot_fact(neck, _tonic_spots(facets, neck)[0]),)

    def card(self, facets: KeyAndString, neck: Neck) -> Card:
        key, spots = facets.key, _tonic_spots(facets, neck)
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named_key(key), string_label(neck.tuning, facets.string) + counted(neck), "Tonic fret?"),
            kind=FretAnswer(neck.last_fret, facets.string),
            accepts=tuple(str(spot.fret) for spot in spots),
            explain=lambda: (
                f"the tonic of {named_key(key)} is {named(key.tonic)}",
                *walk(neck, spots[0], key.tonic),
                *and_again(spots),
            ),
            confuse=lambda: chain(_relative_frets(key, neck, spots[0].string), misplaced(neck, spots, key.tonic)),
            draw_answer=lambda: tuple(Mark(spot, tonic_role(key.mode), key.tonic) for spot in spots),
            draw_steps=lambda: walk_marks(neck, spots[0]),
        )


class ShapeAnchor(ShapeFamily):
    """Where the index finger goes for a key in a shape: the question a backing loop asks."""

    id = "shape-anchor"
    title = "Index fret of a shape"
    idea = (
        "One five-note shape plays both relatives, keys of the same notes: "
        "index finger on the minor tonic, or home note, little finger on the major."
    )
    needs = ("tonic-fret", "relative-minor", "tonic-finger")

    def facts(self, facets: KeyAndShape, neck: Neck) -> tuple[Fact, ...]:
        key, shape = facets.key, _places(facets, neck)[0]
        bond = (relative_fact(key),) if key.mode == "major" else ()
        return (spot_fact(neck, shape.anchor_dot("minor").spot), *bond, finger_fact("minor"))

    def card(self, facets: KeyAndShape, neck: Neck) -> Card:
        key, shapes = facets.key, _places(facets, neck)
        spots = tuple(shape.anchor_dot("minor").spot for shape in shapes)
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named_key(key), _whole_on_the_neck(neck, shapes) + counted(neck), "Index fret?"),
            kind=FretAnswer(neck.last_fret, spots[0].string, first_fret=1),
            accepts=tuple(str(spot.fret) for spot in spots),
            explain=lambda: (
                *(steps_to_relative(key) if key.mode == "major" else ()),
                f"the index finger holds the minor tonic, {named(key.minor.tonic)}",
                *walk(neck, spots[0], key.minor.tonic),
                *and_again(spots),
                *_not_whole(neck, shapes),
            ),
            confuse=lambda: on_neck(neck, _anchor_mixups(key, neck, shapes)),
            draw_answer=lambda: shape_picture(shapes, key.mode),
            draw_steps=lambda: walk_marks(neck, spots[0]),
        )


class OtherTonic(ShapeFamily):
    """From one tonic of a shape to the other, on the same string."""

    id = "other-tonic"
    title = "Other tonic of the shape"
    idea = (
        "A shape has two tonics, or home notes, on its string: "
        "the minor one under the index finger, the major one three frets higher."
    )
    needs = ("shape-anchor",)

    def facts(self, facets: KeyAndShape, neck: Neck) -> tuple[Fact, ...]:
        return (other_tonic_fact(facets.key.mode),)

    def card(self, facets: KeyAndShape, neck: Neck) -> Card:
        key, shape = facets.key, _places(facets, neck)[0]
        here, there = shape.anchor_dot(key.mode), shape.anchor_dot(key.relative.mode)
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(
                f"{named_key(key)} at {here.spot.fret}",
                counted(neck).removeprefix(", "),
                f"{key.relative.mode.capitalize()} tonic, same string?",
            ),
            kind=FretAnswer(neck.last_fret, here.spot.string, first_fret=1),
            accepts=(str(there.spot.fret),),
            explain=lambda: _three_frets(key, here, there),
            confuse=lambda: on_neck(neck, _other_tonic_mixups(here, there, neck)),
            draw=lambda: (marked_dot(here, key.mode),),
            draw_answer=lambda: (marked_dot(here, key.mode), marked_dot(there, key.mode)),
            unseen=Ask(
                f"{named_key(key)} at {here.spot.fret}",
                shape_label(shape, neck.tuning) + counted(neck),
                f"{key.relative.mode.capitalize()} tonic's fret, same string?",
            ),
        )


def _three_frets(key: Key, here: Dot, there: Dot) -> tuple[str, ...]:
    way, sign = ("up", "+") if key.mode == "minor" else ("down", "-")
    return (
        f"{FINGERS[finger_of(here)]} finger at {here.spot.fret}: the {key.mode} tonic, {named(key.tonic)}",
        f"{FINGERS[finger_of(there)]} finger, three frets {way}: the {key.relative.mode} tonic",
        f"{here.spot.fret} {sign} 3 = {there.spot.fret}: {named(key.relative.tonic)}",
    )


def _tonic_spots(facets: KeyAndString, neck: Neck) -> tuple[Spot, ...]:
    return neck.spots_of(facets.key.tonic.pitch_class, (facets.string,))


def _places(facets: KeyAndShape, neck: Neck) -> tuple[Shape, ...]:
    return placed(facets.key, facets.shape, neck)


def _whole_on_the_neck(neck: Neck, places: tuple[Shape, ...]) -> str:
    """The shape, with a word more where the string has the tonic at another fret too, from which it does not fit."""
    label = shape_label(places[0], neck.tuning)
    if _too_low(places) is not None:
        return f"{label}, whole, no open strings"
    return f"{label}, whole on the neck" if _too_high(neck, places) is not None else label


def _not_whole(neck: Neck, places: tuple[Shape, ...]) -> Iterator[str]:
    """What 'whole' means: from which fret of the tonic the shape does not fit, and why."""
    low, high = _too_low(places), _too_high(neck, places)
    if places[0].anchor_dot("minor").spot.fret == FRETS_PER_OCTAVE:
        yield "the open string will not do: no finger holds it"
    if low is not None:
        yield f"from {low} the shape would not be whole: it would need an open string, which no finger holds"
    elif high is not None:
        yield f"from {high} the shape would not be whole: the neck ends at {neck.last_fret}"


def _too_low(places: tuple[Shape, ...]) -> int | None:
    """The fret of the tonic below the shape's lowest place, from which one of its notes falls on an open string."""
    fret = places[0].anchor_dot("minor").spot.fret - FRETS_PER_OCTAVE
    return fret if fret > 0 else None


def _too_high(neck: Neck, places: tuple[Shape, ...]) -> int | None:
    """The fret of the tonic above the shape's highest place, from which one of its notes lies beyond the neck."""
    fret = places[-1].anchor_dot("minor").spot.fret + FRETS_PER_OCTAVE
    return fret if fret <= neck.last_fret else None


def _relative_frets(key: Key, neck: Neck, string: int) -> Iterator[Mixup]:
    tonic = key.relative.tonic
    return at_frets_of(neck, string, tonic, "other tonic", "{0}; {1}.", RelativeTonic(tonic, key))


def _anchor_mixups(key: Key, neck: Neck, shapes: tuple[Shape, ...]) -> Iterator[Mixup]:
    """A major key has one step more to go wrong in: the way to its relative."""
    spots = tuple(shape.anchor_dot("minor").spot for shape in shapes)
    string, minor, major = spots[0].string, key.minor.tonic, key.major.tonic
    for spot in neck.spots_of(major.pitch_class, (string,)):
        claims = (sounds(neck, spot, major), HoldsTonic(1, "minor"))
        yield Mixup("wrong finger", str(spot.fret), claims, "{0}, the major tonic; {1}.", finger_fact("minor"))
    for spot in neck.spots_of(minor.pitch_class, (string,)):
        why = _no_place(neck, spot.fret, shapes[0])
        yield Mixup("right note, wrong octave", str(spot.fret), (sounds(neck, spot, minor), why), "{0}, but {1}.")
    if key.mode == "major":
        wrong = names_of((major.pitch_class + 3) % 12)[-1]
        apart, frame = ThreeFretsApart(wrong, major, up=True), "{0}: {1}, and the relative minor lies below."
        for mixup in at_frets_of(neck, string, wrong, "wrong way", frame, apart):
            yield mixup._replace(fact=relative_fact(key))
    yield from _as_the_other_mode(key, neck, string)
    yield from misplaced(neck, spots, minor)


def _no_place(neck: Neck, fret: int, lowest: Shape) -> NoPlace:
    """Why the index finger cannot lie at a fret of the tonic that is no place of the shape."""
    moved = fret - lowest.anchor_dot("minor").spot.fret
    return NoPlace(neck, fret, lowest.lowest_fret + moved, lowest.highest_fret + moved)


def _as_the_other_mode(key: Key, neck: Neck, string: int) -> Iterator[Mixup]:
    """A minor key led to a relative as if it were major; a major key left as if it were minor."""
    if key.mode == "major":
        frame = "{0}: the index finger belongs there in the minor key of that tonic."
        yield from at_frets_of(neck, string, key.tonic, "other mode", frame)
    else:
        below = names_of((key.tonic.pitch_class - 3) % 12)[0]
        claim = ThreeFretsApart(below, key.tonic, up=False)
        yield from at_frets_of(neck, string, below, "other mode", "{0}; {1}, the way from a major key.", claim)


def _other_tonic_mixups(here: Dot, there: Dot, neck: Neck) -> Iterator[Mixup]:
    wrong, string = 2 * here.spot.fret - there.spot.fret, there.spot.string
    frame = "{0}, but the major tonic is the higher one."
    yield Mixup("wrong way", str(wrong), (FretsApart(wrong, here.spot.fret),), frame)
    yield given_back(here.spot.fret)
    yield from one_off(neck, (there.spot,), "{0}: {1}. The two tonics lie three frets apart.")
    for other in neck.tuning.anchor_strings:
        if other != string:
            yield from on_other_string(neck, other, there.note, "{0}; but the question stays on the same string.")
    yield from octave_off(neck, there.spot)
    yield from letters_off(neck, string, there.note)
