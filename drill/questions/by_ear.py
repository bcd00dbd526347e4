"""Which cards can be answered by playing, and what has to be heard for the whole answer.

A microphone hears pitches: neither a string nor a finger, neither minor nor major. So a family stands in HEARD only if
one note, or two in turn, tell its whole answer; everything else is typed. What is right follows from the card, its neck
and theory; no answer is listed.

    playing(card)        what to play, None where the answer has to be typed
    typed_instead        the answer that a wrong note comes to, where it comes to one
    strings_of           the strings on which a pitch can be played
    string_is_open       whether a right note leaves open on which string it was played

>>> from drill.questions.catalogue import FAMILIES, read_card_id
>>> from drill.theory.neck import STANDARD, Neck
>>> neck = Neck(STANDARD)
>>> card = FAMILIES["shape-anchor"].card(read_card_id("shape-anchor:key=Am:shape=string-5").facets, neck)
>>> index, lowest = playing(card).notes
>>> [midi in index for midi in (57, 69, 64)], [midi in lowest for midi in (52, 57)]
([True, True, False], [True, False])
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from drill.questions.answers import FingerAnswer, FretAnswer, KeyAnswer
from drill.questions.card import Card
from drill.questions.facets import shape_of
from drill.questions.in_shapes import placed
from drill.theory.keys import parse_tonic
from drill.theory.neck import FRETS_PER_OCTAVE, Neck, Spot, names_of
from drill.theory.shapes import Dot, Shape, five_shapes

MIDI_NUMBERS = range(128)
Notes = Mapping[int, str]
"""The MIDI numbers that are right, each with the canonical answer that it gives."""


class Playing(NamedTuple):
    """What answers a card by ear: one note or two in turn, and what each is called."""

    notes: tuple[Notes, ...]
    names: tuple[str, ...]

    @property
    def words(self) -> str:
        """What to play, in words."""
        return ", then ".join(self.names)


class Hearing(NamedTuple):
    """How a family is heard: `notes` gives no notes for a card of it that cannot be."""

    names: tuple[str, ...]
    notes: Callable[[Card], tuple[Notes, ...]]


def playing(card: Card) -> Playing | None:
    """What to play for the whole answer; None if a guitar cannot give it, and it has to be typed."""
    heard = HEARD.get(card.family)
    notes = heard.notes(card) if heard else ()
    return Playing(notes, heard.names) if heard and notes else None


def typed_instead(card: Card, midi: int) -> str:
    """The canonical answer of a wrong first note; empty where it comes to none, as off the string that was asked."""
    kind, pitch_class = card.kind, midi % FRETS_PER_OCTAVE
    if isinstance(kind, KeyAnswer):
        return f"{names_of(pitch_class)[0].name} {kind.mode}"
    if isinstance(kind, FretAnswer) and kind.string is not None:
        spot = Spot(kind.string, card.neck.fret_of(kind.string, midi))
        return str(spot.fret) if card.neck.holds(spot) and str(spot.fret) not in card.accepts else ""
    if isinstance(kind, FingerAnswer):
        found = (dot for dot in _dots(card) if dot.note.pitch_class == pitch_class)
        return next((str(dot.finger) for dot in found), "")
    return ""


def strings_of(neck: Neck, midi: int) -> tuple[int, ...]:
    """The strings on which a pitch can be played; only where there is one does the pitch tell its string."""
    return tuple(string for string in neck.tuning.strings if neck.holds(Spot(string, neck.fret_of(string, midi))))


def string_is_open(card: Card, midi: int) -> bool:
    """Whether a card asks for a note on one string, and this pitch could have been played on another as well."""
    return card.family in ON_ONE_STRING and len(strings_of(card.neck, midi)) > 1


# -- what is heard, family by family -----------------------------------------------------------------------------------


def _everywhere(answers: Mapping[int, str]) -> Notes:
    """Each of these pitch classes in every octave."""
    return {midi: answers[midi % FRETS_PER_OCTAVE] for midi in MIDI_NUMBERS if midi % FRETS_PER_OCTAVE in answers}


def _tonic_anywhere(card: Card) -> tuple[Notes, ...]:
    """The tonic of any accepted key, of two names for one sound the first."""
    tonics = {parse_tonic(answer)[0].pitch_class: answer for answer in reversed(card.accepts)}
    return (_everywhere(tonics),)


def _on_its_string(card: Card) -> tuple[Notes, ...]:
    """The very pitches that the accepted frets sound on the string that was asked."""
    assert isinstance(card.kind, FretAnswer) and card.kind.string is not None
    return ({card.neck.sounding(Spot(card.kind.string, int(fret))): fret for fret in card.accepts},)


def _both_octaves(card: Card) -> tuple[Notes, ...]:
    """The note that the question names, then the same an octave up."""
    (octave,) = _on_its_string(card)
    return ({midi - FRETS_PER_OCTAVE: answer for midi, answer in octave.items()}, octave)


def _index_then_lowest(card: Card) -> tuple[Notes, ...]:
    """The note under the index finger, then the lowest of the shape; none if another shape has the same pair."""
    places = _places(card)
    pairs = [_pair(shape, card.neck) for shape in five_shapes(places[0].key, card.neck.tuning, card.neck.capo)]
    index, lowest = pair = _pair(places[0], card.neck)
    if pairs.count(pair) > 1:
        return ()
    return _everywhere({index: card.accepts[0]}), _everywhere({lowest: card.accepts[0]})


def _pair(shape: Shape, neck: Neck) -> tuple[int, int]:
    """The sound of the anchor and of the lowest note under the hand; of a shape without an anchor no possible sound."""
    anchor = shape.anchor_dot("minor").note.pitch_class if shape.anchor_string else -shape.number
    return anchor, min(map(neck.sounding, (dot.spot for dot in shape.dots))) % FRETS_PER_OCTAVE


def _next_anchor(card: Card) -> tuple[Notes, ...]:
    """The index note of the next anchored shape; none where it sounds just like the one that the question begins at."""
    here, shape = _places(card)[0], shape_of(card.facets)
    (goal,) = _on_its_string(card)
    if shape is None or shape.string is None or card.neck.sounding(here.anchor_dot("minor").spot) in goal:
        return ()
    return (goal,)


def _chord_tone(card: Card) -> tuple[Notes, ...]:
    """The name of the dot on the string that is in the chord."""
    return (_everywhere({dot.note.pitch_class: str(dot.finger) for dot in _dots(card) if _is_right(dot, card)}),)


def _is_right(dot: Dot, card: Card) -> bool:
    return str(dot.finger) in card.accepts


def _dots(card: Card) -> tuple[Dot, ...]:
    """The dots that the shape of the card has on its string."""
    return tuple(dot for dot in _places(card)[0].dots if dot.spot.string == getattr(card.facets, "string", None))


def _places(card: Card) -> tuple[Shape, ...]:
    shape = shape_of(card.facets)
    assert shape is not None
    return placed(getattr(card.facets, "key"), shape, card.neck)  # noqa: B009 - the facets of shape families have it


_TONIC = Hearing(("the tonic, anywhere on the neck",), _tonic_anywhere)

ON_ONE_STRING = ("fret-of-note", "tonic-fret")
"""The families that ask for the note on a string; what is heard of it is the note."""
HEARD: dict[str, Hearing] = {
    "fret-of-note": Hearing(("the note on that string",), _on_its_string),
    "tonic-octave": Hearing(("the note", "its octave"), _both_octaves),
    "relative-minor": _TONIC,
    "relative-major": _TONIC,
    "signature-key": _TONIC,
    "tonic-fret": Hearing(("the tonic on that string",), _on_its_string),
    "shape-anchor": Hearing(("the index note", "the lowest note under the same hand"), _index_then_lowest),
    "other-tonic": Hearing(("the other tonic on that string",), _on_its_string),
    "neck-diagram": _TONIC,
    "next-shape": Hearing(("the index note of the next shape",), _next_anchor),
    "loop-tonic": _TONIC,
    "chord-tone": Hearing(("the chord tone",), _chord_tone),
}
"""The families that are heard, in the order in which they are taught. In all others nothing that sounds is the answer:
a name of the note that is being played, a letter, a finger, a degree, a number of sharps or flats; and a chord is more
than its root."""
