"""The evidence for the key of a chord loop, in sentences with marked names (see `wording`)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from drill.questions.wording import named, named_chord, named_key, named_numeral
from drill.theory.chords import Chord
from drill.theory.functions import FunctionKind, function_of
from drill.theory.loop_evidence import Evidence, EvidenceKind
from drill.theory.loops import Fit
from drill.theory.modes import MARKS, ScalePart, mark_note, part_in_scale

BLUES = "Every chord is a dominant seventh, as in a blues: the sevenths are colour and name no key."

_CLAUSES: Mapping[EvidenceKind | FunctionKind | ScalePart, str] = {
    "own chords": "every chord is its own",
    "no tonic": "the chord of {key} itself does not occur",
    "start": "it starts on {chord}",
    "end": "it ends on {chord}",
    "steady": "{chord} is a chord to rest on",
    "share": "part of the loop lies on {chord}",
    "bass": "{tonic} lies in the bass of {chord}",
    "cadence": "{chord} leads home to {target}",
    "dominant seventh": "the seventh of {chord} pulls to {target}",
    "close": "it closes with {chord} to {target}",
    "plagal": "{chord} falls home to {target}, a fourth below",
    "double plagal": "from {chord} two steps of a fourth lead home to {target}, as in rock",
    "falling fifths": "from {chord} the chords fall by fifths to {tonic}",
    "fourth": "{chord} is its fourth",
    # a chord that is not the key's own
    "dorian": "{chord} is borrowed, as in the dorian mode",
    "mixolydian": "{chord} is borrowed, as in the mixolydian mode",
    "phrygian": "{chord} is borrowed, as in the phrygian mode",
    "parallel minor": "{chord} is borrowed from the parallel minor",
    "parallel major tonic": "{chord} is the tonic of the parallel major",
    "parallel minor tonic": "{chord} is the tonic of the parallel minor",
    "mixolydian minor": "{chord} is the minor chord of the mixolydian mode",
    "secondary dominant": "{chord} is the dominant of {target}",
    "passing diminished": "{chord} is a passing diminished chord",
    "raised fifth": "{chord} is a dominant with a raised fifth",
    "blues seventh": "{chord} has the added seventh of the blues",
    "foreign note": "{chord} is coloured by a note outside the key",
    "foreign": "{chord} is foreign to the key",
    # a chord of the scale on which the loop lies
    "own": "{chord} lies wholly in the scale",
    "mark chord": "{chord} is the {scale} {target}",
    "mark chord and more": "{chord} is the {scale} {target}, coloured by a note outside the scale",
    "mark note": "{chord} contains {target}, the {mark} of {scale}",
    "outside": "{chord} is coloured by a note outside the scale",
}
_ROOT = "{tonic} is the root of {chord}"
"""The clause of a tonic in the bass where it is the chord's own root."""
_MARKS = {"6": "major sixth", "b2": "flat second", "#4": "raised fourth", "b7": "flat seventh"}
"""The degrees that mark a mode, in words."""
_NOT_OWN = ("borrowed", "far", "dominant of another")
"""Signs that tell which part a chord plays that the plain scale of the key does not hold."""

_BOUNDS = ("start", "end")
"""What says nothing of a loop with one chord."""


def evidence_clause(piece: Evidence, fit: Fit) -> str:
    """A piece of evidence for or against a key, as in 'it starts on Am'."""
    kind, target = _kind_and_target(piece, fit)
    mark = MARKS.get(fit.scale)
    return (_ROOT if piece.kind == "bass" and not piece.said else _CLAUSES[kind]).format(
        chord=named_chord(piece.chord) if piece.chord else "",
        target=target,
        key=named_key(fit.key),
        tonic=named(fit.key.tonic),
        scale=fit.scale,
        mark=mark and _MARKS[mark.degree],
    )


def _kind_and_target(piece: Evidence, fit: Fit) -> tuple[EvidenceKind | ScalePart | FunctionKind, str]:
    """By which clause a sign is told, and where its chord leads, or what it contains."""
    if piece.chord and piece.kind in _NOT_OWN:
        return _part_played(piece.chord, fit)
    return piece.kind, named_chord(piece.target) if piece.target else ""


def _part_played(chord: Chord, fit: Fit) -> tuple[ScalePart | FunctionKind, str]:
    """What a chord is in the scale on which the loop lies, with its numeral or the note that marks the mode.

    Only what that scale does not hold can be borrowed or foreign.
    """
    part = part_in_scale(chord, fit.key.tonic, fit.scale)
    if part in ("mark chord", "mark chord and more"):
        return part, named_numeral(MARKS[fit.scale].numeral)
    if part == "mark note":
        return part, named(mark_note(fit.key.tonic, fit.scale))
    function = function_of(chord, fit.key)
    if part == "own" or (fit.scale in MARKS and function.kind != "blues seventh"):
        return part, ""
    return function


def evidence_clauses(fit: Fit) -> Iterator[str]:
    """What is said for and against a key, clause by clause; what marks its mode is explained once."""
    one, explained = len(set(fit.numerals)) == 1, False
    for piece in fit.evidence:
        if not piece.said or (one and piece.kind in _BOUNDS):
            continue
        if piece.chord and piece.kind in _NOT_OWN and _part_played(piece.chord, fit)[0] == "mark note":
            mark = named(mark_note(fit.key.tonic, fit.scale))
            yield f"{named_chord(piece.chord)} contains {mark} too" if explained else evidence_clause(piece, fit)
            explained = True
        else:
            yield evidence_clause(piece, fit)


def evidence_sentences(fits: Iterable[Fit], blues: bool) -> Iterator[str]:
    """What each key makes of the loop; of a blues, first what its sevenths are."""
    if blues:
        yield BLUES
    yield from map(_fit_sentence, fits)


def named_fit(fit: Fit) -> str:
    """A tonic and a mode inside a sentence, as in 'D mixolydian'."""
    return f"{named(fit.key.tonic)} {fit.mode}"


def _fit_sentence(fit: Fit) -> str:
    one = len(set(fit.numerals)) == 1
    clauses = "; ".join(evidence_clauses(fit))
    numerals = " ".join(map(named_numeral, fit.numerals[:1] if one else fit.numerals))
    chords = f"the only chord is {numerals}" if one else f"the chords are {numerals}"
    return f"In {named_fit(fit)} {chords}{f': {clauses}' if clauses else ''}."
