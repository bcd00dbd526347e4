"""The family about links: where the next shape lies up the neck."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from drill.questions.answers import FretAnswer
from drill.questions.card import Ask, Card
from drill.questions.facets import Group, group_of
from drill.questions.facts import Fact, next_shape_fact, spot_fact
from drill.questions.family import Family
from drill.questions.in_shapes import KeyAndShape, placed
from drill.questions.mixups.claims import FretsApart
from drill.questions.mixups.frets import given_back, on_neck, one_off, sounds
from drill.questions.mixups.mixup import Mixup, MixupName
from drill.questions.mixups.shape_claims import BeginsAt, EdgeOf, IndexAt, TwoWays
from drill.questions.mixups.shapes import held
from drill.questions.picture import shape_picture
from drill.questions.scope import Scope
from drill.questions.wording import counted, frets_in_words, named, named_key, shape_label, string_label
from drill.theory.keys import Key
from drill.theory.neck import FRETS_PER_OCTAVE, Neck, Spot
from drill.theory.neighbours import next_anchored, next_shape
from drill.theory.scales import MINOR_PENTATONIC
from drill.theory.shapes import Dot, Shape, ShapeId, raised, shape_at


class NextShape(Family[KeyAndShape]):
    """From an anchored shape to the next anchored one, or from any of the five ('1' to '5') to its neighbour."""

    id = "next-shape"
    title = "Way to the next shape"
    idea = (
        "A key has several five-note shapes along the neck; "
        "know how far the next one lies and you can climb within the key."
    )
    facet_type = KeyAndShape
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
        asked = _anchor_ask(facets, here, there, neck) if anchored else _box_ask(facets, here, neck)
        short = f"Next {shape_label(there, neck.tuning)} up?" if anchored else "Lowest note, next shape up?"
        return Card(
            self.name(facets, neck),
            neck,
            ask=asked._replace(place=counted(neck).removeprefix(", "), ask=short),
            kind=FretAnswer(neck.last_fret, goal.spot.string),
            accepts=(str(goal.spot.fret),),
            explain=lambda: _anchor_steps(here, goal, neck) if anchored else _box_steps(here, there, goal, neck),
            confuse=lambda: on_neck(neck, (_anchor_mixups if anchored else _box_mixups)(here, there, goal, neck)),
            draw=lambda: shape_picture((here,), mode),
            draw_answer=lambda: shape_picture((here, there), mode),
            unseen=asked,
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


# -- what goes wrong ---------------------------------------------------------------------------------------------------


def _anchor_mixups(here: Shape, there: Shape, goal: Dot, neck: Neck) -> Iterator[Mixup]:
    fret, again = goal.spot.fret, raised(here, FRETS_PER_OCTAVE)
    below, back = fret - FRETS_PER_OCTAVE, again.index_fret - there.index_fret
    taken = Spot(goal.spot.string, here.index_fret + back)
    yield given_back(here.index_fret)
    yield Mixup("wrong way", str(below), (FretsApart(below, fret),), "{0}; the next one up was asked.")
    yield Mixup("other shape", str(again.index_fret), (IndexAt(again, neck),), "{0}, the same one an octave up.")
    ways = TwoWays(here, there, FRETS_PER_OCTAVE - back, back, neck)
    yield Mixup("other shape", str(here.index_fret + back), (sounds(neck, taken), ways), "{0}; {1}.")
    nearer = next_shape(here, neck.tuning)
    if nearer.number != there.number:
        edge = EdgeOf(nearer, neck, nearer.lowest_fret, highest=False)
        yield Mixup("other shape", str(nearer.lowest_fret), (edge,), "{0}, one shape too near.")
    little = there.anchor_dot("major")
    yield Mixup("wrong finger", str(little.spot.fret), (held(little, there, neck),), "{0} there; the index was asked.")
    yield _stopped_at_the_top(here, neck)
    yield from one_off(neck, (goal.spot,))


def _box_mixups(here: Shape, there: Shape, goal: Dot, neck: Neck) -> Iterator[Mixup]:
    """A shape too far, the wrong way, or another measure than its lowest note."""
    before = _before(here, neck)
    below = goal.spot.fret - FRETS_PER_OCTAVE
    yield given_back(here.dots[0].spot.fret)
    yield _begins("wrong way", before, neck, "{0}, but the next one up was asked.")
    yield Mixup("wrong way", str(below), (FretsApart(below, goal.spot.fret),), "{0}; the next one up was asked.")
    yield _begins("other shape", raised(here, FRETS_PER_OCTAVE), neck, "{0}, the same one an octave up.")
    yield _begins("other shape", next_shape(there, neck.tuning), neck, "{0}, one shape too far.")
    lowest = EdgeOf(there, neck, there.lowest_fret, highest=False)
    frame = "{0}, but on this string it begins elsewhere."
    yield Mixup("lowest fret for lowest note", str(there.lowest_fret), (lowest,), frame)
    yield _stopped_at_the_top(here, neck)
    yield from one_off(neck, (goal.spot,))


def _before(shape: Shape, neck: Neck) -> Shape:
    """The shape whose upper notes are this one's lower notes; it may lie below the nut."""
    count = len(MINOR_PENTATONIC)
    lower = shape_at(shape.key, neck.tuning, (shape.number - 2) % count + 1, neck.capo)
    return raised(lower, shape.dots[0].spot.fret - lower.dots[1].spot.fret)


def _begins(name: MixupName, shape: Shape, neck: Neck, frame: str) -> Mixup:
    return Mixup(name, str(shape.dots[0].spot.fret), (BeginsAt(shape, neck),), frame)


def _stopped_at_the_top(here: Shape, neck: Neck) -> Mixup:
    top = EdgeOf(here, neck, here.highest_fret, highest=True)
    return Mixup("top for the next", str(here.highest_fret), (top,), "{0}, not where the next one lies.")
