"""The family about drawn shapes: which key some dots belong to."""

from collections.abc import Iterator
from functools import cache
from itertools import groupby
from typing import NamedTuple

from drill.questions.answers import KeyAnswer
from drill.questions.card import Ask, Card
from drill.questions.facets import Group, group_of
from drill.questions.facts import Fact, diagram_fact, relative_fact, spot_fact
from drill.questions.families.relatives import steps_to_relative
from drill.questions.family import Family, key_groups
from drill.questions.in_shapes import keys_of_sound, placed
from drill.questions.mixups.claims import Claim, Relatives
from drill.questions.mixups.keys import beside, in_wrong_mode, misnamed, relative_given, relative_tonic, wrong_way
from drill.questions.mixups.mixup import Mixup
from drill.questions.mixups.shape_claims import Holds
from drill.questions.mixups.shapes import other_owners
from drill.questions.picture import Mark, Picture, bare_dots, shape_picture
from drill.questions.reasons import walk, walk_marks
from drill.questions.scope import Scope
from drill.questions.wording import counted, named_key, shape_label, string_label
from drill.theory.keys import PRACTICAL_KEYS, Key, Mode
from drill.theory.neck import Neck
from drill.theory.scales import MINOR_PENTATONIC, degree_interval
from drill.theory.shapes import Dot, Shape, ShapeId, find_shape


class ShapeAtFret(NamedTuple):
    """A shape by the lowest fret of its dots, and the mode of the key asked for."""

    shape: ShapeId
    fret: int
    mode: Mode


class NeckDiagram(Family[ShapeAtFret]):
    """Which key a shape on the neck belongs to."""

    id = "neck-diagram"
    title = "Key of a drawn shape"
    idea = "A five-note shape moves along the neck; where its tonic, or home note, lies tells which key it plays."
    facet_type = ShapeAtFret
    needs = ("shape-anchor", "note-at-fret")

    def spread(self, scope: Scope) -> Iterator[ShapeAtFret]:
        for key in scope.keys:
            for name in scope.shapes:
                for shape in placed(key, name, scope.neck)[:1]:
                    yield ShapeAtFret(shape.id, shape.lowest_fret, key.mode)

    def facts(self, facets: ShapeAtFret, neck: Neck) -> tuple[Fact, ...]:
        key, shape = _keys(facets, neck)[0], _drawn(facets, neck)
        bond = (relative_fact(key),) if key.mode == "major" else ()
        return (diagram_fact(neck, shape.id), spot_fact(neck, _home(shape).spot), *bond)

    def groups(self, facets: ShapeAtFret, neck: Neck) -> frozenset[Group]:
        """The shape, and every key that is a right answer."""
        return key_groups(_keys(facets, neck)) | {group_of("shape", facets.shape)}

    def card(self, facets: ShapeAtFret, neck: Neck) -> Card:
        keys, shape, mode = _keys(facets, neck), _drawn(facets, neck), facets.mode
        return Card(
            self.name(facets, neck),
            neck,
            ask=Ask(_span(shape), counted(neck).removeprefix(", "), f"Which {mode} pentatonic?"),
            kind=KeyAnswer(mode),
            accepts=tuple(key.name for key in keys),
            explain=lambda: _diagram_steps(keys, shape, neck),
            confuse=lambda: _diagram_mixups(keys, shape, neck),
            draw=lambda: _hand_shown(shape),
            draw_answer=lambda: shape_picture((shape,), mode),
            draw_steps=lambda: walk_marks(neck, _home(shape).spot),
            unseen=Ask(*_in_words(shape, neck), f"{mode.capitalize()} pentatonic of which key?"),
        )


def _drawn(facets: ShapeAtFret, neck: Neck) -> Shape:
    """The shape where the question draws it; its key is an everyday one."""
    return _at_fret(facets.shape, facets.fret, neck)


@cache
def _at_fret(name: ShapeId, fret: int, neck: Neck) -> Shape:
    base = find_shape(PRACTICAL_KEYS[0], neck.tuning, name, neck.capo)
    tonic = (base.key.tonic.pitch_class + fret - base.lowest_fret) % 12
    key = keys_of_sound("minor", tonic)[0]
    return next(place for place in placed(key, name, neck) if place.lowest_fret == fret)


def _keys(facets: ShapeAtFret, neck: Neck) -> tuple[Key, ...]:
    minor = _drawn(facets, neck).key
    asked = minor if facets.mode == "minor" else minor.relative
    return keys_of_sound(asked.mode, asked.tonic.pitch_class)


def _home(shape: Shape) -> Dot:
    """The minor tonic that anchors the shape, or its lowest one."""
    tonics = shape.tonic_dots("minor")
    return next((dot for dot in tonics if dot.spot.string == shape.anchor_string), tonics[0])


def _span(shape: Shape) -> str:
    """The frets from the lowest dot to the highest."""
    return f"Frets {shape.lowest_fret}-{shape.highest_fret}"


def _in_words(shape: Shape, neck: Neck) -> tuple[str, str]:
    """The drawing in words: the frets string by string, and from which string to which they are told."""
    low, high = (string_label(neck.tuning, shape.dots[end].spot.string) for end in (0, -1))
    strings = groupby(shape.dots, lambda dot: dot.spot.string)
    frets = " ".join(["-".join([str(dot.spot.fret) for dot in dots]) for _, dots in strings])
    return f"Frets {frets}", f"{low} to {high}{counted(neck)}"


def _hand_shown(shape: Shape) -> Picture:
    """Bare dots; where the hand has one place, the lowest note under the index finger shows it."""
    index = next((dot for dot in shape.dots if dot.finger == 1), None)
    dots = {mark.spot: mark for mark in bare_dots(shape.dots)}
    if index is not None:
        dots[index.spot] = Mark(index.spot, "asked", finger=1)
    return tuple(dots.values())


def _diagram_steps(keys: tuple[Key, ...], shape: Shape, neck: Neck) -> tuple[str, ...]:
    home, key = _home(shape).spot, keys[0]
    return (
        f"this is the {shape_label(shape, neck.tuning)}",
        f"minor tonic at fret {home.fret} of {string_label(neck.tuning, home.string)}",
        *walk(neck, home, key.minor.tonic),
        *(steps_to_relative(key.minor)[1:] if key.mode == "major" else (named_key(key),)),
        *(f"the same frets play {named_key(other)}" for other in keys[1:]),
    )


def _diagram_mixups(keys: tuple[Key, ...], shape: Shape, neck: Neck) -> Iterator[Mixup]:
    key = keys[0]
    # where the major key was asked, the step to it is missing; where the minor one was, the tonic was not recognized
    doubt = relative_fact(key) if key.mode == "major" else diagram_fact(neck, shape.id)
    yield from misnamed(key)
    yield relative_tonic(key, doubt)
    yield relative_given(key, doubt)
    yield in_wrong_mode(key)
    for dot in shape.dots:
        # whoever takes it for another shape puts the tonic elsewhere under the index finger
        if dot.finger == 1 and dot.degree != "1":
            taken = keys_of_sound("minor", neck.pitch_class(dot.spot))[0]
            answer = taken if key.mode == "minor" else taken.relative
            claims: tuple[Claim, ...] = (Holds(1, taken.tonic, dot.spot, shape.index_fret, neck),)
            frame = "{0}, which is the tonic in another shape."
            if key.mode == "major":
                claims, frame = (*claims, Relatives(answer, taken)), "{0}, the minor tonic in another shape; {1}."
            yield Mixup("other shape", answer.name, claims, frame)
    yield from other_owners(shape, key.mode, _from_the_same_note(shape, neck), neck)
    if key.mode == "major":
        yield from wrong_way(key.minor.tonic, key, doubt)
    for each in keys:
        yield from beside(each)


@cache
def _from_the_same_note(shape: Shape, neck: Neck) -> tuple[Shape, ...]:
    """The other shapes that begin on the same lowest note, each of the key it then belongs to."""
    lowest = shape.dots[0]
    found = []
    for number, degree in enumerate(MINOR_PENTATONIC, start=1):
        tonic = (lowest.note.pitch_class - degree_interval(degree).semitones) % 12
        places = placed(keys_of_sound("minor", tonic)[0], ShapeId(number), neck)
        found += [place for place in places if place.dots[0].spot == lowest.spot and number != shape.number]
    return tuple(found)
