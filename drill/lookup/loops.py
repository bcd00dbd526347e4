"""Which key or keys a chord loop is heard in, where to put the finger, and why. As text with a neck, or as JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from drill.lookup.charts import Chart
from drill.lookup.keys import TOO_FEW_FRETS, KeyView, anchor_object, dot_object, legend
from drill.present.figures import per_cent
from drill.present.neck_drawing import Look, draw, plain
from drill.questions.loop_sentences import evidence_clause, evidence_sentences, named_fit
from drill.questions.wording import (
    capital,
    named,
    named_chord,
    named_key,
    named_notes,
    shape_label,
    to_ascii,
    to_screen,
)
from drill.system.text import wrapped
from drill.theory.chords import Chord
from drill.theory.keys import KEYS, Key
from drill.theory.landing import inside_and_outside, tones_inside
from drill.theory.loop_evidence import is_blues
from drill.theory.loops import Fit, LoopReading, analyse_loop
from drill.theory.names import NoteLanguage, joined, show_note
from drill.theory.neck import Neck
from drill.theory.scales import SCALES, spell

_BLUES_PLACES = {0, 5, 7}
"""Where the chords of a blues lie, in semitones above its tonic."""


class LoopView(NamedTuple):
    """The reading of a loop, and each key worth naming laid out on a neck, likeliest first.

    `count_notes` adds the second opinion of the note counts.
    """

    chart: Chart
    reading: LoopReading
    views: tuple[KeyView, ...]
    count_notes: bool = False

    @classmethod
    def of(
        cls, chart: Chart | tuple[Chord, ...], neck: Neck, rests_on: Chord | None = None, count_notes: bool = False
    ) -> LoopView:
        """Read the loop, which rests on `rests_on`, or else where the chart says.

        Raises `UsageProblem` for an empty or too long one.
        """
        chart = (chart if isinstance(chart, Chart) else Chart(chart)).resting_on(rests_on)
        reading = analyse_loop(chart.chords, chart.rests_on, chart.mode)
        return cls(chart, reading, tuple(KeyView.of(key, neck) for key in reading.keys), count_notes)

    def by_shapes(self) -> tuple[tuple[tuple[Fit, ...], KeyView], ...]:
        """The readings grouped by the shapes they share, as relatives do, each group with one layout."""
        groups: dict[Key, list[int]] = {}
        for place, view in enumerate(self.views):
            groups.setdefault(view.key.minor, []).append(place)
        fits = self.reading.fits
        return tuple((tuple(fits[place] for place in places), self.views[places[0]]) for places in groups.values())


def loop_lines(view: LoopView, look: Look, *, width: int | None) -> Iterator[str]:
    """A loop in its keys, each hand position on a neck with the chord tones in it, then the reasons."""
    for sentence in result_sentences(view, look):
        yield from wrapped(sentence, width)
    for fits, layout in view.by_shapes():
        yield ""
        if len(view.by_shapes()) > 1:
            yield from wrapped(joined([to_screen(named_fit(fit), look.language) for fit in fits], "and") + ":", width)
        yield plain(draw(layout.neck, layout.picture, look, width=width, home=layout.home))
        yield ""
        for sentence in landing_sentences(view.reading.chords, layout.key, look.language):
            yield from wrapped(sentence, width)
    yield from wrapped(legend(view.views[0], look), width)
    yield ""
    for sentence in reason_sentences(view, look):
        yield from wrapped(sentence, width)
    if view.reading.is_open and not view.reading.rests_on:
        yield from wrapped("Add --rests CHORD to say which chord it rests on.", width)


def result_sentences(view: LoopView, look: Look) -> Iterator[str]:
    """The result first: which key or keys, and for each where both index frets are and which scale fits."""
    yield to_screen(_result(view.reading), look.language)
    for fit, layout in zip(view.reading.fits, view.views, strict=True):
        yield to_screen(_where(fit, layout), look.language)
    for sentence in _over_a_blues(view):
        yield to_screen(sentence, look.language)


def _over_a_blues(view: LoopView) -> Iterator[str]:
    """What is played over a blues: the mixolydian of each chord, or the minor pentatonic of the tonic over all of them.

    Common practice, no source.
    """
    key, neck, chords = view.views[0].key, view.views[0].neck, dict.fromkeys(view.reading.chords)
    if not view.reading.is_blues:
        return
    if len(chords) > 1:
        over = joined([f"{named(chord.root)} mixolydian over {named_chord(chord)}" for chord in chords], "and")
        yield f"Each chord has its own flat seventh: play {over}."
    on_its_chords = {(chord.root.pitch_class - key.tonic.pitch_class) % 12 for chord in chords} <= _BLUES_PLACES
    if on_its_chords and not view.reading.is_open and key.mode == "major":
        minor = next(each for each in KEYS if each.mode == "minor" and each.tonic.sounds_like(key.tonic))
        if places := _index_frets(KeyView.of(minor, neck)):
            yield f"It is a blues, so the minor pentatonic of {named(key.tonic)} fits over all of it: {places}"


def reason_sentences(view: LoopView, look: Look) -> Iterator[str]:
    """How the chords were read, and what each key makes of them."""
    yield from (to_screen(sentence, look.language) for sentence in _because(view))


def _result(reading: LoopReading) -> str:
    chords = " ".join(map(named_chord, reading.chords))
    names = [named_fit(fit) for fit in reading.fits]
    if reading.rests_on and reading.refused:
        which = "none of them" if reading.is_open else "not it"
        fits = f"{chords}: fits {joined(names, 'or')}"
        return f"{fits}. {named_chord(reading.rests_on)} as the place to rest fits {which} well."
    if reading.rests_on:
        return f"{chords}, resting on {named_chord(reading.rests_on)}: {names[0]}"
    if not reading.is_open:
        return f"{chords}: {names[0]}"
    return f"{chords}: fits {joined(names, 'or')}"


def _where(fit: Fit, layout: KeyView) -> str:
    """One key in a line: how likely, both index frets, the scale."""
    likely = f" ({per_cent(fit.likelihood)})" if fit.likelihood < 1 else ""
    clashes = is_blues(fit.chords) and len(set(fit.chords)) > 1  # no scale holds the sevenths of all its chords
    scale = "" if clashes else f"scale {named_notes(spell(fit.key.tonic, SCALES[fit.scale]))}"
    return f"{named_fit(fit)}{likely}: {'; '.join(filter(None, (_index_frets(layout), scale)))}"


def _index_frets(layout: KeyView) -> str:
    """Where the index finger of each shape of a key lies; empty where the neck has no shapes."""
    return "; ".join(
        f"{shape_label(shape, layout.neck.tuning)} index fret {_places(layout, shape.number)}"
        for shape in layout.anchors
    )


def _places(layout: KeyView, number: int) -> str:
    shapes = (shape for shape in layout.anchors if shape.number == number)
    return " or ".join(str(place.index_fret) for place in layout.placements_of(*shapes)) or f"none: {TOO_FEW_FRETS}"


def _because(view: LoopView) -> Iterator[str]:
    """How the chords were read, what each key makes of the loop, what follows; the note counts if asked for."""
    reading = view.reading
    yield from view.chart.taken
    for written, chord in view.chart.reduced:
        yield f"{written} is read as {named_chord(chord)}: third, fifth and seventh are kept."
    yield from evidence_sentences(reading.fits, reading.is_blues)
    yield _conclusion(reading)
    if view.count_notes:
        (first, best), (second, next_best), *_ = reading.profile
        yield (
            f"By note counts alone (Krumhansl-Kessler), {named_key(first)} ranks first ({best:.2f}) "
            f"and {named_key(second)} second ({next_best:.2f})."
        )


def _conclusion(reading: LoopReading) -> str:
    key = named_fit(reading.fits[0])
    if reading.refused:
        return _refusal(reading, reading.refused)
    if reading.rests_on:
        outside = (
            f"{named_chord(reading.rests_on)} is not among the chords, but you rest there: " * reading.rests_outside
        )
        return (
            capital(f"{outside}the key is {key}.")
            if outside
            else f"It rests on {named_chord(reading.rests_on)}, so the key is {key}."
        )
    if not reading.is_open:
        return f"So the key is {key}."
    keys = joined([named_fit(fit) for fit in reading.fits], "or")
    return f"It may be {keys}: that depends on the chord that feels like home."


def _refusal(reading: LoopReading, refused: Fit) -> str:
    """Why the key of the chord it is said to rest on is not believed, and which chord on that note would do."""
    rest = named_chord(reading.rests_on or refused.chords[0])
    parallel = Chord(refused.key.tonic, "" if refused.key.mode == "minor" else "m")
    other = analyse_loop(reading.chords, parallel)
    would_do = (
        f" On {named_chord(other.rests_on or parallel)} it would be {named_fit(other.fits[0])}."
        if not other.refused
        else ""
    )
    return capital(
        f"{rest} is not among the chords, and no chord lies wholly in {named_fit(refused)}: "
        f"listen again for the chord that feels like home.{would_do}"
    )


def loop_object(view: LoopView) -> dict[str, Any]:
    """A loop as one JSON object; its keys are told in `cli.reference.objects`."""
    reading = view.reading
    return {
        "loop": [chord.name for chord in reading.chords],
        "rests": reading.rests_on.name if reading.rests_on else None,
        "rests_fits": reading.refused is None if reading.rests_on else None,
        "reduced": [{"written": one.written, "chord": one.chord.name} for one in view.chart.reduced],
        "open": reading.is_open,
        "keys": [_fit_object(fit, layout) for fit, layout in zip(reading.fits, view.views, strict=True)],
        "because": [to_ascii(sentence) for sentence in _because(view)],
        "profile": [{"key": key.name, "correlation": round(fit, 4)} for key, fit in reading.profile],
    }


def landing_sentences(chords: tuple[Chord, ...], key: Key, language: NoteLanguage) -> Iterator[str]:
    """For each chord of the loop, which of its notes the pentatonic of the key contains and which it does not."""
    for chord in dict.fromkeys(chords):
        inside, outside = ([show_note(note, language) for note in notes] for notes in inside_and_outside(chord, key))
        contains = f"contains {joined(inside, 'and')}" if inside else "contains none of its notes"
        missing = f" but not {joined(outside, 'or')}" if inside and outside else ""
        yield f"over {chord.shown_in(language)}: the pentatonic {contains}{missing}"


def _fit_object(fit: Fit, layout: KeyView) -> dict[str, Any]:
    return {
        "key": fit.key.name,
        "mode": fit.mode,
        "likelihood": round(fit.likelihood, 4),
        "scale": [note.name for note in spell(fit.key.tonic, SCALES[fit.scale])],
        "numerals": list(fit.numerals),
        "evidence": [
            {"clause": to_ascii(evidence_clause(each, fit)), "weight": round(each.weight, 4)} for each in fit.evidence
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
