"""Inside a shape: a finger, a string or a degree taken for another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from drill.questions.facts import Fact
from drill.questions.mixups.claims import LiesAt
from drill.questions.mixups.mixup import Mixup
from drill.questions.mixups.shape_claims import (
    BelongsTo,
    DegreeBeside,
    DegreeInOther,
    DegreeSemitones,
    DegreeSign,
    DegreeUnder,
    FingerNumber,
    Holds,
    HoldsNothing,
    NoteOfFive,
)
from drill.questions.wording import FINGERS
from drill.theory.keys import Mode
from drill.theory.neck import Neck
from drill.theory.scales import MINOR_PENTATONIC, degree_interval
from drill.theory.shapes import Dot, Shape, degree_in

_FOURTH_AND_FIFTH = {"4": "5", "5": "4"}


def held(dot: Dot, shape: Shape, neck: Neck) -> Holds:
    """What a finger of the shape holds."""
    assert dot.finger is not None  # only shapes of one fingering are asked about fingers
    return Holds(dot.finger, dot.note, dot.spot, shape.index_fret, neck)


def idle_fingers(shape: Shape, string: int, neck: Neck) -> Iterator[Mixup]:
    """Fingers that have no note of the shape on a string."""
    busy = {dot.finger for dot in shape.dots if dot.spot.string == string}
    for finger in FINGERS:
        if finger not in busy:
            yield Mixup("finger without a note", str(finger), (HoldsNothing(finger, string, shape, neck),))


def other_finger(dot: Dot, shape: Shape, neck: Neck, fact: Fact) -> Mixup:
    """The finger on the other tonic of the shape."""
    return Mixup("wrong finger", str(dot.finger), (held(dot, shape, neck),), "{0}, the other tonic.", fact)


# -- whose shape it is -------------------------------------------------------------------------------------------------


def other_owners(shape: Shape, mode: Mode, others: Iterable[Shape], neck: Neck) -> Iterator[Mixup]:
    """Keys of the shapes that begin on the same lowest note, and the key of that note itself."""
    for taken in others:
        key = taken.key if mode == "minor" else taken.key.relative
        yield Mixup("other shape", key.name, (BelongsTo(taken, neck),), "{0}; the drawn shape is another.")
    lowest = shape.dots[0]
    answer = f"{lowest.note.name} {mode}"
    claim = LiesAt(lowest.note, neck, lowest.spot)
    yield Mixup("lowest note for tonic", answer, (claim,), "{0}, the lowest note of the shape but not its tonic.")


# -- degrees -----------------------------------------------------------------------------------------------------------


def wrong_degrees(
    dot: Dot, shape: Shape, played: tuple[Dot, ...], others: Iterable[Shape], mode: Mode, neck: Neck
) -> Iterator[Mixup]:
    """What is taken for the degree under a finger. `others` are the other shapes that are asked about."""
    right, relative = degree_in(mode, dot.degree), _other(mode)
    from_other = DegreeInOther(degree_in(relative, dot.degree), relative, right)
    yield Mixup("other tonic", from_other.degree, (from_other,), "{0}, which was not asked for.")
    for near in played:
        if near.spot.string == dot.spot.string and near != dot:
            claim = _under(near, shape, mode, neck)
            yield Mixup("wrong finger", claim.degree, (claim,))
    for near in played:
        if abs(near.spot.string - dot.spot.string) == 1 and near.finger == dot.finger:
            claim = _under(near, shape, mode, neck)
            yield Mixup("other string", claim.degree, (claim,), "{0}, the string next to it.")
    yield from _beside(right, mode)
    yield from _other_signs(right)
    for other in others:
        for near in other.dots:
            if near.spot.string == dot.spot.string and near.finger == dot.finger:
                claim = _under(near, other, mode, neck, elsewhere=True)
                yield Mixup("other shape", claim.degree, (claim,))
    if right in _FOURTH_AND_FIFTH:
        claims = tuple(DegreeSemitones(each, degree_interval(each).semitones % 12) for each in ("4", "5"))
        yield Mixup("fourth for fifth", _FOURTH_AND_FIFTH[right], claims, "{0}, {1}.")
    yield from _note_of_five(right, mode)
    assert dot.finger is not None
    yield Mixup("question given back", str(dot.finger), (FingerNumber(dot.finger),), "{0}, not the degree.")


def _other(mode: Mode) -> Mode:
    return "major" if mode == "minor" else "minor"


def _under(dot: Dot, shape: Shape, mode: Mode, neck: Neck, *, elsewhere: bool = False) -> DegreeUnder:
    assert dot.finger is not None
    return DegreeUnder(degree_in(mode, dot.degree), mode, dot.finger, dot.spot.string, shape, neck, elsewhere)


def _beside(right: str, mode: Mode) -> Iterator[Mixup]:
    """The notes of the five-note scale beside a degree; the blue note lies between fourth and fifth."""
    five = _five(mode)
    low = [degree for degree in five if _semitones(degree) < _semitones(right)]
    high = [degree for degree in five if _semitones(degree) > _semitones(right)]
    for degree, up in (((low or five)[-1], False), ((high or five)[0], True)):
        yield Mixup("next degree", degree, (DegreeBeside(degree, right, mode, up),))


def _five(mode: Mode) -> list[str]:
    """The degrees of the five-note scale from the tonic up."""
    return sorted((degree_in(mode, degree) for degree in MINOR_PENTATONIC), key=_semitones)


def _note_of_five(right: str, mode: Mode) -> Iterator[Mixup]:
    """The place among the five notes, given for the degree, which counts all seven."""
    five = _five(mode)
    if right in five:
        place = five.index(right) + 1
        claim = NoteOfFive(place, right, mode)
        yield Mixup("note for degree", str(place), (claim,), "{0}, but degrees count all seven.")


def _other_signs(right: str) -> Iterator[Mixup]:
    number = right.lstrip("b#")
    if number != right:
        yield Mixup("sign left out", number, (DegreeSign(number, right),))
        flipped = ("#" if right[0] == "b" else "b") + number
        yield Mixup("sharp for flat", flipped, (DegreeSign(flipped, right),))
    elif number != "1":
        for sign in "b#":
            yield Mixup("sign added", sign + number, (DegreeSign(sign + number, right),))


def _semitones(degree: str) -> int:
    return degree_interval(degree).semitones % 12
