"""Looking up a key or a chord loop: what is said, what is drawn, and the same as exact JSON."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from drill.errors import UnknownName, UsageProblem
from drill.lookup.charts import read_chart
from drill.lookup.keys import KeyView, key_lines, key_object
from drill.lookup.loops import LoopView, loop_lines, loop_object
from drill.lookup.scales import ScaleView, scale_lines
from drill.present.neck_drawing import Look
from drill.system.tunings import find_tuning, tunings
from drill.theory.chords import CHORD_KINDS, parse_chord
from drill.theory.keys import KEYS, parse_key
from drill.theory.names import parse_note
from drill.theory.neck import STANDARD, Neck
from tests.support.arithmetic import anchors, instrument, minor_sound, pitch_class, scale, signs

NECK = Neck(STANDARD)


HOME = "that depends on the chord that feels like home."


def key_text(name: str, neck: Neck = NECK, look: Look | None = None, *, all_shapes: bool = False) -> str:
    view = KeyView.of(parse_key(name), neck)
    return "\n".join(key_lines(view, look or Look(), all_shapes=all_shapes, width=None))


def loop_view(text: str, neck: Neck = NECK) -> LoopView:
    return LoopView.of(read_chart(text), neck)


def loop_text(text: str, neck: Neck = NECK, look: Look | None = None) -> str:
    return "\n".join(loop_lines(loop_view(text, neck), look or Look(), width=None))


# -- keys --------------------------------------------------------------------------------------------------------------


def test_a_key_in_words_and_on_one_neck() -> None:
    assert key_text("F minor").splitlines() == [
        "F minor, relative A♭ major, 4 flats: B♭ E♭ A♭ D♭",
        "Low-E-string shape: index fret 1; on string 6 (low E) index finger on F, the minor tonic, fret 1; "
        "little finger on A♭, the major tonic, fret 4",
        "A-string shape: index fret 8; on string 5 (A) index finger on F, the minor tonic, fret 8; "
        "little finger on A♭, the major tonic, fret 11",
        "",
        "1 E     ║◆1m┬───┬───┬●4M┬───┬───┬───┬(1)┬───┬───┬(4)┬───┬───┬───┬───┐",
        "2 B     ║(1)┼───┼───┼(4)┼───┼───┼───┼───┼●2M┼───┼(4)┼───┼───┼───┼───┤",
        "3 G     ║●1M┼───┼(3)┼───┼───┼───┼───┼(1)┼───┼◆3m┼───┼───┼───┼───┼───┤",
        "4 D     ║(1)┿━━━┿◆3m┿━━━┿━━━┿━━━┿━━━┿(1)┿━━━┿(3)┿━━━┿━━━┿━━━┿━━━┿━━━┥",
        "5 A     ║(1)┿━━━┿(3)┿━━━┿━━━┿━━━┿━━━┿◆1m┿━━━┿━━━┿●4M┿━━━┿━━━┿━━━┿━━━┥",
        "6 E     ║◆1m┷━━━┷━━━┷●4M┷━━━┷━━━┷━━━┷(1)┷━━━┷━━━┷(4)┷━━━┷━━━┷━━━┷━━━┙",
        "     0    1   2  ·3·  4  ·5·  6  ·7·  8  ·9·  10  11 :12: 13  14 ·15·",
        "",
        "◆ m minor tonic   ● M major tonic   position rule: one finger per fret from the index fret",
    ]


def test_all_five_shapes_one_by_one() -> None:
    text = key_text("A minor", all_shapes=True)
    places = ["Low-E-string shape: index fret 5", "D-string shape: index fret 7",
              "Shape that starts on the 4: two fingerings work equally well, index fret 9 or 10",
              "A-string shape: index fret 12", "G-string shape: index fret 2"]  # fmt: skip
    assert [line for line in text.splitlines() if line in places] == places
    assert text.count("6 E ") == 5


def test_the_dots_show_degrees_as_the_key_counts_them() -> None:
    """Under the index finger of both shapes: the 1 of the minor key, the 6 of its relative major."""
    minor = key_text("A minor", look=Look(show="degrees")).splitlines()[9]
    major = key_text("C major", look=Look(show="degrees")).splitlines()[9]
    assert minor.startswith("6 E     ║━━━┷━━━┷━━━┷━━━┷◆1m┷━━━┷━━━┷●♭3M")
    assert major.startswith("6 E     ║━━━┷━━━┷━━━┷━━━┷◆6m┷━━━┷━━━┷●1M┷")
    assert "●CM" in key_text("C major", look=Look(show="notes"))


def test_a_neck_too_short_for_a_shape_says_so() -> None:
    text = key_text("A minor", Neck(STANDARD, 12))
    assert "A-string shape: needs more frets than this neck has" in text


@pytest.mark.long(but=1)
@pytest.mark.parametrize("width", [40, 77, 80])
def test_a_window_shows_the_lowest_shape_whole_and_both_on_eighty_columns(width: int) -> None:
    neck, counted = Neck(STANDARD, 22), instrument("standard", 22, 0)
    for key in KEYS:
        lines = list(key_lines(KeyView.of(key, neck), Look(), all_shapes=False, width=width))
        frets = [int(number) for number in re.findall(r"\d+", "\n".join(lines).split("6 E ")[1].splitlines()[1])]
        firsts = sorted(anchors(counted, string, minor_sound(key.short))[0] for string in (5, 6))
        for index in firsts if width > 70 else firsts[:1]:
            assert {*range(index, index + 4)} <= {*frets}, key


def test_a_capo_is_said() -> None:
    assert "capo at fret 2: frets are counted from the capo" in key_text("Em", Neck(STANDARD, 15, 2))


def test_an_instrument_without_shapes_shows_its_tonics() -> None:
    text = key_text("Dm", Neck(find_tuning("dadgad"), 12))
    assert "Guitar, DADGAD has neighbouring strings 7 semitones apart" in text
    assert text.count("◆Dm") == 3 * 2 + 3  # frets 0 and 12 of three strings, once on G and on both A strings
    assert "position rule" not in text


@pytest.mark.parametrize(("frets", "capo"), [(15, 0), (24, 0), (12, 2)])
def test_json_agrees_with_counting(frets: int, capo: int) -> None:
    neck, counted = Neck(STANDARD, frets, capo), instrument("standard", frets, capo)
    for key in KEYS:
        value = json.loads(json.dumps(key_object(KeyView.of(key, neck))))
        assert (value["key"], value["signature"]) == (key.name, signs(key.tonic.name, key.mode))
        assert value["notes"] == scale(key.tonic.name, key.mode)
        assert {(each["string"], each["fret"]) for each in value["tonics"]} == {
            (string, fret) for string in range(1, 7) for fret in counted.frets(string, pitch_class(key.tonic.name))
        }
        for anchor in value["anchors"]:
            assert anchor["index_frets"] == anchors(counted, anchor["string"], minor_sound(key.short))
            assert (anchor["minor_tonic"]["finger"], anchor["major_tonic"]["finger"]) == (1, 4)
        for shape in value["shapes"]:
            for dot in shape["dots"]:
                assert counted.sound(dot["string"], dot["fret"]) % 12 == pitch_class(dot["note"])
                assert shape["tied"] == (dot["finger"] is None)


def test_json_is_plain_and_complete() -> None:
    value = key_object(KeyView.of(parse_key("Bb"), NECK))
    assert list(value) == ["key", "relative", "signature", "altered", "notes", "tuning", "frets", "capo", "tonics",
                           "anchors", "shapes", "no_shapes"]  # fmt: skip
    assert value["altered"] == ["Bb", "Eb"]
    assert json.dumps(value, ensure_ascii=False).isascii()
    assert key_object(KeyView.of(parse_key("Bb"), Neck(find_tuning("open-g"))))["no_shapes"]


# -- loops -------------------------------------------------------------------------------------------------------------


def test_an_open_loop_gives_the_result_first_then_one_hand_and_where_to_land() -> None:
    """Open Music Theory, pop rock harmony: this loop is VI-IV-I-V in C major or I-VI-III-VII in A minor."""
    lines = loop_text("Am F C G").splitlines()
    assert [re.sub(r"\d+%", "N%", line) for line in lines[:3]] == [
        "Am F C G: fits C major or A minor",
        "C major (N%): low-E-string shape index fret 5; A-string shape index fret 12; scale C D E F G A B",
        "A minor (N%): low-E-string shape index fret 5; A-string shape index fret 12; scale A B C D E F G",
    ]
    assert [line for line in lines if line.startswith("over ")] == [
        "over Am: the pentatonic contains A, C and E",
        "over F: the pentatonic contains A and C but not F",
        "over C: the pentatonic contains C, E and G",
        "over G: the pentatonic contains G and D but not B",
    ]
    assert sum(line.startswith("6 E ") for line in lines) == 1
    assert lines[-2:] == [
        "It may be C major or A minor: that depends on the chord that feels like home.",
        "Add --rests CHORD to say which chord it rests on.",
    ]


def test_a_decided_loop_gives_one_key() -> None:
    text = loop_text("Am | G | F | E7")
    assert text.startswith("Am G F E7: A minor\nA minor (")
    assert text.endswith("So the key is A minor.")
    assert "over E7: the pentatonic contains E and D but not G♯ or B" in text


@pytest.mark.parametrize(
    ("loop", "tonic", "low", "high"),
    [("A7 D7 E7", "A", 5, 12), ("E7 A7 B7", "E", 12, 7), ("Db7 Gb7 Ab7", "D♭", 9, 4), ("G7", "G", 3, 10)],
)
def test_over_a_blues_the_minor_shape_is_told_too(loop: str, tonic: str, low: int, high: int) -> None:
    """Common practice, no source: the minor pentatonic of the tonic is played over all chords of a blues."""
    assert (
        f"It is a blues, so the minor pentatonic of {tonic} fits over all of it: "
        f"low-E-string shape index fret {low}; A-string shape index fret {high}"
    ) in loop_text(loop).splitlines()


def test_no_scale_is_printed_for_a_blues_that_clashes_with_its_sevenths() -> None:
    """The seventh of A7 is G, and A major has G sharp; each chord has the scale of its own seventh."""
    lines = loop_text("A7 D7 E7").splitlines()
    assert "scale" not in lines[1]
    assert lines[2] == (
        "Each chord has its own flat seventh: play A mixolydian over A7, D mixolydian over D7 and E mixolydian over E7."
    )
    assert "scale G A B C D E F" in loop_text("G7").splitlines()[1]


@pytest.mark.parametrize("loop", ["E7 A7 D7 G7", "C7 A7 D7 G7"])
def test_a_chain_of_sevenths_is_no_blues_of_one_scale(loop: str) -> None:
    """G sharp, the third of E7, lies beside the G of that pentatonic, and E7 is no chord of a blues in G."""
    assert "minor pentatonic" not in loop_text(loop)


@pytest.mark.parametrize("loop", ["A7 D7 Am", "Am7 D7", "A D E7", "F7 Bb7 Cm"])
def test_what_is_no_blues_is_not_called_one(loop: str) -> None:
    assert "It is a blues" not in loop_text(loop)


def test_a_mode_is_named_with_its_scale_and_its_shapes() -> None:
    """D mixolydian has the notes of G major, and its major pentatonic is that of D (counted out)."""
    lines = loop_text("D C G").splitlines()
    assert re.sub(r"\d+%", "N%", lines[1]) == (
        "D mixolydian (N%): low-E-string shape index fret 7; A-string shape index fret 2; scale D E F♯ G A B C"
    )
    assert [line for line in lines if line.endswith(":")] == ["D mixolydian:", "G major:"]


def test_told_where_it_rests_a_loop_has_one_key() -> None:
    view = LoopView.of(read_chart("D C G"), NECK, parse_chord("D"))
    lines = list(loop_lines(view, Look(), width=None))
    assert lines[0] == "D C G, resting on D: D mixolydian"
    assert lines[1].startswith("D mixolydian: low-E-string")
    assert lines[-1] == "It rests on D, so the key is D mixolydian."
    value = loop_object(view)
    assert (value["rests"], value["open"], value["keys"][0]["likelihood"]) == ("D", False, 1.0)


def test_where_no_chord_lies_in_the_key_of_the_rest_the_chords_are_heard_alone_and_that_is_said() -> None:
    view = LoopView.of(read_chart("Am F C G"), NECK, parse_chord("E"))
    lines = list(loop_lines(view, Look(), width=None))
    assert lines[0] == "Am F C G: fits C major or A minor. E as the place to rest fits none of them well."
    assert lines[-1] == (
        "E is not among the chords, and no chord lies wholly in E major: listen again for the chord that feels like "
        "home. On Em it would be E phrygian."
    )
    value = loop_object(view)
    assert (value["rests"], value["rests_fits"], value["open"]) == ("E", False, True)
    assert [each["key"] for each in value["keys"]] == ["C major", "A minor"]
    assert loop_object(LoopView.of(read_chart("Am F C G"), NECK, parse_chord("Am")))["rests_fits"] is True
    assert loop_object(LoopView.of(read_chart("Am F C G"), NECK))["rests_fits"] is None


def test_a_refused_place_to_rest_keeps_its_name() -> None:
    view = LoopView.of(read_chart("Am F C G"), NECK, parse_chord("F#"))
    assert loop_object(view)["because"][-1] == (
        "F# is not among the chords, and no chord lies wholly in F# major: listen again for the chord that feels like "
        "home. On F#m it would be F# minor."
    )


def test_a_chord_of_rest_outside_the_loop_is_said() -> None:
    view = LoopView.of(read_chart("F G"), NECK, parse_chord("C"))
    assert loop_object(view)["because"][-1] == "C is not among the chords, but you rest there: the key is C major."


def test_a_chord_that_was_reduced_is_said() -> None:
    view = LoopView.of(read_chart("Dm7 G7b9#11 C"), NECK)
    assert loop_object(view)["because"][0] == "G7b9#11 is read as G7: third, fifth and seventh are kept."
    assert loop_object(view)["reduced"] == [{"written": "G7b9#11", "chord": "G7"}]
    assert loop_object(view)["loop"] == ["Dm7", "G7", "C"]


def test_the_note_counts_speak_only_when_asked() -> None:
    asked = "\n".join(loop_lines(LoopView.of(read_chart("Am F C G"), NECK, count_notes=True), Look(), width=None))
    opinion = "By note counts alone (Krumhansl-Kessler), C major ranks first (0.93) and A minor second (0.83)."
    assert opinion in asked
    assert "Krumhansl" not in loop_text("Am F C G")


def test_a_loop_writes_every_sign_on_screens_and_none_in_json() -> None:
    text = loop_text("C Dm7b5 Bb F C")
    assert "In C major the chords are I iiø7 ♭VII IV I" in text
    assert "Dm7♭5 is borrowed from the parallel minor" in text
    because = loop_object(loop_view("C Dm7b5 Bb F C"))["because"]
    assert "In C major the chords are I ii/o7 bVII IV I" in " ".join(because)
    assert all(sentence.isascii() for sentence in because)


@pytest.mark.parametrize(
    ("loop", "conclusion"),
    [
        ("C F G", "So the key is C major."),
        ("F C G Am", f"It may be C major or A minor: {HOME}"),
        ("D C G", f"It may be D mixolydian or G major: {HOME}"),
        ("Am F G", f"It may be A minor or C major: {HOME}"),
        ("Em7 A7 Dm7 G7", f"It may be D minor, E minor or C major: {HOME}"),
    ],
)
def test_what_follows_for_the_key(loop: str, conclusion: str) -> None:
    assert loop_object(loop_view(loop))["because"][-1] == conclusion


def test_a_chord_with_no_note_in_the_pentatonic_says_so() -> None:
    assert "over F♯: the pentatonic contains none of its notes" in loop_text("C G F# G C")


def test_a_loop_speaks_the_learners_note_language() -> None:
    view = LoopView.of(read_chart("Bm Es F B", "german"), NECK)  # B flat minor, E flat, F, B flat
    assert [chord.name for chord in view.reading.chords] == ["Bbm", "Eb", "F", "Bb"]
    text = "\n".join(loop_lines(view, Look(language="german"), width=None))
    assert text.startswith("Bm Es F B: ")


@pytest.mark.parametrize("loop", ["Am F C G", "Am G F E7", "Dm7 G7 Cmaj7", "Bm7b5 E7 Am", "A7 D7 E7", "C", "Am D"])
def test_loop_json_is_exact(loop: str) -> None:
    value = json.loads(json.dumps(loop_object(loop_view(loop))))
    assert value["loop"] == loop.split()
    assert value["open"] == (len(value["keys"]) > 1)
    likelihoods = [key["likelihood"] for key in value["keys"]]
    assert likelihoods == sorted(likelihoods, reverse=True)
    assert 0 < sum(likelihoods) <= 1
    counted = instrument("standard", 15, 0)
    for key in value["keys"]:
        minor = minor_sound(parse_key(key["key"]).short)
        five = {(minor + step) % 12 for step in (0, 3, 5, 7, 10)}
        assert {pitch_class(note) for note in key["scale"]} >= five
        assert key["key"].split()[1] == ("minor" if key["mode"] in ("minor", "dorian", "phrygian") else "major")
        assert len(key["numerals"]) == len(value["loop"])
        for chord in key["chords"]:
            assert sorted(chord["inside"] + chord["outside"]) == sorted(chord["notes"])
            assert {pitch_class(note) in five for note in chord["inside"]} <= {True}
            assert {pitch_class(note) in five for note in chord["outside"]} <= {False}
            sounds = {pitch_class(note) for note in chord["notes"]}
            for tone in chord["tones"]:
                assert counted.sound(tone["string"], tone["fret"]) % 12 in sounds
        for anchor in key["anchors"]:
            assert anchor["index_frets"] == anchors(counted, anchor["string"], minor)
    assert len(value["profile"]) == 3
    assert all(-1 <= each["correlation"] <= 1 for each in value["profile"])


@pytest.mark.long(but=6)
@pytest.mark.parametrize("suffix", CHORD_KINDS)
def test_every_kind_of_chord_may_stand_in_a_loop(suffix: str) -> None:
    view = LoopView.of(read_chart(f"Bb{suffix} Eb F"), NECK, count_notes=True)
    value = loop_object(view)
    assert value["loop"] == [f"Bb{suffix}", "Eb", "F"]
    assert all(f"Bb{suffix}" in [chord["chord"] for chord in key["chords"]] for key in value["keys"])
    assert "\n".join(loop_lines(view, Look(), width=80))


# -- at a terminal -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("width", [30, 80])
@pytest.mark.parametrize("all_shapes", [False, True])
def test_sentences_keep_to_the_terminal_and_break_between_words(width: int, all_shapes: bool) -> None:
    key, loop = KeyView.of(parse_key("Bbm"), NECK), loop_view("Am F C G")
    scale = ScaleView.of(parse_note("Gb"), "harmonic minor", NECK, count=3)
    outputs: tuple[Callable[[int | None], Iterator[str]], ...] = (
        lambda columns: key_lines(key, Look(), all_shapes=all_shapes, width=columns),
        lambda columns: loop_lines(loop, Look(), width=columns),
        lambda columns: scale_lines(scale, Look(), columns),
    )
    for lines in outputs:
        at_terminal, to_a_file = list(lines(width)), list(lines(None))
        assert max(map(len, "\n".join(at_terminal).splitlines())) <= width < max(map(len, to_a_file))
        assert words(at_terminal) == words(to_a_file)
        assert rows_of_drawings(at_terminal) == rows_of_drawings(to_a_file)


def words(lines: list[str]) -> list[str]:
    """The words of all sentences, whatever lines they stand on."""
    return [word for each in lines if "\n" not in each for word in each.split()]


def rows_of_drawings(lines: list[str]) -> list[int]:
    return [each.count("\n") for each in lines if "\n" in each]


def test_loops_that_are_none() -> None:
    with pytest.raises(UnknownName, match="“X” is not a chord"):
        loop_view("Am X")
    with pytest.raises(UsageProblem, match="a loop has 1 to 64"):
        loop_view("|")
    with pytest.raises(UsageProblem, match="65 chords: a loop has 1 to 64"):
        loop_view("C " * 65)


@pytest.mark.long(but=2)
@pytest.mark.parametrize("tuning", tunings())
def test_everything_can_be_looked_up_on_every_instrument(tuning: str) -> None:
    for frets, capo in ((12, 11), (24, 0)):
        neck = Neck(find_tuning(tuning), frets, capo)
        assert key_text("Eb", neck, all_shapes=True)
        assert key_object(KeyView.of(parse_key("Eb"), neck))["tuning"] == tuning
        assert loop_text("Cm Ab Eb Bb", neck)
        assert loop_object(loop_view("Cm Ab Eb Bb", neck))["open"]


# -- a light start -----------------------------------------------------------------------------------------------------


@pytest.mark.long(but=1)
@pytest.mark.parametrize("arguments", [["key", "Am"], ["key", "Am", "--json"], ["loop", "Am", "F", "C", "G"]])
def test_a_look_up_starts_light(arguments: list[str], tmp_path: Path) -> None:
    check = (
        f"import sys; from drill.cli.main import main; code = main({arguments}); "
        "heavy = {'pydantic', 'textual', 'sqlite3', 'sqlite_utils', 'drill.decks'} & sys.modules.keys(); "
        "sys.exit(f'{code} {heavy}' if code or heavy else 0)"
    )
    done = subprocess.run(
        [sys.executable, "-c", check],
        cwd=Path(__file__).parents[2],
        env={"XDG_CONFIG_HOME": str(tmp_path), "FRETSURE_RECORD": str(tmp_path / "record")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
