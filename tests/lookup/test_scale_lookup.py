"""Any scale on the neck, as a player asks for it."""

from __future__ import annotations

import json
import math

import pytest

from drill.cli.main import main
from drill.errors import UnknownName, UsageProblem
from drill.lookup.query import look_up
from drill.lookup.scales import ScaleView, scale_lines
from drill.lookup.typed_scale import typed_scale
from drill.present.neck_drawing import Look
from drill.settings import Settings
from drill.system.tunings import find_tuning
from drill.theory.names import NoteLanguage, parse_note
from drill.theory.neck import STANDARD, Neck
from drill.theory.scales import SCALES

OPEN = {1: 64, 2: 59, 3: 55, 4: 50, 5: 45, 6: 40}
"""MIDI numbers of the open strings, as LilyPond's guitar tuning gives them (string-tunings-init.ly)."""


@pytest.mark.long(but=18)
@pytest.mark.parametrize("name", SCALES)
@pytest.mark.parametrize("tonic", ["C", "F#", "Bb"])
def test_every_spot_of_a_scale_and_no_other_is_shown(name: str, tonic: str) -> None:
    view = ScaleView.of(parse_note(tonic), name, Neck(STANDARD, 15))
    wanted = {note.pitch_class for note in view.notes}
    shown = {(dot.spot.string, dot.spot.fret) for dot in view.all_dots}
    assert shown == {(s, f) for s, number in OPEN.items() for f in range(16) if (number + f) % 12 in wanted}


@pytest.mark.parametrize(
    ("typed", "tonic", "scale"),
    [
        ("Bb dorian", "Bb", "dorian"),
        ("A minor blues", "A", "minor blues"),
        ("c# harmonic minor", "C#", "harmonic minor"),
    ],
)
def test_a_scale_after_its_tonic_is_looked_up_as_such(
    typed: str, tonic: str, scale: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["key", *typed.split(), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert (found["tonic"], found["scale"]) == (tonic, scale)


@pytest.mark.parametrize(
    ("typed", "language", "tonic", "scale"),
    [
        ("A dorisch", "german", "A", "dorian"),
        ("H-phrygisch", "german", "B", "phrygian"),
        ("Es Äolisch", "german", "Eb", "aeolian"),
        ("a-Moll harmonisch", "german", "A", "harmonic minor"),
        ("A melodisch Moll", "german", "A", "melodic minor"),
        ("B Mollpentatonik", "german", "Bb", "minor pentatonic"),
        ("Fis-Dur-Pentatonik", "german", "F#", "major pentatonic"),
        ("C Ganztonleiter", "german", "C", "whole tone"),
        ("E-Moll-Tonleiter", "german", "E", "natural minor"),
        ("la dorico", "italian", "A", "dorian"),
        ("sib pentatonica minore", "italian", "Bb", "minor pentatonic"),
        ("ré mineur harmonique", "french", "D", "harmonic minor"),
        ("mi frigio", "spanish", "E", "phrygian"),
        ("la eólico", "spanish", "A", "aeolian"),
        ("A-minor blues", "english", "A", "minor blues"),
    ],
)
def test_a_scale_is_read_by_the_names_of_the_learners_language(
    typed: str, language: NoteLanguage, tonic: str, scale: str
) -> None:
    """The names of the modes are those of each language's textbooks (common practice)."""
    assert typed_scale(typed, language) == (parse_note(tonic), scale)


ALIKE = {
    "Am pentatonic": ("A", "minor pentatonic"),
    "a minor pentatonic scale": ("A", "minor pentatonic"),
    "C pentatonic": ("C", "major pentatonic"),
    "A blues scale": ("A", "minor blues"),
    "Am blues": ("A", "minor blues"),
    "Am dorian": ("A", "dorian"),
    "A natural minor": ("A", "natural minor"),
    "A natürlich moll": ("A", "natural minor"),
    "C major scale": ("C", "major"),
    "C whole-tone": ("C", "whole tone"),
    "C half whole": ("C", "half-whole diminished"),
    "E flat whole-half diminished scale": ("Eb", "whole-half diminished"),
    # for short, in one word, the other way round
    "A penta": ("A", "major pentatonic"),
    "Am pent": ("A", "minor pentatonic"),
    "G maj pent": ("G", "major pentatonic"),
    "E mixo": ("E", "mixolydian"),
    "A harm min": ("A", "harmonic minor"),
    "Ddorian": ("D", "dorian"),
    "Bbmixolydian": ("Bb", "mixolydian"),
    "C#dorian": ("C#", "dorian"),
    "mixolydian in E": ("E", "mixolydian"),
    "dorian in the key of A": ("A", "dorian"),
}
"""A bare pentatonic is the major one, as a bare tonic is a major key, and a blues scale the minor one: so does tonal
6.4.3 (npm, MIT) name "pentatonic" and "blues"."""


@pytest.mark.parametrize("typed", ALIKE)
def test_a_scale_is_the_same_on_the_screen_and_as_a_command(typed: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["key", *typed.split(), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    view = look_up(typed, Settings()).scale
    assert view is not None
    assert (found["tonic"], found["scale"]) == (view.tonic.name, view.name) == ALIKE[typed]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("C diminished", "is the name of two scales. Type C whole-half diminished or C half-whole diminished."),
        ("Es", "“Es” is a key in German note names, but yours are English. To change them, open Set-up: “Note names”."),
        ("H minor", "“H minor” is a key in German note names, but yours are English."),
        ("Cis dorian", "“Cis” is a key in German note names, but yours are English."),
        ("si minor", "“si minor” is a key in Italian, French or Spanish note names, but yours are English."),
    ],
)
def test_what_may_be_meant_is_told_alike_on_the_screen_and_by_the_command(
    typed: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["key", *typed.split()]) == 2
    assert told in capsys.readouterr().err
    with pytest.raises(UnknownName) as refused:
        look_up(typed, Settings())
    assert told in refused.value.message


def test_an_english_key_among_german_note_names_is_told() -> None:
    with pytest.raises(UnknownName, match="“Bb” is a key in English note names, but yours are German"):
        look_up("Bb", Settings(note_language="german"))


def test_the_chords_of_a_loop_are_told_their_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["key", "Am", "F", "C", "G"]) == 2
    assert capsys.readouterr().err == "fretsure: “Am F C G” are the chords of a loop. Type: fretsure loop Am F C G\n"


def test_the_mode_of_a_key_tells_which_pentatonic_is_meant(capsys: pytest.CaptureFixture[str]) -> None:
    for key, scale in (("Am", "minor pentatonic"), ("A", "major pentatonic")):
        assert main(["key", key, "--scale", "pentatonic", "--json"]) == 0
        assert json.loads(capsys.readouterr().out)["scale"] == scale


@pytest.mark.parametrize(
    ("typed", "unknown"), [("Bb foo", "foo"), ("E phrygian dominant", "phrygian dominant"), ("A altered", "altered")]
)
def test_where_a_note_comes_before_what_is_no_scale_the_scales_are_listed(
    typed: str, unknown: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["key", *typed.split()]) == 2
    assert capsys.readouterr().err == f"fretsure: “{unknown}” is not a scale known here. Scales: {', '.join(SCALES)}.\n"


def test_a_scale_where_a_loop_is_wanted_is_told_as_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["loop", "A", "blues"]) == 2
    assert capsys.readouterr().err == (
        "fretsure: “A blues” is a scale. Type: fretsure key A blues. For the loop: fretsure loop blues in A\n"
    )
    assert main(["key", "12-bar", "blues", "in", "A"]) == 2
    assert "Type: fretsure loop 12-bar blues in A" in capsys.readouterr().err


def test_what_is_neither_key_nor_scale_is_told_how_a_scale_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["key", "quinze"]) == 2
    assert capsys.readouterr().err == (
        "fretsure: “quinze” is not a key. "
        "Write a note and a mode, as in Eb minor, F#m or E. For a scale: fretsure key A --scale dorian\n"
    )


@pytest.mark.parametrize(
    ("typed", "advice"),
    [
        ("Bb dorain", "“dorain” is not a scale; the nearest is Bb dorian."),
        ("C diminished",
         "“diminished” is the name of two scales. Type C whole-half diminished or C half-whole diminished."),
    ],
)  # fmt: skip
def test_advice_that_says_what_to_type_stands_alone(
    typed: str, advice: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["key", *typed.split()]) == 2
    assert capsys.readouterr().err == f"fretsure: {advice}\n"


def test_the_spelled_scale_follows_its_degrees() -> None:
    view = ScaleView.of(parse_note("G#"), "harmonic minor", Neck(STANDARD))
    assert [note.name for note in view.notes] == ["G#", "A#", "B", "C#", "D#", "E", "F##"]


def test_two_notes_a_string_are_the_five_shapes() -> None:
    view = ScaleView.of(parse_note("A"), "minor pentatonic", Neck(STANDARD), count=2)
    assert [each.pattern.index_frets for each in view.patterns] == [(5,), (7,), (9, 10), (12,), (2,)]


def test_three_notes_a_string_of_the_major_scale_are_seven_patterns() -> None:
    view = ScaleView.of(parse_note("G"), "major", Neck(STANDARD, 20), count=3)
    assert len(view.patterns) == 7
    first = [dot.spot.fret for dot in view.patterns[0].pattern.dots]
    assert first == [3, 5, 7, 3, 5, 7, 4, 5, 7, 4, 5, 7, 5, 7, 8, 5, 7, 8]  # common practice, no source


def test_a_gap_between_strings_gives_two_fingerings_one_drawn_and_the_other_listed() -> None:
    view = ScaleView.of(parse_note("F"), "major", Neck(STANDARD), index_fret=7)
    lines = list(scale_lines(view, Look(), None))
    assert lines[2] == "index finger at fret 7: 1 stretch"
    assert lines[4:] == [
        "1 other fingering works equally well. You can choose:",
        "    B♭: string 2 fret 11 (little finger) or string 1 fret 6 (index finger)",
    ]


@pytest.mark.parametrize(
    ("tonic", "scale", "count", "headings"),
    [
        (  # the five shapes: the one on the 4 has two fingerings
            "A",
            "minor pentatonic",
            2,
            [
                "from the 1, 2 notes per string: index fret 5",
                "from the ♭3, 2 notes per string: index fret 7",
                "from the 4, 2 notes per string: index fret 9 or 10, equally good",
                "from the 5, 2 notes per string: index fret 12",
                "from the ♭7, 2 notes per string: index fret 2",
            ],
        ),
        (  # three notes of a seven-note scale on every string outgrow one hand place
            "G",
            "major",
            3,
            [f"from the {degree}, 3 notes per string: the hand shifts" for degree in "1234567"],
        ),
    ],
)
def test_every_pattern_says_where_it_starts_and_where_the_hand_lies(
    tonic: str, scale: str, count: int, headings: list[str]
) -> None:
    """Common practice, no source."""
    view = ScaleView.of(parse_note(tonic), scale, Neck(STANDARD, 17), count=count)
    assert [each.heading for each in view.patterns] == headings


@pytest.mark.parametrize(
    ("tonic", "scale", "fret", "heading"),
    [
        ("F", "major", 5, "index finger at fret 5: no stretch"),
        ("F", "major", 7, "index finger at fret 7: 1 stretch"),
        ("E", "dorian", 5, "index finger at fret 5: 3 stretches"),
    ],
)
def test_a_hand_position_says_how_many_stretches_it_takes(tonic: str, scale: str, fret: int, heading: str) -> None:
    """Counted by hand on the neck, no source."""
    (only,) = ScaleView.of(parse_note(tonic), scale, Neck(STANDARD), index_fret=fret).patterns
    assert only.heading == heading


def test_an_open_string_takes_no_finger() -> None:
    view = ScaleView.of(parse_note("E"), "dorian", Neck(STANDARD), index_fret=1)
    assert "    A: string 6 fret 5 (little finger) or string 5 open" in list(scale_lines(view, Look(), None))


def test_one_neck_stands_for_all_fingerings_and_json_has_each(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["key", "E", "--scale", "dorian", "--index-fret", "5"]) == 0
    drawn = capsys.readouterr().out
    assert drawn.count("6 E ") == 1
    assert "7 other fingerings work equally well." in drawn
    assert main(["key", "E", "--scale", "dorian", "--index-fret", "5", "--json"]) == 0
    patterns = json.loads(capsys.readouterr().out)["patterns"]
    played = {tuple((dot["string"], dot["fret"]) for dot in pattern["dots"]) for pattern in patterns}
    assert len(patterns) == len(played) == 8


@pytest.mark.long(but=6)
@pytest.mark.parametrize("name", SCALES)
@pytest.mark.parametrize("tuning", ["standard", "seven-string", "bass"])
def test_the_choices_are_free_of_each_other(name: str, tuning: str) -> None:
    """Else a list of places would promise fingerings that there are not."""
    neck = Neck(find_tuning(tuning), 17)
    for fret in range(1, 13):
        (only,) = ScaleView.of(parse_note("E"), name, neck, index_fret=fret).patterns
        assert math.prod(len(places) for places in only.choices) == len(only.all)


def test_patterns_are_refused_where_no_hand_reaches_and_the_notes_are_still_shown() -> None:
    dadgad = Neck(find_tuning("dadgad"))
    with pytest.raises(UsageProblem, match="semitones apart"):
        ScaleView.of(parse_note("D"), "dorian", dadgad, count=3)
    assert ScaleView.of(parse_note("D"), "dorian", dadgad).all_dots


def test_patterns_that_have_no_room_on_the_neck_are_refused_with_what_fits() -> None:
    """Eighteen tones, five an octave, span 40 semitones and more, the open strings 24: the hand climbs 16 frets."""
    short, long = Neck(STANDARD, 15), Neck(STANDARD, 24)
    with pytest.raises(UsageProblem, match=r"3 notes per string fits on frets 1 to 15\.") as refused:
        ScaleView.of(parse_note("E"), "major pentatonic", short, count=3)
    assert refused.value.fix == 'Use --per-string 2 or --per-string 3 --scale "major".'
    assert ScaleView.of(parse_note("E"), "major pentatonic", short, count=2).patterns
    assert ScaleView.of(parse_note("E"), "major", short, count=3).patterns
    assert ScaleView.of(parse_note("E"), "major pentatonic", long, count=3).patterns
    with pytest.raises(UsageProblem, match='"natural minor"'):
        ScaleView.of(parse_note("E"), "minor pentatonic", short, count=3)
    with pytest.raises(UsageProblem, match="see the scale all over the neck"):
        ScaleView.of(parse_note("E"), "minor pentatonic", Neck(STANDARD, 12, 10), count=3)


def test_a_hand_beyond_the_neck_hears_how_far_it_can_go() -> None:
    with pytest.raises(UsageProblem, match="at fret 20 on a neck of 15 frets") as refused:
        ScaleView.of(parse_note("E"), "dorian", Neck(STANDARD, 15), index_fret=20)
    assert refused.value.fix == "It fits up to --index-fret 12."
    assert ScaleView.of(parse_note("E"), "dorian", Neck(STANDARD, 15), index_fret=12).patterns


def test_an_unknown_scale_is_answered_with_those_there_are() -> None:
    with pytest.raises(UnknownName, match="minor pentatonic, major pentatonic"):
        ScaleView.of(parse_note("D"), "hungarian", Neck(STANDARD))


def test_the_command_draws_or_writes_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["key", "A", "--scale", "minor blues", "--show", "degrees"]) == 0
    drawn = capsys.readouterr().out
    assert drawn.startswith("A minor blues: A C D E♭ E G (1 ♭3 4 ♭5 5 ♭7)")
    assert "(♭5)" in drawn
    assert main(["key", "Am", "--per-string", "2", "--json"]) == 0
    value = json.loads(capsys.readouterr().out)
    assert value["scale"] == "minor pentatonic"
    assert [pattern["stretches"] for pattern in value["patterns"]] == [0, 0, 1, 0, 0]
    assert value["patterns"][0]["dots"][0] == {"string": 6, "fret": 5, "note": "A", "degree": "1", "finger": 1}
