"""The evidence for the key of a chord loop, in sentences with marked names (see `wording`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from drill.questions.wording import named, named_chord, named_key, named_numeral
from drill.theory.functions import FunctionKind, function_of, raised_seventh
from drill.theory.keys import Key
from drill.theory.loops import Evidence, EvidenceKind, Fit, LoopReading

_BLUES = "Every chord is a dominant seventh, as in a blues: the sevenths are colour and name no key."

_CLAUSES: Mapping[EvidenceKind | FunctionKind, str] = {
    "no tonic": "the chord of {key} itself does not occur",
    "start": "it starts on {chord}",
    "end": "it ends on {chord}",
    "rest": "it comes to rest on {chord}",
    "cadence": "{chord} leads home to {target}",
    "dominant seventh": "{chord} is the dominant seventh of {key}",
    "raised seventh": "{chord} holds {raised}, the raised seventh of {key}",
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


def evidence_clause(piece: Evidence, key: Key) -> str:
    """A piece of evidence for or against a key, as in 'it starts on Am'."""
    if piece.chord is None:
        return _CLAUSES[piece.kind].format(key=named_key(key))
    function = function_of(piece.chord, key)
    return _CLAUSES[function.kind if piece.kind == "borrowed" else piece.kind].format(
        chord=named_chord(piece.chord),
        key=named_key(key),
        raised=named(raised_seventh(key)),
        target=named_chord(piece.target) if piece.target else function.target,
    )


def evidence_sentences(reading: LoopReading) -> Iterator[str]:
    """What each accepted key makes of the loop."""
    if reading.is_blues:
        yield _BLUES
    yield from map(_fit_sentence, reading.fits)


def _fit_sentence(fit: Fit) -> str:
    numerals = " ".join(map(named_numeral, fit.numerals))
    clauses = "; ".join(evidence_clause(piece, fit.key) for piece in fit.evidence)
    return f"In {named_key(fit.key)} the chords are {numerals}{f': {clauses}' if clauses else ''}."
