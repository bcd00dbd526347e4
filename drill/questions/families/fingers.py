"""Families about the finger on a tonic: from the key to the finger, and from the finger back to the key."""

from collections.abc import Iterator
from typing import NamedTuple

from drill.questions.answers import FingerAnswer, KeyAnswer
from drill.questions.card import Ask, Card
from drill.questions.facets import Group, group_of
from drill.questions.facts import Fact, finger_fact, relative_fact, spot_fact
from drill.questions.families.relatives import steps_to_relative
from drill.questions.family import Family, key_groups
from drill.questions.in_shapes import KeyAndShape, ShapeFamily, anchored, finger_of, keys_of_sound, placed
from drill.questions.mixups.claims import Claim, LiesAt, RelativeTonic
from drill.questions.mixups.keys import beside, in_wrong_mode, misnamed, relative_given, relative_tonic, wrong_way
from drill.questions.mixups.mixup import Mixup
from drill.questions.mixups.shape_claims import HoldsTonic, WouldBe
from drill.questions.mixups.shapes import idle_fingers, other_finger
from drill.questions.picture import Mark, asked, marked_dot
from drill.questions.reasons import walk, walk_marks
from drill.questions.scope import Scope
from drill.questions.wording import FINGERS, counted, finger_label, named, named_key, shape_label, string_label
from drill.theory.keys import MINOR_ABOVE_MAJOR, PRACTICAL_KEYS, Key, Mode
from drill.theory.neck import Neck, Spot
from drill.theory.pitch import Note
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
    needs = ("relative-minor",)

    def facts(self, facets: KeyAndShape, neck: Neck) -> tuple[Fact, ...]:
        return (finger_fact(facets.key.mode),)

    def card(self, facets: KeyAndShape, neck: Neck) -> Card:
        key = facets.key
        shape = placed(key, facets.shape, neck)[0]
        dot, other = shape.anchor_dot(key.mode), shape.anchor_dot(key.relative.mode)
        where = string_label(neck.tuning, dot.spot.string)
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
            confuse=lambda: (
                other_finger(other, shape, neck, finger_fact(key.mode)),
                *idle_fingers(shape, dot.spot.string, neck),
            ),
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
                f"{facets.mode.capitalize()} key?",
            ),
            kind=KeyAnswer(facets.mode),
            accepts=tuple(key.name for key in wanted),
            explain=lambda: _steps(neck, spot, fretted, wanted),
            confuse=lambda: _mixups(neck, spot, fretted, wanted),
            draw=lambda: (Mark(spot, "asked", finger=facets.finger),),
            draw_answer=lambda: _both_tonics(wanted[0], shape, spot, neck),
            draw_steps=lambda: walk_marks(neck, spot),
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


def _mixups(neck: Neck, spot: Spot, fretted: Key, right: tuple[Key, ...]) -> Iterator[Mixup]:
    """The rule turned round, the other tonic, another string, and what any key is taken for."""
    wanted = right[0]
    yield from misnamed(wanted)
    yield _rule_turned_round(fretted, wanted.mode)
    yield relative_given(wanted)
    yield relative_tonic(wanted)
    if fretted.mode != wanted.mode:
        yield from wrong_way(fretted.tonic, wanted, relative_fact(wanted))
    yield in_wrong_mode(wanted)
    yield from _other_strings(neck, spot, fretted, wanted)
    for key in right:
        yield from beside(key)


def _rule_turned_round(fretted: Key, wanted: Mode) -> Mixup:
    """The key that would be right if the other finger lay there."""
    tonic, mode = fretted.tonic, fretted.relative.mode
    if mode != wanted:
        tonic = Note(tonic.fifths + (MINOR_ABOVE_MAJOR if mode == "major" else -MINOR_ABOVE_MAJOR))
    claims = (
        WouldBe(_TONIC_FINGERS[mode], fretted.tonic, tonic, wanted),
        HoldsTonic(_TONIC_FINGERS[fretted.mode], fretted.mode),
    )
    fact = finger_fact(fretted.mode)
    return Mixup("wrong finger", f"{tonic.name} {wanted}", claims, "{0}; {1}.", fact)


def _other_strings(neck: Neck, spot: Spot, fretted: Key, wanted: Key) -> Iterator[Mixup]:
    """The same fret and finger on a string beside."""
    for string in neck.tuning.beside(spot.string):
        there = Spot(string, spot.fret)
        heard = keys_of_sound(fretted.mode, neck.pitch_class(there))[0]
        claims: tuple[Claim, ...] = (LiesAt(heard.tonic, neck, there),)
        frame = "{0}, the string next to it."
        if fretted.mode != wanted.mode:
            claims, frame = (*claims, RelativeTonic(heard.relative.tonic, heard)), "{0}, the string next to it; {1}."
        key = heard if fretted.mode == wanted.mode else heard.relative
        yield Mixup("other string", key.name, claims, frame, spot_fact(neck, spot))


def _both_tonics(key: Key, shape: Shape, spot: Spot, neck: Neck) -> tuple[Mark, ...]:
    """Both tonics on the anchor string, at the place where the question found its finger."""
    for place in placed(key, shape.id, neck):
        dots = place.anchor_dot("minor"), place.anchor_dot("major")
        if spot in (dot.spot for dot in dots):
            return tuple(marked_dot(dot, key.mode) for dot in dots)
    return asked((spot,))
