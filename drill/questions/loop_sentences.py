"""The evidence for the key of a chord loop, in sentences with marked names (see `wording`)."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from drill.questions.wording import named, named_chord, named_key, named_numeral
from drill.theory.functions import FunctionKind, function_of
from drill.theory.keys import Key
from drill.theory.loop_evidence import Evidence, EvidenceKind
from drill.theory.loops import Fit

BLUES = "Every chord is a dominant seventh, as in a blues: the sevenths are colour and name no key."

_CLAUSES: Mapping[EvidenceKind | FunctionKind, str] = {
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
}

_BOUNDS = ("start", "end")
"""What says nothing of a loop with one chord."""


def evidence_clause(piece: Evidence, key: Key) -> str:
    """A piece of evidence for or against a key, as in 'it starts on Am'."""
    kind: EvidenceKind | FunctionKind = piece.kind
    target = named_chord(piece.target) if piece.target else ""
    if piece.chord and piece.kind in ("borrowed", "far", "dominant of another"):
        kind, target = function_of(piece.chord, key)
    chord = named_chord(piece.chord) if piece.chord else ""
    return _CLAUSES[kind].format(chord=chord, key=named_key(key), tonic=named(key.tonic), target=target)


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
    said = (piece for piece in fit.evidence if piece.said and not (one and piece.kind in _BOUNDS))
    clauses = "; ".join(evidence_clause(piece, fit.key) for piece in said)
    numerals = " ".join(map(named_numeral, fit.numerals[:1] if one else fit.numerals))
    chords = f"the only chord is {numerals}" if one else f"the chords are {numerals}"
    return f"In {named_fit(fit)} {chords}{f': {clauses}' if clauses else ''}."
