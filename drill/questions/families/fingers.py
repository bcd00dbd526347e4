"""Families about the finger on a tonic: from the key to the finger, and from the finger back to the key."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from drill.questions.answers import FingerAnswer, KeyAnswer
from drill.questions.card import Ask, Card, Mixup
from drill.questions.facets import Group, group_of
from drill.questions.facts import Fact, finger_fact, relative_fact, spot_fact
from drill.questions.families.relatives import steps_to_relative
from drill.questions.family import Family, key_groups
from drill.questions.in_shapes import KeyAndShape, ShapeFamily, anchored, finger_of, keys_of_sound, placed
from drill.questions.picture import Mark, asked, marked_dot
from drill.questions.reasons import either_name, theoretical_names, walk
from drill.questions.scope import Scope
from drill.questions.wording import FINGERS, counted, finger_label, named, named_key, shape_label, string_label
from drill.theory.keys import PRACTICAL_KEYS, Key, Mode
from drill.theory.neck import Neck, Spot
from drill.theory.shapes import Shape, ShapeId, find_shape

_TONIC_FINGERS: dict[Mode, int] = {"minor": 1, "major": 4}


class TonicFinger(ShapeFamily):
    """Which finger holds the tonic on the string that anchors the shape."""

    id = "tonic-finger"
    title = "Finger on the tonic"
    idea = (
        "A shape is five notes under one hand: "
        "its index finger holds the minor tonic, or home note, its little finger the major one."
    )
    target_s = 1.5
    needs = ("relative-minor",)

    def facts(self, facets: KeyAndShape, neck: Neck) -> tuple[Fact, ...]:
        return (finger_fact(facets.key.mode),)

    def card(self, facets: KeyAndShape, neck: Neck) -> Card:
        key = facets.key
        shape = placed(key, facets.shape, neck)[0]
        dot, other = shape.anchor_dot(key.mode), shape.anchor_dot(key.relative.mode)
        where = string_label(neck.tuning, dot.spot.string)
        sentence = f"{finger_label(finger_of(other)).capitalize()} holds the tonic of {named_key(key.relative)}."
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(named_key(key), shape_label(shape, neck.tuning), f"Tonic finger, string {dot.spot.string}?"),
            kind=FingerAnswer(),
            accepts=(str(dot.finger),),
            explain=lambda: (
                f"{where} holds both tonics",
                *_rule(key.minor),
                f"so {named_key(key)}: {finger_label(finger_of(dot))}",
            ),
            confuse=lambda: (Mixup("wrong finger", str(other.finger), sentence, finger_fact(key.mode)),),
            draw_answer=lambda: (marked_dot(dot, key.mode),),
        )


class FingerInShape(NamedTuple):
    """A finger at a fret of the string that anchors a shape, and the mode of the key asked for."""

    shape: ShapeId
    finger: int
    fret: int
    mode: Mode


class FingerKey(Family[FingerInShape]):
    """Which key a finger on an anchor string stands for: its own, or the relative one."""

    id = "finger-key"
    title = "Key from a finger"
    idea = (
        "On a shape's own string the index finger names the minor key, "
        "the little finger its relative, the major key of the same notes."
    )
    facet_type = FingerInShape
    target_s = 2.5
    needs = ("tonic-finger", "note-at-fret", "relative-minor", "relative-major")

    def spread(self, scope: Scope) -> Iterator[FingerInShape]:
        for key in scope.keys:
            for shape in anchored(key, scope):
                for dot in (shape.anchor_dot(key.mode), shape.anchor_dot(key.relative.mode)):
                    yield FingerInShape(shape.id, finger_of(dot), dot.spot.fret, key.mode)

    def facts(self, facets: FingerInShape, neck: Neck) -> tuple[Fact, ...]:
        fretted, wanted = _fretted_key(facets, neck), _wanted_keys(facets, neck)[0]
        bond = (relative_fact(wanted),) if fretted.mode != wanted.mode else ()
        return (spot_fact(neck, _spot(facets, neck)), finger_fact(fretted.mode), *bond)

    def groups(self, facets: FingerInShape, neck: Neck) -> frozenset[Group]:
        """The shape, and every key that is a right answer."""
        return key_groups(_wanted_keys(facets, neck)) | {group_of("shape", facets.shape)}

    def card(self, facets: FingerInShape, neck: Neck) -> Card:
        spot, fretted, wanted = _spot(facets, neck), _fretted_key(facets, neck), _wanted_keys(facets, neck)
        shape = _shape(facets, neck)
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(
                f"Fret {spot.fret}",
                f"{FINGERS[facets.finger]} finger, {shape_label(shape, neck.tuning)}{counted(neck)}",
                f"Which {facets.mode} key?",
            ),
            kind=KeyAnswer(facets.mode),
            accepts=tuple(key.name for key in wanted),
            explain=lambda: _steps(neck, spot, fretted, wanted),
            confuse=lambda: _mixups(neck, spot, fretted, wanted[0]),
            draw=lambda: (Mark(spot, "asked", finger=facets.finger),),
            draw_answer=lambda: _both_tonics(wanted[0], shape, spot, neck),
        )


def _rule(minor: Key) -> tuple[str, str]:
    return (
        f"index finger: the minor tonic, {named(minor.tonic)}",
        f"little finger, three frets up: the major tonic, {named(minor.major.tonic)}",
    )


def _shape(facets: FingerInShape, neck: Neck) -> Shape:
    """The shape with its fingers, in any key: the frets are not used."""
    return find_shape(PRACTICAL_KEYS[0], neck.tuning, facets.shape, neck.capo)


def _spot(facets: FingerInShape, neck: Neck) -> Spot:
    return Spot(_shape(facets, neck).anchor_string or 0, facets.fret)


def _fretted_key(facets: FingerInShape, neck: Neck) -> Key:
    """The key whose tonic the finger holds."""
    mode: Mode = "minor" if facets.finger == _TONIC_FINGERS["minor"] else "major"
    return keys_of_sound(mode, neck.pitch_class(_spot(facets, neck)))[0]


def _wanted_keys(facets: FingerInShape, neck: Neck) -> tuple[Key, ...]:
    fretted = _fretted_key(facets, neck)
    wanted = fretted if fretted.mode == facets.mode else fretted.relative
    return keys_of_sound(wanted.mode, wanted.tonic.pitch_class)


def _steps(neck: Neck, spot: Spot, fretted: Key, wanted: tuple[Key, ...]) -> tuple[str, ...]:
    finger = FINGERS[_TONIC_FINGERS[fretted.mode]]
    bond = steps_to_relative(fretted)[1:] if fretted.mode != wanted[0].mode else ()
    other = tuple(f"the same frets play {named_key(key)}" for key in wanted[1:])
    rule = f"{finger} finger on the {fretted.mode} tonic: {named_key(fretted)}"
    return (*walk(neck, spot, fretted.tonic), rule, *bond, *other)


def _mixups(neck: Neck, spot: Spot, fretted: Key, wanted: Key) -> Iterator[Mixup]:
    if fretted.mode != wanted.mode:
        finger = FINGERS[_TONIC_FINGERS[fretted.mode]]
        sentence = f"The {finger} finger holds the {fretted.mode} tonic; the {wanted.mode} tonic is three frets away."
        yield Mixup("wrong finger", f"{fretted.tonic.name} {wanted.mode}", sentence, finger_fact(fretted.mode))
        yield Mixup(
            "mode not changed", fretted.name, f"That is the {fretted.mode} key; the {wanted.mode} one was asked for."
        )
    else:
        sentence = f"That would be right under the other finger; here it holds the {fretted.mode} tonic itself."
        yield Mixup("wrong finger", f"{fretted.relative.tonic.name} {wanted.mode}", sentence, finger_fact(fretted.mode))
        sentence = f"That is the relative {fretted.relative.mode}; the {wanted.mode} key was asked for."
        yield Mixup("mode not changed", fretted.relative.name, sentence)
    yield from theoretical_names(wanted)
    yield from _other_strings(neck, spot, fretted, wanted)


def _other_strings(neck: Neck, spot: Spot, fretted: Key, wanted: Key) -> Iterator[Mixup]:
    apart = (wanted.tonic.pitch_class - fretted.tonic.pitch_class) % 12
    for string in neck.tuning.beside(spot.string):
        there = Spot(string, spot.fret)
        sound = neck.pitch_class(there)
        where = string_label(neck.tuning, string)
        sentence = f"Fret {spot.fret} sounds {either_name(sound)} on {where}, the string next to it."
        for key in keys_of_sound(wanted.mode, (sound + apart) % 12):
            yield Mixup("other string", key.name, sentence, spot_fact(neck, spot))


def _both_tonics(key: Key, shape: Shape, spot: Spot, neck: Neck) -> tuple[Mark, ...]:
    """Both tonics on the anchor string, at the place where the question found its finger."""
    for place in placed(key, shape.id, neck):
        dots = place.anchor_dot("minor"), place.anchor_dot("major")
        if spot in (dot.spot for dot in dots):
            return tuple(marked_dot(dot, key.mode) for dot in dots)
    return asked((spot,))
