"""Families about the movable shapes: where a key's tonic lies, under which finger, and where a shape is anchored."""

from __future__ import annotations

from collections.abc import Iterator

from drill.questions.answers import FingerAnswer, FretAnswer
from drill.questions.card import Card, Facets, Mixup
from drill.questions.family import Family, instrument_suffix, register
from drill.questions.picture import Mark, marked_dot, shape_picture, tonic_role
from drill.questions.reasons import fret_mixups, spot_fact, walk
from drill.questions.relatives import relative_fact, steps_to_relative
from drill.questions.scope import Scope
from drill.questions.wording import FINGERS, finger_label, named, named_key, shape_label, string_label
from drill.theory.keys import Key, parse_key
from drill.theory.neck import Neck, Spot
from drill.theory.shapes import Dot, Shape, find_shape, placements


def finger_fact(key: Key) -> str:
    """The rule of the finger: minor under the index, major under the little finger."""
    return f"finger:{key.mode}"


@register
class TonicFret(Family):
    """At which fret of a string a key's tonic lies."""

    id = "tonic-fret"
    lesson = 8
    title = "Fret of a tonic"
    target_s = 2.0
    needs = ("fret-of-note",)

    def spread(self, scope: Scope) -> Iterator[Facets]:
        for key in scope.keys:
            for string in scope.strings:
                yield {"key": key.name, "string": string}

    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        return (spot_fact(instrument_suffix(neck), _tonic_spots(facets, neck)[0]),)

    def card(self, facets: Facets, neck: Neck) -> Card:
        key, spots = parse_key(str(facets["key"])), _tonic_spots(facets, neck)
        return self.make(
            facets,
            neck,
            prompt=f"{named_key(key)}: at which fret of {string_label(neck.tuning, spots[0].string)} is the tonic?",
            kind=FretAnswer(neck.last_fret),
            accepts=tuple(str(spot.fret) for spot in spots),
            because=(f"the tonic of {named_key(key)} is {named(key.tonic)}", *walk(neck, spots[0], key.tonic)),
            mixups=(*_relative_frets(key, neck, spots), *fret_mixups(neck, spots, key.tonic)),
            shown=(),
            answer_picture=tuple(Mark(spot, tonic_role(key.mode), key.tonic) for spot in spots),
        )


class _ShapeFamily(Family):
    """Families that ask about one key in one of the anchored shapes."""

    def spread(self, scope: Scope) -> Iterator[Facets]:
        for key in scope.keys:
            for name in scope.shapes:
                shape = find_shape(key, scope.neck.tuning, name, scope.neck.capo)
                if shape.anchor_string and shape.highest_fret <= scope.neck.last_fret:
                    yield {"key": key.name, "shape": shape.id}


@register
class TonicFinger(_ShapeFamily):
    """Which finger holds the tonic on the string that anchors the shape."""

    id = "tonic-finger"
    lesson = 9
    title = "Finger on the tonic"
    target_s = 1.5
    needs = ("tonic-fret",)

    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        return (finger_fact(parse_key(str(facets["key"]))),)

    def card(self, facets: Facets, neck: Neck) -> Card:
        key, shape = parse_key(str(facets["key"])), _placed(facets, neck)[0]
        dot, other = anchor_dot(shape, key), anchor_dot(shape, key.relative)
        where = string_label(neck.tuning, dot.spot.string)
        rule = "the minor tonic lies under the index, the major tonic three frets up under the little finger"
        sentence = f"{FINGERS[_finger(other)].capitalize()} holds the tonic of {named_key(key.relative)}."
        return self.make(
            facets,
            neck,
            prompt=f"{named_key(key)}, {shape_label(shape, neck.tuning)}: which finger is on the tonic, on {where}?",
            kind=FingerAnswer(),
            accepts=(str(dot.finger),),
            because=(rule, f"{named_key(key)} is {key.mode}", finger_label(_finger(dot))),
            mixups=(Mixup("wrong finger", str(other.finger), sentence, finger_fact(key)),),
            shown=(),
            answer_picture=(marked_dot(dot),),
        )


@register
class ShapeAnchor(_ShapeFamily):
    """Where the index finger goes for a key in a shape: the question a backing loop asks."""

    id = "shape-anchor"
    lesson = 11
    title = "Index fret of a shape"
    target_s = 2.5
    needs = ("tonic-fret", "relative-minor", "tonic-finger")

    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        key, shape = parse_key(str(facets["key"])), _placed(facets, neck)[0]
        bond = (relative_fact(key),) if key.mode == "major" else ()
        spot = anchor_dot(shape, key.minor).spot
        return (spot_fact(instrument_suffix(neck), spot), *bond, finger_fact(key.minor))

    def card(self, facets: Facets, neck: Neck) -> Card:
        key, shapes = parse_key(str(facets["key"])), _placed(facets, neck)
        spots = [anchor_dot(shape, key.minor).spot for shape in shapes]
        steps = steps_to_relative(key) if key.mode == "major" else ()
        rule = f"the index finger holds the minor tonic, {named(key.minor.tonic)}"
        return self.make(
            facets,
            neck,
            prompt=f"{named_key(key)}, {shape_label(shapes[0], neck.tuning)}: at which fret is the index finger?",
            kind=FretAnswer(neck.last_fret),
            accepts=tuple(str(spot.fret) for spot in spots),
            because=(*steps, rule, *walk(neck, spots[0], key.minor.tonic)),
            mixups=tuple(_anchor_mixups(key, neck, spots)),
            shown=(),
            answer_picture=shape_picture(shapes),
        )


@register
class OtherTonic(_ShapeFamily):
    """From one tonic of a shape to the other, on the same string."""

    id = "other-tonic"
    lesson = 12
    title = "Other tonic of the shape"
    target_s = 1.5
    needs = ("shape-anchor",)

    def facts(self, facets: Facets, neck: Neck) -> tuple[str, ...]:
        return (f"three-frets:{parse_key(str(facets['key'])).mode}",)

    def card(self, facets: Facets, neck: Neck) -> Card:
        key, shape = parse_key(str(facets["key"])), _placed(facets, neck)[0]
        here, there = anchor_dot(shape, key), anchor_dot(shape, key.relative)
        way = "up" if key.mode == "minor" else "down"
        return self.make(
            facets,
            neck,
            prompt=(
                f"{FINGERS[_finger(here)].capitalize()} finger on the tonic of {named_key(key)}, "
                f"{string_label(neck.tuning, here.spot.string)}, fret {here.spot.fret}. "
                f"At which fret of this string is the {key.relative.mode} tonic of the same shape?"
            ),
            kind=FretAnswer(neck.last_fret),
            accepts=(str(there.spot.fret),),
            because=(
                f"the {key.mode} tonic is under the {FINGERS[_finger(here)]} finger at fret {here.spot.fret}",
                f"the {key.relative.mode} tonic is three frets {way}, under the {FINGERS[_finger(there)]} finger",
                f"fret {there.spot.fret}, {named(key.relative.tonic)}",
            ),
            mixups=tuple(_other_tonic_mixups(here, there, neck)),
            shown=(marked_dot(here),),
            answer_picture=(marked_dot(here), marked_dot(there)),
        )


def anchor_dot(shape: Shape, key: Key) -> Dot:
    """Where the tonic of the key lies on the shape's anchor string."""
    return next(dot for dot in shape.tonic_dots(key.mode) if dot.spot.string == shape.anchor_string)


def _finger(dot: Dot) -> int:
    assert dot.finger is not None  # anchored shapes are those with one fingering
    return dot.finger


def _tonic_spots(facets: Facets, neck: Neck) -> tuple[Spot, ...]:
    return neck.spots_of(parse_key(str(facets["key"])).tonic.pitch_class, (int(facets["string"]),))


def _placed(facets: Facets, neck: Neck) -> list[Shape]:
    """Every place of the facets' shape on this neck, from the nut up."""
    key = parse_key(str(facets["key"]))
    shape = find_shape(key, neck.tuning, str(facets["shape"]), neck.capo)
    return list(placements(key, neck, shape.number))


def _relative_frets(key: Key, neck: Neck, spots: tuple[Spot, ...]) -> Iterator[Mixup]:
    right = {spot.fret for spot in spots}
    for spot in neck.spots_of(key.relative.tonic.pitch_class, (spots[0].string,)):
        if spot.fret not in right:
            sentence = f"Fret {spot.fret} is {named(key.relative.tonic)}, the tonic of the relative {key.relative.mode}."
            yield Mixup("other tonic", str(spot.fret), sentence, relative_fact(key))


def _anchor_mixups(key: Key, neck: Neck, spots: list[Spot]) -> Iterator[Mixup]:
    string, minor = spots[0].string, key.minor.tonic
    right = {spot.fret for spot in spots}
    major_frets = [spot.fret for spot in neck.spots_of(key.major.tonic.pitch_class, (string,))]
    for fret in major_frets:
        sentence = f"Fret {fret} holds the major tonic; that is the little finger's. The index is three frets lower."
        yield Mixup("wrong finger", str(fret), sentence, finger_fact(key.minor))
    for spot in neck.spots_of(minor.pitch_class, (string,)):
        if spot.fret not in right:
            why = "no finger holds an open string" if spot.fret == 0 else "from there the shape runs off this neck"
            yield Mixup("right note, wrong octave", str(spot.fret), f"It is {named(minor)}, but {why}.")
    if key.mode == "major":
        yield from _parallel_frets(key, neck, string)
    yield from (mixup for mixup in fret_mixups(neck, spots, minor) if int(mixup.answer) not in right)


def _parallel_frets(key: Key, neck: Neck, string: int) -> Iterator[Mixup]:
    """Three frets above the major tonic instead of below."""
    for spot in neck.spots_of((key.tonic.pitch_class + 3) % 12, (string,)):
        sentence = f"Three frets, but the wrong way: the relative minor lies below {named(key.tonic)}."
        yield Mixup("wrong way", str(spot.fret), sentence, relative_fact(key))


def _other_tonic_mixups(here: Dot, there: Dot, neck: Neck) -> Iterator[Mixup]:
    wrong_way = 2 * here.spot.fret - there.spot.fret
    if 0 <= wrong_way <= neck.last_fret:
        yield Mixup("wrong way", str(wrong_way), "Three frets, but the wrong way: the major tonic is the higher one.")
    for step in (-1, 1):
        yield Mixup("one fret off", str(there.spot.fret + step), "The two tonics lie three frets apart.")
