"""Keys of chord loops: what decides, what stays open, what is said. Textbook loops: outside/harmonies.py."""

from __future__ import annotations

import math

import pytest

from drill.errors import UsageProblem
from drill.theory.chords import Chord, parse_chord
from drill.theory.functions import function_of, is_tonic, respelled
from drill.theory.harmony import chord_at, scale_chords
from drill.theory.keys import KEYS, Key, parse_key
from drill.theory.loop_evidence import WEIGHTS, evidence_for
from drill.theory.loops import CERTAIN, LONGEST_LOOP, Fit, LoopReading, analyse_loop, likely_spellings, weighed
from drill.theory.pitch import Note
from drill.theory.profiles import correlation, note_counts, profile_of, rank_keys


def read(loop: str, rests_on: str = "") -> LoopReading:
    return analyse_loop(tuple(map(parse_chord, loop.split())), parse_chord(rests_on) if rests_on else None)


def keys(loop: str, rests_on: str = "") -> str:
    return " ".join(key.short for key in read(loop, rests_on).keys)


def heard(loop: str, rests_on: str = "") -> str:
    return ", ".join(fit.name for fit in read(loop, rests_on).fits)


@pytest.mark.parametrize(
    ("loop", "found"),
    [
        # one axis of four chords, turned: open between relatives where neither comes home
        ("Am F C G", "C major, A minor"),
        ("Em C G D", "G major, E minor"),
        ("F C G Am", "C major, A minor"),
        # a dominant that leads home decides
        ("C F G", "C major"),
        ("C Am F G", "C major"),
        ("C Am Dm G", "C major"),
        ("Am G F E", "A minor"),
        ("Bm7b5 E7 Am", "A minor"),
        ("Dm7 G7 Cmaj7", "C major"),
        ("E A B7", "E major"),
        ("Em D C B7", "E minor"),
        # the tonic of only one relative occurs
        ("Am Dm Em", "A minor"),
        # I bVII IV, the commonest loop of rock, is V IV I too: where it starts makes one likelier
        ("D C G", "D mixolydian, G major"),
        ("A G D", "A mixolydian, D major"),
        # a blues: sevenths name no key
        ("A7 D7 E7", "A major"),
        ("C7 F7 G7", "C major"),
        # vi IV V: the major tonic is not there
        ("Am F G", "A minor, C major"),
        # vamps of two chords, with their modes
        ("Am D7", "A dorian, G major"),
        ("Dm7 G7", "D dorian, C major"),
        ("Am G", "A minor, G major"),
        ("F G", "C major, F lydian"),
        # chords without a third leave the mode open
        ("A5", "A major, A minor"),
    ],
)  # fmt: skip
def test_everyday_loops_are_named_as_players_hear_them(loop: str, found: str) -> None:
    """Common practice, no source; how often real listeners agree is measured in tests/benchmarks/loops.py."""
    assert heard(loop) == found


@pytest.mark.parametrize(
    ("loop", "among"),
    [
        ("C A Dm G", "C major"),  # I VI ii V in triads
        ("Em A Dm G", "C major"),  # iii VI ii V, the tonic left to the ear
        ("Em7 A7 Dm7 G7", "C major"),
        ("Dm7 G7 Cmaj7 A7", "C major"),
        ("F G Am", "C major"),  # IV V vi
        ("F G Em Am", "C major"),
        ("E D A", "E mixolydian"),
        ("Em F", "E phrygian"),
    ],
)
def test_a_key_that_players_hear_is_listed(loop: str, among: str) -> None:
    """Common practice, no source."""
    assert among in heard(loop).split(", ")
    assert read(loop).fits[0].likelihood < CERTAIN


@pytest.mark.parametrize("key", [key for key in KEYS if abs(key.signature) < 7], ids=lambda key: key.short)
@pytest.mark.parametrize("numerals", ["V7 I", "I V7", "ii7 V7 I", "V7 I V7 I"])
def test_a_dominant_seventh_that_falls_a_fifth_comes_home(key: Key, numerals: str) -> None:
    """The authentic cadence, in whichever order a loop of two chords is played (Piston, Harmony, chapter 12)."""
    minor = {"I": "i", "ii7": "iiø7"} if key.mode == "minor" else {}
    chords = tuple(chord_at(minor.get(numeral, numeral), key) for numeral in numerals.split())
    assert analyse_loop(chords).keys[0].sounds_like(key)


@pytest.mark.parametrize(
    ("loop", "found"),
    [
        ("A7 D", "D major, A mixolydian"),  # V I, or I IV of a rock loop
        ("A7 D7", "A major"),  # the seventh of the second chord tells that sevenths are colour
        ("D7 A7", "D major"),
        ("A7 G", "D major, A mixolydian"),  # no fifth falls
        ("E7 A B7", "E major"),
        ("B7 E A", "E major"),
    ],
)
def test_a_seventh_may_be_home_all_the_same(loop: str, found: str) -> None:
    """Common practice, no source."""
    assert set(found.split(", ")) <= set(heard(loop).split(", "))
    assert heard(loop).startswith(found.split(",")[0])


@pytest.mark.long(but=2)
@pytest.mark.parametrize("loop", ["Am F C G", "Am G F E", "Dm7 G7 Cmaj7", "A7 D7 E7", "C F G", "Am Dm Em", "D C G"])
def test_a_loop_moved_to_another_root_moves_its_keys(loop: str) -> None:
    chords = tuple(map(parse_chord, loop.split()))
    home = [(fit.key.tonic.pitch_class, fit.mode) for fit in analyse_loop(chords).fits]
    for up in range(-6, 6):
        moved = tuple(Chord(Note(chord.root.fifths + up), chord.suffix) for chord in chords)
        found = [(fit.key.tonic.pitch_class, fit.mode) for fit in analyse_loop(moved).fits]
        assert found == [((tonic + 7 * up) % 12, mode) for tonic, mode in home]


@pytest.mark.parametrize("loop", ["Am F C G", "G C", "Dm7 G7 Cmaj7", "A7 D7 E7", "Am D", "C"])
def test_held_chords_and_rounds_played_again_change_nothing(loop: str) -> None:
    held = " ".join(f"{name} {name}" for name in loop.split())
    assert heard(loop) == heard(held) == heard(f"{loop} {loop}")
    assert len(read(held).fits[0].numerals) == 2 * len(loop.split())


@pytest.mark.parametrize(
    ("loop", "rests_on", "found"),
    [
        ("Am F C G", "Am", "A minor"),
        ("Am F C G", "C", "C major"),
        ("Am F C G", "Cmaj7", "C major"),
        ("D C G", "D", "D mixolydian"),
        ("D C G", "G", "G major"),
        ("Am D7", "Am", "A dorian"),
        ("A7 D7", "A7", "A major"),
        # a bare letter means the chord on it
        ("Am F C G", "A", "A minor"),
        ("A Am D", "A", "A major"),
        # a chord outside the loop
        ("F G", "C", "C major"),
        ("F G", "Am", "A minor"),
        ("C G", "D", "D mixolydian"),
        # a chord without a third leaves the mode to the others
        ("E5 G A", "E5", "E dorian"),
        ("E5 A B", "E5", "E major"),
    ],
)
def test_told_where_it_rests_there_is_one_key(loop: str, rests_on: str, found: str) -> None:
    """Common practice, no source."""
    assert heard(loop, rests_on) == found
    assert [fit.likelihood for fit in read(loop, rests_on).fits] == [1.0]


@pytest.mark.parametrize(
    ("loop", "rests_on", "refused"),
    [
        # no chord lies in E major, with C sharp, D sharp, F sharp and G sharp, nor in its mixolydian or lydian mode
        ("Am F C G", "E", "E major"),
        ("Bb Eb F", "E", "E major"),
        ("C F G", "C#m", "C# minor"),
        # every chord but F lies in E dorian, all lie in E phrygian
        ("Am F C G", "Em", None),
        ("Am F C G", "Bb", None),
        ("F G", "C", None),
    ],
)
def test_a_place_to_rest_in_whose_key_no_chord_lies_is_not_believed(
    loop: str, rests_on: str, refused: str | None
) -> None:
    """Counted out note by note."""
    told = read(loop, rests_on)
    assert (told.refused.name if told.refused else None) == refused
    if refused:
        assert told.fits == read(loop).fits


@pytest.mark.parametrize(("rests_on", "outside"), [("C", False), ("Cmaj7", False), ("Cm", True), ("D", True)])
def test_a_chord_of_rest_may_lie_outside_the_loop(rests_on: str, outside: bool) -> None:
    assert read("C F G", rests_on).rests_outside == outside


def evidence(loop: str, key: str) -> str:
    """The evidence for a key, without its weights."""
    chords = tuple(map(parse_chord, loop.split()))
    pieces = evidence_for(parse_key(key), chords)
    return ", ".join(" ".join([piece.kind, *(c.name for c in (piece.chord, piece.target) if c)]) for piece in pieces)


@pytest.mark.parametrize(
    ("loop", "key", "found"),
    [
        ("Am F C G", "Am", "own chords, start Am, steady Am, share Am"),
        ("Am F C G", "C", "own chords, steady C, share C, plagal F C, fourth F"),
        ("F G Am", "Am", "own chords, end Am, steady Am, share Am"),
        ("Am E7 Am", "Am", "own chords, start Am, end Am, steady Am, share Am, cadence E7 Am, "
         "dominant seventh E7 Am, close E7 Am"),
        ("Am G F E", "Am", "own chords, start Am, steady Am, share Am, cadence E Am"),
        ("Am D", "Am", "borrowed D, start Am, steady Am, share Am, plagal D Am"),
        ("Dm7 G7", "C", "own chords, no tonic"),
        ("C G", "C", "own chords, start C, steady C, share C, cadence G C"),
        ("G C", "C", "own chords, steady C, share C"),
        ("D C G", "D", "borrowed C, start D, steady D, share D, plagal G D, double plagal C D, fourth G"),
        ("D Am C G", "D", "far Am, borrowed C, start D, steady D, share D, plagal G D, fourth G"),
        ("C A Dm G", "C", "dominant of another A, start C, steady C, share C, cadence G C, falling fifths A C"),
        ("C A F G", "C", "far A, start C, steady C, share C, cadence G C, fourth F"),
        ("Em A Dm G", "C", "dominant of another A, no tonic, falling fifths Em"),
        ("C Dm/C F/C", "C", "own chords, start C, steady C, share C, bass Dm/C, plagal F/C C, fourth F/C"),
        # the chord that is there is named: A7, not A
        ("A7 D7 E7", "A", "own chords, start A7, steady A7, share A7, cadence E7 A7, fourth D7"),
        ("Csus4 F", "C", "own chords, start Csus4, share Csus4, plagal F Csus4, fourth F"),
    ],
)  # fmt: skip
def test_what_speaks_for_and_against_a_key(loop: str, key: str, found: str) -> None:
    """Counted out by the rules of common practice, no source."""
    assert evidence(loop, key) == found


def test_likelihoods_are_chances_and_follow_from_the_weights() -> None:
    """Two signs more for C, two for A: the logarithm of the odds is the sum of their weights (a choice among keys)."""
    chords = tuple(map(parse_chord, ["Am", "F", "C", "G"]))
    every = weighed(Fit(key, chords, evidence_for(key, chords)) for key in likely_spellings(chords))
    assert len(every) == 24
    assert math.fsum(fit.likelihood for fit in every) == pytest.approx(1)
    (major, minor), gained = every[:2], WEIGHTS["fourth"] + WEIGHTS["plagal"]
    assert math.log(major.likelihood / minor.likelihood) == pytest.approx(gained - WEIGHTS["start"] - WEIGHTS["minor"])


@pytest.mark.parametrize(
    ("loop", "at_an_end"),
    [("Am F C G", "Am"), ("F C G Am", "Am"), ("C F Am G", "C"), ("F Am C G", ""), ("C Am", "Am C")],
)
def test_a_tonic_at_either_end_is_seen(loop: str, at_an_end: str) -> None:
    chords = tuple(map(parse_chord, loop.split()))
    fits = (Fit(parse_key(name), chords, ()) for name in ("Am", "C"))
    assert " ".join(fit.key.short for fit in fits if fit.has_tonic_at_an_end) == at_an_end


@pytest.mark.parametrize(
    ("loop", "open_keys", "relatives", "accepted"),
    [
        ("Am F C G", True, True, "Am C"),
        ("C G Am F", False, True, "C Am"),
        ("C Am F G", False, False, "C"),
        ("Am G F E", False, False, "Am"),
        ("Dm7 G7", True, False, "Dm C"),
        ("D C G", True, False, "D G"),
    ],
)
def test_how_open_a_loop_is_and_what_answers_are_right(
    loop: str, open_keys: bool, relatives: bool, accepted: str
) -> None:
    reading = read(loop)
    assert reading.is_open == open_keys
    assert reading.is_open_between_relatives == relatives
    assert " ".join(fit.key.short for fit in reading.accepted) == accepted


@pytest.mark.parametrize(
    ("loop", "found"),
    [
        ("C#m A E B", "E C#m"),
        ("Dbm A E B", "E C#m"),
        ("Ebm Cb Gb Db", "Gb Ebm"),
        ("D#m B F# C#", "F# D#m"),
        ("A#m F# C# G#", "C# A#m"),
        ("Bbm Gb Db Ab", "Db Bbm"),
        ("A# F", "Bb F"),
    ],
)
def test_keys_are_spelled_as_the_chords_are(loop: str, found: str) -> None:
    assert keys(loop) == found


def test_the_second_opinion_is_spelled_like_the_reading() -> None:
    profile = [key.short for key, _ in read("A#m F# C# G#").profile]
    assert profile[:2] == ["C#", "A#m"]


@pytest.mark.parametrize("count", [0, LONGEST_LOOP + 1])
def test_a_loop_has_one_to_64_chords(count: int) -> None:
    with pytest.raises(UsageProblem, match=f"{count} chords"):
        analyse_loop((parse_chord("C"),) * count)


def test_own_chords_of_every_key_are_its_own_and_its_tonic_is_found() -> None:
    for key in KEYS:
        tonic = Chord(key.tonic, "m" if key.mode == "minor" else "")
        assert is_tonic(tonic, key)
        assert function_of(tonic, key).distance == 0
        assert not is_tonic(Chord(key.tonic, "dim"), key)
        own = [one.chord for sevenths in (False, True) for one in scale_chords(key, sevenths)]
        assert all(function_of(chord, key).distance == 0 for chord in own)
        assert function_of(Chord(key.major.notes[4], "13"), key.major).distance == 0  # all seven notes of the key
        assert all(function_of(chord_at(numeral, key), key).distance == 0 for numeral in ("V", "V7", "viio"))
        assert function_of(Chord(Note(key.tonic.fifths + 6)), key).distance > 0


@pytest.mark.parametrize(
    ("chord", "key", "function"),
    [
        ("C", "C", "own"),
        ("E7", "Am", "own"),
        ("D", "C", "secondary dominant V"),
        ("E7", "C", "secondary dominant vi"),
        ("A7", "C", "secondary dominant ii"),
        ("B7", "C", "secondary dominant iii"),
        ("B", "Am", "secondary dominant V"),
        ("Bb", "C", "mixolydian"),
        ("Gm", "C", "mixolydian minor"),
        ("Fm", "C", "parallel minor"),
        ("Cm", "C", "parallel minor tonic"),
        ("A", "Am", "parallel major tonic"),
        ("Bb", "Am", "phrygian"),
        ("D", "Am", "dorian"),
        ("C7", "C", "blues seventh"),
        ("F#dim7", "C", "passing diminished"),
        ("Gaug", "C", "raised fifth"),
        ("Gmaj7", "C", "foreign note"),
        ("Fmaj7#5", "C", "foreign"),
        ("F#m", "C", "foreign"),
    ],
)
def test_the_part_a_chord_plays_in_a_key(chord: str, key: str, function: str) -> None:
    """Common practice, no source."""
    assert " ".join(function_of(parse_chord(chord), parse_key(key))).strip() == function


# Every major, minor, diminished and augmented triad that is a key's own or commonly borrowed; the rest are foreign.
TRIADS = {
    "C": {
        0: "C Dm Em F G Am Bdim",
        1: "Eb Ab Fm Ddim Bb D E A B",
        2: "C#dim D#dim F#dim G#dim Gaug Gm Cm",
    },
    "Am": {
        0: "Am Bdim C Dm Em F G E G#dim",
        1: "D Bm B",
        2: "F#dim D#dim Bbdim Bb A Eaug Caug",
    },
}


@pytest.mark.parametrize("name", TRIADS)
def test_how_far_every_triad_is_from_the_key(name: str) -> None:
    """Own chords and common borrowings by common practice, no source."""
    key = parse_key(name)
    known = {
        (parse_chord(chord).root.pitch_class, parse_chord(chord).suffix): distance
        for distance, chords in TRIADS[name].items()
        for chord in chords.split()
    }
    for root in (Note(fifths) for fifths in range(-5, 7)):
        for suffix in ("", "m", "dim", "aug"):
            assert function_of(Chord(root, suffix), key).distance == known.get((root.pitch_class, suffix), 2)


@pytest.mark.parametrize(
    ("chord", "key", "name"), [("A#", "F", "Bb"), ("Bb", "F#", "A#"), ("Db", "C", "Db"), ("G#m", "Ab", "Abm")]
)
def test_only_far_spellings_are_changed(chord: str, key: str, name: str) -> None:
    assert respelled(parse_chord(chord), parse_key(key)).name == name


def test_counts_are_per_chord_tone_and_profiles_turn_with_the_tonic() -> None:
    assert note_counts((parse_chord("C"), parse_chord("Am"))) == (2, 0, 0, 0, 2, 0, 0, 1, 0, 1, 0, 0)
    assert profile_of(parse_key("A"))[9] == profile_of(parse_key("C"))[0]
    assert correlation([1, 1, 1], [1, 2, 3]) == 0
    assert correlation([1, 2, 3], [2, 4, 6]) == pytest.approx(1)
    assert {fit for _, fit in rank_keys([1.0] * 12)} == {0}
