"""Which key or keys a chord loop is in, why, and where to put the finger. As text with a neck, or as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from drill.lookup.keys import KeyView, anchor_object, anchor_sentences, dot_object, legend
from drill.present.neck_drawing import Look, draw, plain
from drill.questions.loop_sentences import evidence_clause, evidence_sentences
from drill.questions.wording import named_key, to_ascii, to_screen
from drill.system.text import wrapped
from drill.theory.chords import Chord
from drill.theory.keys import Key
from drill.theory.landing import inside_and_outside, tones_inside
from drill.theory.loops import Fit, LoopReading, analyse_loop
from drill.theory.names import NoteLanguage, show_note
from drill.theory.neck import Neck


class LoopView(NamedTuple):
    """The reading of a loop, and each accepted key laid out on a neck, likeliest first."""

    reading: LoopReading
    views: tuple[KeyView, ...]

    @classmethod
    def of(cls, chords: tuple[Chord, ...], neck: Neck) -> LoopView:
        """Read the loop; raises `UsageProblem` for an empty or an endless one."""
        reading = analyse_loop(chords)
        return cls(reading, tuple(KeyView.of(key, neck) for key in reading.keys))

    def by_shapes(self) -> tuple[tuple[tuple[Key, ...], KeyView], ...]:
        """The keys grouped by the shapes they share, as relatives do, each group with one layout."""
        groups: dict[Key, list[KeyView]] = {}
        for view in self.views:
            groups.setdefault(view.key.minor, []).append(view)
        return tuple((tuple(view.key for view in views), views[0]) for views in groups.values())


def loop_lines(view: LoopView, look: Look, *, width: int | None) -> Iterator[str]:
    """A loop as sentences, then for each hand position a neck with both anchor shapes and the chord tones in them."""
    for sentence in reading_sentences(view, look):
        yield from wrapped(sentence, width)
    for keys, layout in view.by_shapes():
        names = " and ".join(key.shown_in(look.language) for key in keys)
        yield ""
        for sentence in (f"{names}:", *anchor_sentences(layout, look)):
            yield from wrapped(sentence, width)
        yield ""
        yield plain(draw(layout.neck, layout.picture, look, width=width, home=layout.home))
        yield ""
        for sentence in landing_sentences(view.reading.chords, layout.key, look.language):
            yield from wrapped(sentence, width)
    yield from wrapped(legend(view.views[0], look), width)


def reading_sentences(view: LoopView, look: Look) -> Iterator[str]:
    """Which key or keys the loop is in, and why."""
    names = " ".join(chord.shown_in(look.language) for chord in view.reading.chords)
    yield f"{names}: {' or '.join(key.shown_in(look.language) for key in view.reading.keys)}"
    yield from (to_screen(sentence, look.language) for sentence in _because(view.reading))


def _because(reading: LoopReading) -> Iterator[str]:
    """What each key makes of the loop, what follows, and the second opinion of the note counts."""
    yield from evidence_sentences(reading)
    yield _conclusion(reading)
    (first, best), (second, next_best), *_ = reading.profile
    yield (
        f"By note counts alone (Krumhansl-Kessler), {named_key(first)} ranks first ({best:.2f}) "
        f"and {named_key(second)} second ({next_best:.2f})."
    )


def _conclusion(reading: LoopReading) -> str:
    if not reading.is_open:
        return f"So the key is {named_key(reading.keys[0])}."
    both = "both " if len(reading.keys) == 2 else ""
    keys = _listed([named_key(key) for key in reading.keys], "and")
    likeliest = f" {named_key(reading.likeliest)} is more likely." if reading.likeliest else ""
    return f"The chords fit {both}{keys}; it depends on which chord feels like home.{likeliest}"


def loop_object(view: LoopView) -> dict[str, Any]:
    """A loop as one JSON object; its keys are listed in the README."""
    reading = view.reading
    return {
        "loop": [chord.name for chord in reading.chords],
        "open": reading.is_open,
        "keys": [_fit_object(fit, layout) for fit, layout in zip(reading.fits, view.views, strict=True)],
        "because": [to_ascii(sentence) for sentence in _because(reading)],
        "profile": [{"key": key.name, "correlation": round(fit, 4)} for key, fit in reading.profile],
    }


def landing_sentences(chords: tuple[Chord, ...], key: Key, language: NoteLanguage) -> Iterator[str]:
    """For each chord of the loop, which of its notes the pentatonic of the key contains and which it does not."""
    for chord in dict.fromkeys(chords):
        inside, outside = ([show_note(note, language) for note in notes] for notes in inside_and_outside(chord, key))
        contains = f"contains {_listed(inside, 'and')}" if inside else "contains none of its notes"
        missing = f" but not {_listed(outside, 'or')}" if inside and outside else ""
        yield f"over {chord.shown_in(language)}: the pentatonic {contains}{missing}"


def _listed(words: Sequence[str], conjunction: str) -> str:
    """One or more words as a sentence lists them: 'A', 'A and C', 'A, C and E'."""
    *others, last = words
    return f"{', '.join(others)} {conjunction} {last}" if others else last


def _fit_object(fit: Fit, layout: KeyView) -> dict[str, Any]:
    return {
        "key": fit.key.name,
        "numerals": list(fit.numerals),
        "evidence": [
            {"clause": to_ascii(evidence_clause(each, fit.key)), "weight": each.weight} for each in fit.evidence
        ],
        "anchors": [anchor_object(layout, shape) for shape in layout.anchors],
        "chords": [_chord_object(chord, layout) for chord in dict.fromkeys(fit.chords)],
        "no_shapes": layout.no_shapes or None,
    }


def _chord_object(chord: Chord, layout: KeyView) -> dict[str, Any]:
    inside, outside = inside_and_outside(chord, layout.key)
    return {
        "chord": chord.name,
        "notes": [note.name for note in chord.notes],
        "inside": [note.name for note in inside],
        "outside": [note.name for note in outside],
        "tones": [
            {"shape": shape.id, "of_chord": tone.degree, **dot_object(layout, tone.dot)}
            for shape in layout.placements_of(*layout.anchors)
            for tone in tones_inside(shape, chord)
        ],
    }
