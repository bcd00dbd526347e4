"""Keys of chord loops: what decides, what stays open, what is said. Textbook loops: outside/harmonies.py."""

from __future__ import annotations

import pytest

from drill.errors import UsageProblem
from drill.theory.chords import Chord, parse_chord
from drill.theory.functions import function_of, is_tonic, raised_seventh, respelled
from drill.theory.harmony import chord_at, scale_chords
from drill.theory.keys import KEYS, parse_key
from drill.theory.loops import LONGEST_LOOP, Fit, LoopReading, analyse_loop
from drill.theory.pitch import Note
from drill.theory.profiles import correlation, note_counts, profile_of, rank_keys


def read(loop: str, rests_on: str = "") -> LoopReading:
    return analyse_loop(tuple(map(parse_chord, loop.split())), parse_chord(rests_on) if rests_on else None)


def keys(loop: str, rests_on: str = "") -> str:
    return " ".join(key.short for key in read(loop, rests_on).keys)


@pytest.mark.parametrize(
    ("loop", "found"),
    [
        # one axis of four chords, turned: both relatives, the likelier named by where it starts or ends
        ("Am F C G", "Am C"),
        ("F C G Am", "Am C"),
        ("C G Am F", "C Am"),
        ("G Am F C", "C Am"),
        ("Em C G D", "Em G"),
        ("Dm Bb F C", "Dm F"),
        # a dominant that leads home decides, and so does coming back to where it began
        ("C Am F G", "C"),
        ("Am F C G Am", "Am"),
        ("Am G F E", "Am"),
        ("Bm7b5 E7 Am", "Am"),
        ("Dm7 G7 Cmaj7", "C"),
        ("E A B7", "E"),
        ("Em D C B7", "Em"),
        # the tonic of only one relative occurs
        ("Am Dm Em", "Am"),
        ("C F G", "C"),
        ("F G Am", "Am"),
        ("F G C", "C"),
        ("D C G", "G"),
        # a blues: sevenths name no key
        ("A7 D7 E7", "A"),
        ("A7", "A"),
        # borrowed chords
        ("Am D", "Am"),
        ("Am C D F Am E", "Am"),
        ("C Am Fm G", "C"),
        # a vamp without its tonic, or of two chords, stays open
        ("Dm7 G7", "Dm C"),
        ("Am7 D7", "Am G"),
        ("G C", "G C"),
        # chords without a third cannot tell the mode
        ("A5", "A Am"),
        # one chord
        ("Am", "Am"),
        ("C", "C"),
    ],
)  # fmt: skip
def test_everyday_loops(loop: str, found: str) -> None:
    """Readings by common practice, no source."""
    assert keys(loop) == found


@pytest.mark.parametrize("loop", ["Am F C G", "Am G F E", "Dm7 G7 Cmaj7", "A7 D7 E7", "C F G", "Am Dm Em", "Am D"])
def test_a_loop_moved_to_another_root_moves_its_keys(loop: str) -> None:
    chords = tuple(map(parse_chord, loop.split()))
    home = [(key.tonic.pitch_class, key.mode) for key in analyse_loop(chords).keys]
    for up in range(-6, 6):
        moved = tuple(Chord(Note(chord.root.fifths + up), chord.suffix) for chord in chords)
        found = [(key.tonic.pitch_class, key.mode) for key in analyse_loop(moved).keys]
        assert found == [((tonic + 7 * up) % 12, mode) for tonic, mode in home]


@pytest.mark.parametrize("loop", ["Am F C G", "G C", "Dm7 G7 Cmaj7", "A7 D7 E7", "Am D", "C"])
def test_held_chords_and_rounds_played_again_change_nothing(loop: str) -> None:
    held = " ".join(f"{name} {name}" for name in loop.split())
    assert keys(loop) == keys(held) == keys(f"{loop} {loop}")
    assert len(read(held).fits[0].numerals) == 2 * len(loop.split())


@pytest.mark.parametrize(("rests_on", "found"), [("Am", "Am"), ("C", "C"), ("Cmaj7", "C"), ("E", "Am C")])
def test_where_it_is_said_to_rest_decides_when_that_is_a_tonic(rests_on: str, found: str) -> None:
    assert keys("Am F C G", rests_on) == found


def evidence(loop: str, key: str, rests_on: str = "") -> list[str]:
    """The evidence for an accepted key, as in 'start Am +1'."""
    fit = next(fit for fit in read(loop, rests_on).fits if fit.key == parse_key(key))
    return [
        " ".join([piece.kind, *(chord.name for chord in (piece.chord, piece.target) if chord), f"{piece.weight:+}"])
        for piece in fit.evidence
    ]


@pytest.mark.parametrize(
    ("loop", "key", "found"),
    [
        ("Am F C G", "Am", ["start Am +1"]),
        ("Am F C G", "C", []),
        ("C G Am F", "Am", []),
        ("F G Am", "Am", ["end Am +1"]),
        ("Am F C Am", "Am", ["start Am +1", "end Am +1"]),
        ("Am G F E", "Am", ["start Am +1", "cadence E Am +2", "raised seventh E +2"]),
        ("Am E7 Am", "Am", ["start Am +1", "end Am +1", "cadence E7 Am +2", "dominant seventh E7 +2"]),
        ("Am D", "Am", ["borrowed D -2", "start Am +1"]),
        ("F#m Bm C#7", "F#m", ["start F#m +1", "cadence C#7 F#m +2", "dominant seventh C#7 +2"]),
        ("Dm7 G7", "C", ["no tonic -4", "dominant seventh G7 +2"]),
        ("G C", "G", ["start G +1"]),
        ("G C", "C", []),
        ("C G", "C", ["start C +1", "cadence G C +2"]),
    ],
)
def test_what_speaks_for_and_against_a_key(loop: str, key: str, found: list[str]) -> None:
    """Counted out by the rules of common practice, no source."""
    assert evidence(loop, key) == found


def test_a_chord_to_rest_on_is_evidence_where_it_is_a_tonic() -> None:
    assert evidence("Am F C G", "C", "C") == ["rest C +9"]
    assert evidence("Am F C G", "Am", "E") == ["start Am +1"]


@pytest.mark.parametrize(
    ("loop", "at_an_end"),
    [("Am F C G", "Am"), ("F C G Am", "Am"), ("C F Am G", "C"), ("F Am C G", ""), ("C Am", "Am C")],
)
def test_a_tonic_at_either_end_is_seen(loop: str, at_an_end: str) -> None:
    chords = tuple(map(parse_chord, loop.split()))
    fits = (Fit(parse_key(name), chords, ()) for name in ("Am", "C"))
    assert " ".join(fit.key.short for fit in fits if fit.has_tonic_at_an_end) == at_an_end


@pytest.mark.parametrize(
    ("loop", "open_keys", "relatives", "likeliest"),
    [
        ("Am F C G", True, True, "Am"),
        ("Am G F E", False, False, "Am"),
        ("Dm7 G7", True, False, "Dm"),
        ("A5", True, False, ""),
    ],
)
def test_how_open_a_loop_is(loop: str, open_keys: bool, relatives: bool, likeliest: str) -> None:
    reading = read(loop)
    assert reading.is_open == open_keys
    assert reading.is_open_between_relatives == relatives
    assert (reading.likeliest.short if reading.likeliest else "") == likeliest


@pytest.mark.parametrize(
    ("loop", "found"),
    [
        ("C#m A E B", "C#m E"),
        ("Dbm A E B", "C#m E"),
        ("Ebm Cb Gb Db", "Ebm Gb"),
        ("D#m B F# C#", "D#m F#"),
        ("A#m F# C# G#", "A#m C#"),
        ("Bbm Gb Db Ab", "Bbm Db"),
        ("A# F", "Bb"),
    ],
)
def test_keys_are_spelled_as_the_chords_are(loop: str, found: str) -> None:
    assert keys(loop) == found


def test_the_second_opinion_is_spelled_like_the_reading() -> None:
    profile = [key.short for key, _ in read("A#m F# C# G#").profile]
    assert profile[:2] == ["C#", "A#m"]


@pytest.mark.parametrize("count", [0, LONGEST_LOOP + 1])
def test_a_loop_has_one_to_32_chords(count: int) -> None:
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


@pytest.mark.parametrize(("key", "raised"), [("Am", "G#"), ("G#m", "F##"), ("Cm", "B"), ("Abm", "G")])
def test_the_raised_seventh_is_a_semitone_below_the_tonic(key: str, raised: str) -> None:
    assert raised_seventh(parse_key(key)).name == raised


# Every major, minor, diminished and augmented triad that is a key's own or commonly borrowed; the rest are foreign.
TRIADS = {
    "C": {
        0: "C Dm Em F G Am Bdim",
        3: "Eb Ab Fm Ddim C#dim D#dim F#dim G#dim Bb D E A B Gaug",
        6: "Gm Cm",
    },
    "Am": {
        0: "Am Bdim C Dm Em F G E G#dim",
        2: "D Bm",
        3: "F#dim D#dim Bbdim Bb A B Eaug Caug",
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
            assert function_of(Chord(root, suffix), key).distance == known.get((root.pitch_class, suffix), 9)


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
