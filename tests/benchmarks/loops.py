"""Score the keys of chord loops: does the program name the key that a listener wrote down?

    python tests/benchmarks/loops.py LOOPS.tsv [--suffixes SUFFIXES.tsv] [--fit]

LOOPS.tsv has the columns chords, key ("D major") and song. Four ways to name keys are scored alike: the program's, the
most diatonic key with the first chord as tie-break, the correlation with the profiles of Krumhansl and Kessler, and the
first chord.

first    the share of loops whose first key is the listener's
listed   the share where one of the keys is, and how many keys a loop got on average
flat     how many loops got a single key, and the share of these where it is the listener's
told     the share right once the program knows the chord of rest, of the loops that hold their tonic chord
said     the mean likelihood of the first key: what `first` should be

SUFFIXES.tsv has the columns suffix and count: what follows the root in real chord symbols. The row says how many of the
symbols cannot be read, and how many are read in part.

--fit fits the weights of `drill/theory/loop_evidence.py` anew (it needs numpy) and prints them beside those in use.
Then weights fitted on nine tenths of the songs are scored on the last tenth, ten times over.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import checkout  # noqa: F401  puts the checkout on the path, so that no installation is needed

from drill.errors import FretsureError
from drill.lookup.charts import read_chart, read_chord
from drill.theory.chords import Chord
from drill.theory.functions import is_tonic
from drill.theory.keys import PRACTICAL_KEYS, Key
from drill.theory.loop_evidence import WEIGHTS, evidence_for
from drill.theory.loops import analyse_loop, likely_spellings
from drill.theory.names import parse_note
from drill.theory.profiles import note_counts, rank_keys

FOLDS = 10
RIDGE = 2.0
"""How strongly a fit keeps weights small: as if each had been seen as nothing in so many loops."""
STEPS = 12
Sound = tuple[int, str]


@dataclass(frozen=True)
class Loop:
    """A loop, the key a listener gave it (as pitch class and mode), and the song it is from."""

    chords: tuple[Chord, ...]
    key: Sound
    song: str


Namer = Callable[[tuple[Chord, ...]], Sequence[Sound]]


def read_loops(path: Path) -> list[Loop]:
    """The loops of a table."""
    with path.open(newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream, delimiter="\t"))
    return [Loop(read_chart(row["chords"]).chords, _sound_of(row["key"]), row["song"]) for row in rows]


def _sound_of(name: str) -> Sound:
    tonic, mode = name.split()
    return parse_note(tonic).pitch_class, mode


def _sound(key: Key) -> Sound:
    return key.tonic.pitch_class, key.mode


def fretsure(chords: tuple[Chord, ...]) -> Sequence[Sound]:
    """The keys that the program names."""
    return [_sound(key) for key in analyse_loop(chords).keys]


def most_diatonic(chords: tuple[Chord, ...]) -> Sequence[Sound]:
    """The key with the most chord tones; among equals the one whose tonic chord comes first."""

    def inside(key: Key) -> tuple[int, bool, bool]:
        scale = {note.pitch_class for note in key.notes}
        tones = sum(note.pitch_class in scale for chord in chords for note in chord.triad.notes)
        return tones, is_tonic(chords[0], key), any(is_tonic(chord, key) for chord in chords)

    return [_sound(max(PRACTICAL_KEYS, key=inside))]


def by_note_counts(chords: tuple[Chord, ...]) -> Sequence[Sound]:
    """The key whose profile correlates best with the notes of the chords (Krumhansl and Kessler 1982)."""
    return [_sound(rank_keys(note_counts(chords))[0][0])]


def first_chord(chords: tuple[Chord, ...]) -> Sequence[Sound]:
    """The key of the first chord."""
    return [(chords[0].root.pitch_class, "minor" if chords[0].third == "b3" else "major")]


def scores(loops: Sequence[Loop], named: Sequence[Sequence[Sound]]) -> str:
    """One row of figures for the keys named for each loop."""
    flat = [keys[0] == loop.key for loop, keys in zip(loops, named, strict=True) if len(keys) == 1]
    first = sum(keys[0] == loop.key for loop, keys in zip(loops, named, strict=True)) / len(loops)
    listed = sum(loop.key in keys for loop, keys in zip(loops, named, strict=True)) / len(loops)
    per_loop = sum(map(len, named)) / len(loops)
    right = sum(flat) / len(flat) if flat else 0.0
    return f"{first:7.3f} {listed:7.3f} {per_loop:7.2f} {len(flat):7} {right:7.3f}"


def told(loops: Sequence[Loop]) -> tuple[float, int]:
    """The share of keys that are right once the chord of rest is known, and how many loops hold their tonic chord."""
    right = [_sound(analyse_loop(loop.chords, home).keys[0]) == loop.key for loop in loops for home in _homes(loop)[:1]]
    return sum(right) / max(len(right), 1), len(right)


def _homes(loop: Loop) -> list[Chord]:
    key = next(key for key in PRACTICAL_KEYS if _sound(key) == loop.key)
    return [chord for chord in loop.chords if is_tonic(chord, key)]


def report(loops: Sequence[Loop]) -> Iterable[str]:
    """The table of the four ways."""
    yield f"{len(loops)} loops          first  listed    keys    flat   right"
    for namer in (fretsure, most_diatonic, by_note_counts, first_chord):
        yield f"{namer.__name__.replace('_', ' '):16}{scores(loops, [namer(loop.chords) for loop in loops])}"
    share, count = told(loops)
    said = sum(analyse_loop(loop.chords).fits[0].likelihood for loop in loops) / len(loops)
    yield f"told the chord of rest: {share:.3f} of {count} loops"
    yield f"said of the first key: {said:.3f} on average"


def report_suffixes(path: Path) -> Iterable[str]:
    """How many of the symbols in a table cannot be read, or only in part."""
    counts = {"unread": 0, "in part": 0, "whole": 0}
    with path.open(newline="", encoding="utf-8") as stream:
        for row in csv.DictReader(stream, delimiter="\t"):
            counts[_how_read(row["suffix"] or "")] += int(row["count"])
    total = sum(counts.values())
    yield f"{total} chord symbols: {counts['unread']} unread, {counts['in part']} read in part"


def _how_read(suffix: str) -> str:
    try:
        return "whole" if read_chord(f"C{suffix}")[1] else "in part"
    except FretsureError:
        return "unread"


# -- fitting -----------------------------------------------------------------------------------------------------------


def fitted(loops: Sequence[Loop]) -> dict[str, float]:
    """The weights that make the listeners' keys likeliest, each loop a choice among twenty-four (Newton's method)."""
    import numpy as np

    signs, chosen = zip(*map(_signs, loops), strict=True)
    table, place = np.array(signs), (np.arange(len(loops)), list(chosen))

    def fit(weights: Any) -> tuple[float, Any]:
        """The logarithm of the likelihood, and the chance of each key."""
        utility = table @ weights
        chance = np.exp(utility - utility.max(axis=1, keepdims=True))
        chance /= chance.sum(axis=1, keepdims=True)
        return float(np.log(chance[place]).sum() - RIDGE * (weights @ weights) / 2), chance

    weights: Any = np.zeros(table.shape[2])
    for _ in range(STEPS):
        now, chance = fit(weights)
        mean = (chance[:, :, None] * table).sum(axis=1)
        slope = (table[place] - mean).sum(axis=0) - RIDGE * weights
        flat = table.reshape(-1, table.shape[2])
        curve = flat.T @ (flat * chance.reshape(-1, 1)) - mean.T @ mean + RIDGE * np.eye(len(weights))
        step = np.linalg.solve(curve, slope)
        while fit(weights + step)[0] < now and abs(step).max() > 1e-6:
            step = step / 2
        weights = weights + step
    return dict(zip(WEIGHTS, map(float, weights), strict=True))


def _signs(loop: Loop) -> tuple[list[list[float]], int]:
    """How often each key has each sign, and which of the keys is the listener's."""
    keys = list(likely_spellings(loop.chords))
    rows = []
    for key in keys:
        amounts = dict.fromkeys(WEIGHTS, 0.0) | {"minor": float(key.mode == "minor")}
        for piece in evidence_for(key, loop.chords):
            if piece.kind in amounts:
                amounts[piece.kind] += piece.weight / WEIGHTS[piece.kind]
        rows.append(list(amounts.values()))
    return rows, [_sound(key) for key in keys].index(loop.key)


def report_fit(loops: Sequence[Loop]) -> Iterable[str]:
    """The weights fitted anew, and how weights do on songs they were not fitted to."""
    yield "weight                in use  fitted"
    in_use = dict(WEIGHTS)
    for kind, weight in fitted(loops).items():
        yield f"{kind:20}{in_use[kind]:8.1f}{weight:8.2f}"
    songs = {song: place % FOLDS for place, song in enumerate(dict.fromkeys(loop.song for loop in loops))}
    unseen, named = [], []
    for fold in range(FOLDS):
        WEIGHTS.update(fitted([loop for loop in loops if songs[loop.song] != fold]))  # type: ignore[attr-defined]
        for loop in (loop for loop in loops if songs[loop.song] == fold):
            unseen.append(loop)
            named.append(fretsure(loop.chords))
        WEIGHTS.update(in_use)  # type: ignore[attr-defined]
    yield f"unseen songs    {scores(unseen, named)}"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("loops", type=Path, metavar="LOOPS.tsv")
    parser.add_argument("--suffixes", type=Path, metavar="SUFFIXES.tsv")
    parser.add_argument("--fit", action="store_true")
    options = parser.parse_args()
    try:
        loops = read_loops(options.loops)
        lines = [*report(loops), *(report_suffixes(options.suffixes) if options.suffixes else ())]
        lines += report_fit(loops) if options.fit else ()
    except (OSError, KeyError, ValueError, FretsureError) as error:
        print(f"loops.py: {type(error).__name__}: {error}", file=sys.stderr)
        return 65
    print("\n".join(lines))
    return 0


if __name__ == "__main__":
    sys.exit(main())
