"""Any scale on the neck: every note of it, or its patterns under the hand. As text with a neck, or as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from drill.errors import UsageProblem
from drill.lookup.keys import bare_dot_object
from drill.present.figures import how_many
from drill.present.neck_drawing import Look, draw, plain, show_degree
from drill.questions.picture import Mark, Picture, Role
from drill.questions.wording import FINGERS, named, to_screen
from drill.system.text import wrapped
from drill.theory.names import show_note
from drill.theory.neck import Neck
from drill.theory.pitch import Note
from drill.theory.positions import fingerings
from drill.theory.scales import SCALES, Formula, find_scale, scale_mode, spell
from drill.theory.shapes import Dot, Pattern, finger_at, per_string

COUNTS = (2, 3)
"""How many notes per string a pattern may have."""


class ScalePattern(NamedTuple):
    """A pattern with its heading, and the alternatives that are equally good in its place."""

    heading: str
    pattern: Pattern
    alternatives: tuple[Pattern, ...] = ()

    @property
    def all(self) -> tuple[Pattern, ...]:
        """The pattern and its alternatives."""
        return (self.pattern, *self.alternatives)

    @property
    def choices(self) -> tuple[tuple[Dot, ...], ...]:
        """Every note that has several places, with these places; each note can be chosen on its own."""
        tones = zip(*(pattern.dots for pattern in self.all), strict=True)
        return tuple(places for dots in tones if len(places := tuple(dict.fromkeys(dots))) > 1)


class ScaleView(NamedTuple):
    """A scale laid out on a neck: all its notes, or patterns of it."""

    tonic: Note
    name: str
    neck: Neck
    patterns: tuple[ScalePattern, ...] = ()

    @classmethod
    def of(
        cls, tonic: Note, name: str, neck: Neck, *, count: int | None = None, index_fret: int | None = None
    ) -> ScaleView:
        """Lay the scale out: `count` notes per string, or under the hand at `index_fret`, or all over the neck.

        Raises `UnknownName` for an unknown scale, `UsageProblem` for patterns that do not fit on the neck, or on a
        tuning whose strings lie too far apart.
        """
        name = find_scale(name)
        formula = SCALES[name]
        if count is not None:
            patterns = tuple(_per_string(tonic, formula, neck, count))
            if not patterns:
                raise _no_room_per_string(tonic, name, neck, count)
        elif index_fret is not None:
            patterns = tuple(_under_the_hand(tonic, formula, neck, index_fret))
            if not patterns:
                raise _no_room_for_the_hand(tonic, name, neck, index_fret)
        else:
            patterns = ()
        return cls(tonic, name, neck, patterns)

    @property
    def notes(self) -> tuple[Note, ...]:
        """The scale spelled, from its tonic up."""
        return spell(self.tonic, SCALES[self.name])

    @property
    def all_dots(self) -> tuple[Dot, ...]:
        """Every spot of the neck that sounds a note of the scale."""
        tones = zip(self.notes, SCALES[self.name], strict=True)
        return tuple(
            Dot(spot, note, degree, None) for note, degree in tones for spot in self.neck.spots_of(note.pitch_class)
        )


def scale_lines(view: ScaleView, look: Look, width: int | None) -> Iterator[str]:
    """The scale spelled, then a neck with all of it, or one neck for each pattern."""
    yield from wrapped(f"{show_note(view.tonic, look.language)} {view.name}: {spelled(view, look)}", width)
    for each in view.patterns:
        yield ""
        yield from wrapped(each.heading, width)
        yield plain(draw(view.neck, scale_picture(view, each.pattern.dots), look, width=width))
        for sentence in _alternatives(each, look):
            yield from wrapped(sentence, width)
    if not view.patterns:
        yield ""
        yield plain(draw(view.neck, scale_picture(view, view.all_dots), look, width=width))


def spelled(view: ScaleView, look: Look) -> str:
    """The notes of a scale and its degrees: 'A C D E G (1 ♭3 4 5 ♭7)'."""
    notes = " ".join(show_note(note, look.language) for note in view.notes)
    return f"{notes} ({' '.join(show_degree(degree) for degree in SCALES[view.name])})"


def scale_object(view: ScaleView) -> dict[str, Any]:
    """A scale as one JSON object; its keys are told in `cli.reference.objects`."""
    return {
        "scale": view.name,
        "tonic": view.tonic.name,
        "degrees": list(SCALES[view.name]),
        "notes": [note.name for note in view.notes],
        "tuning": view.neck.tuning.id,
        "spots": [bare_dot_object(dot) for dot in view.all_dots],
        "patterns": [_pattern_object(pattern) for each in view.patterns for pattern in each.all],
    }


def _pattern_object(pattern: Pattern) -> dict[str, Any]:
    return {
        "index_frets": list(pattern.index_frets),
        "stretches": pattern.stretches,
        "dots": [bare_dot_object(dot) for dot in pattern.dots],
    }


def _per_string(tonic: Note, formula: Formula, neck: Neck, count: int) -> Iterator[ScalePattern]:
    """One pattern from each scale tone, at its lowest place that fits on the neck without open strings."""
    for start, degree in enumerate(formula):
        octaves = (per_string(tonic, formula, neck, start, count, octave) for octave in (-1, 0, 1))
        fitting = (pattern for pattern in octaves if all(_under_a_finger(dot, neck) for dot in pattern.dots))
        if pattern := next(fitting, None):
            yield ScalePattern(f"from the {show_degree(degree)}, {count} notes per string: {_hand(pattern)}", pattern)


def _no_room_per_string(tonic: Note, name: str, neck: Neck, count: int) -> UsageProblem:
    """No pattern fits; says what does instead: another count, or the scale of seven notes."""

    def fits(scale: str, number: int) -> bool:
        return any(_per_string(tonic, SCALES[scale], neck, number))

    seven = "natural minor" if scale_mode(name) == "minor" else "major"
    ways = [f"--per-string {number}" for number in COUNTS if fits(name, number)]
    ways += [f'--per-string {count} --scale "{seven}"'] if fits(seven, count) else []
    return UsageProblem(
        f"No pattern of the {name} scale with {count} notes per string fits on frets 1 to {neck.last_fret}.",
        f"Use {' or '.join(ways)}." if ways else "Leave out --per-string to see the scale all over the neck.",
    )


def _no_room_for_the_hand(tonic: Note, name: str, neck: Neck, index_fret: int) -> UsageProblem:
    """The scale does not fit under the hand there; says up to which fret it does."""
    fitting = [fret for fret in range(1, neck.last_fret) if fingerings(tonic, SCALES[name], neck, fret)]
    return UsageProblem(
        f"The {name} scale does not fit under a hand with the index finger at fret {index_fret} "
        f"on a neck of {neck.last_fret} frets.",
        f"It fits up to --index-fret {fitting[-1]}." if fitting else "",
    )


def _under_a_finger(dot: Dot, neck: Neck) -> bool:
    return neck.holds(dot.spot) and dot.spot.fret > 0


def _under_the_hand(tonic: Note, formula: Formula, neck: Neck, index_fret: int) -> Iterator[ScalePattern]:
    """The fingering with the fewest stretches, if there is one, with its alternatives."""
    found = fingerings(tonic, formula, neck, index_fret)
    if found:
        yield ScalePattern(f"index finger at fret {index_fret}: {_stretches(found[0])}", found[0], found[1:])


def _alternatives(each: ScalePattern, look: Look) -> Iterator[str]:
    """How many fingerings are equally good, and where they differ from the one that is drawn."""
    if not each.alternatives:
        return
    others = how_many(len(each.alternatives), "other fingering works", "other fingerings work")
    yield f"{others} equally well. You can choose:"
    for places in each.choices:
        ways = " or ".join(_way(dot) for dot in places)
        yield to_screen(f"    {named(places[0].note)}: {ways}", look.language)


def _way(dot: Dot) -> str:
    if dot.spot.fret == 0:
        return f"string {dot.spot.string} open"
    finger = f" ({FINGERS[dot.finger]} finger)" if dot.finger else ""
    return f"string {dot.spot.string} fret {dot.spot.fret}{finger}"


def _hand(pattern: Pattern) -> str:
    """Where the hand lies, where two places are equally good, or that it has to shift."""
    frets = [dot.spot.fret for dot in pattern.dots]
    if any(finger_at(fret, (index,)) is None for fret in frets for index in pattern.index_frets):
        return "the hand shifts"
    tie = ", equally good" if len(pattern.index_frets) > 1 else ""
    return f"index fret {' or '.join(map(str, pattern.index_frets))}{tie}"


def _stretches(pattern: Pattern) -> str:
    return how_many(pattern.stretches, "stretch", "stretches") if pattern.stretches else "no stretch"


def scale_picture(view: ScaleView, dots: tuple[Dot, ...]) -> Picture:
    """These dots of a scale, its tonic marked."""
    tonic: Role = "minor tonic" if scale_mode(view.name) == "minor" else "major tonic"
    return tuple(
        Mark(dot.spot, tonic if dot.degree == "1" else "note", dot.note, dot.degree, dot.finger) for dot in dots
    )
