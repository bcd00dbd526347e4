"""The family about links: where the next shape lies up the neck."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from drill.questions.answers import FretAnswer
from drill.questions.card import Ask, Card, Mixup
from drill.questions.facets import Group, group_of
from drill.questions.facts import Fact, next_shape_fact, spot_fact
from drill.questions.family import Family
from drill.questions.in_shapes import KeyAndShape, placed
from drill.questions.picture import shape_picture
from drill.questions.reasons import on_neck, one_off
from drill.questions.scope import Scope
from drill.questions.wording import counted, frets_in_words, named, named_key, shape_label, string_label
from drill.theory.keys import Key
from drill.theory.neck import FRETS_PER_OCTAVE, Neck
from drill.theory.neighbours import next_anchored, next_shape
from drill.theory.shapes import Dot, Shape, ShapeId


class NextShape(Family[KeyAndShape]):
    """From an anchored shape to the next anchored one, or from any of the five ('1' to '5') to its neighbour."""

    id = "next-shape"
    title = "Way to the next shape"
    idea = (
        "A key has several five-note shapes along the neck; "
        "know how far the next one lies and you can climb within the key."
    )
    facet_type = KeyAndShape
    target_s = 2.5
    needs = ("shape-anchor",)

    def spread(self, scope: Scope) -> Iterator[KeyAndShape]:
        for key in scope.keys:
            for name in scope.shapes:
                if _step(key, name, scope.neck):
                    yield KeyAndShape(key, name)

    def facts(self, facets: KeyAndShape, neck: Neck) -> tuple[Fact, ...]:
        _, _, goal = _found(facets, neck)
        return (next_shape_fact(neck, facets.shape), spot_fact(neck, goal.spot))

    def groups(self, facets: KeyAndShape, neck: Neck) -> frozenset[Group]:
        """A shape asked for by its number is still the shape of its string."""
        return super().groups(facets, neck) | {group_of("shape", _found(facets, neck)[0].id)}

    def card(self, facets: KeyAndShape, neck: Neck) -> Card:
        here, there, goal = _found(facets, neck)
        mode = facets.key.mode
        anchored = facets.shape.string is not None
        return Card(
            self.name(facets, neck),
            neck,
            ask=_anchor_ask(facets, here, there, neck) if anchored else _box_ask(facets, here, neck),
            kind=FretAnswer(neck.last_fret),
            accepts=(str(goal.spot.fret),),
            explain=lambda: _anchor_steps(here, goal, neck) if anchored else _box_steps(here, there, goal, neck),
            confuse=lambda: on_neck(neck, _mixups(here, there, goal, neck)),
            draw=lambda: shape_picture((here,), mode),
            draw_answer=lambda: shape_picture((here, there), mode),
        )


def _found(facets: KeyAndShape, neck: Neck) -> tuple[Shape, Shape, Dot]:
    step = _step(facets.key, facets.shape, neck)
    assert step is not None  # spread offers only what this neck holds
    return step


@cache
def _step(key: Key, name: ShapeId, neck: Neck) -> tuple[Shape, Shape, Dot] | None:
    """The shape at its lowest place, the next one up the neck, and the dot whose fret is asked for."""
    here = next(iter(placed(key, name, neck)), None)
    if here is None:
        return None
    if name.string is None:
        there = next_shape(here, neck.tuning)
        goal = there.dots[0]
    else:
        strings = neck.tuning.anchor_strings
        if here.anchor_string not in strings or len(strings) < 2:
            return None
        there = next_anchored(here, neck.tuning, strings[(strings.index(here.anchor_string) + 1) % len(strings)])
        goal = there.anchor_dot("minor")
    return (here, there, goal) if there.highest_fret <= neck.last_fret else None


# -- the two shapes ----------------------------------------------------------------------------------------------------


def _anchor_ask(facets: KeyAndShape, here: Shape, there: Shape, neck: Neck) -> Ask:
    place = f"{shape_label(here, neck.tuning)} at {here.index_fret}{counted(neck)}"
    return Ask(named_key(facets.key), place, f"Index fret, next {shape_label(there, neck.tuning)} up?")


def _anchor_steps(here: Shape, goal: Dot, neck: Neck) -> tuple[str, ...]:
    top, where = here.highest_fret, string_label(neck.tuning, goal.spot.string)
    apart = goal.spot.fret - top
    return (
        f"it reaches from fret {here.lowest_fret} to {top}",
        f"next index fret: {frets_in_words(apart)} above that",
        f"{top} + {apart} = {goal.spot.fret}: {named(goal.note)} on {where}",
    )


# -- the five shapes ---------------------------------------------------------------------------------------------------


def _box_ask(facets: KeyAndShape, here: Shape, neck: Neck) -> Ask:
    place = f"{shape_label(here, neck.tuning)}, lowest note at {here.dots[0].spot.fret}{counted(neck)}"
    return Ask(named_key(facets.key), place, "Lowest note's fret, next shape up?")


def _box_steps(here: Shape, there: Shape, goal: Dot, neck: Neck) -> tuple[str, ...]:
    string = here.dots[0].spot.string
    lower, upper = (f"{named(dot.note)} at {dot.spot.fret}" for dot in here.dots[:2])
    return (
        "its upper notes begin the next shape",
        f"string {string}: {lower}, {upper}",
        f"from {goal.spot.fret}: the {shape_label(there, neck.tuning)}",
    )


def _mixups(here: Shape, there: Shape, goal: Dot, neck: Neck) -> Iterator[Mixup]:
    this, following = (shape_label(shape, neck.tuning) for shape in (here, there))
    fret, again = goal.spot.fret, here.index_fret + FRETS_PER_OCTAVE
    below = fret - FRETS_PER_OCTAVE
    yield Mixup("wrong way", str(below), f"There it lies below the {this}; the next one up was asked.")
    yield Mixup("other shape", str(again), "There the same shape comes again, an octave up.")
    if there.anchor_string and here.anchor_string:
        back = again - there.index_fret
        away = FRETS_PER_OCTAVE - back
        sentence = f"{frets_in_words(back)} lead from the {following} up to the {this}; this way it is {away}."
        yield Mixup("other shape", str(here.index_fret + back), sentence)
    if there.anchor_string == goal.spot.string and there.index_fret == fret:
        yield Mixup("wrong finger", str(fret + 3), "That is the little finger's fret; the index is three frets lower.")
    yield from one_off(neck, (goal.spot,))
