"""What is typed into a look-up: a key, a loop, or neither, with what keeps it from being one."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from drill.errors import TheoreticalKey, UnknownName, UsageProblem
from drill.lookup.charts import read_chart
from drill.lookup.in_other_words import understood
from drill.lookup.query import FIFTH, look_up, next_rest, stepped
from drill.settings import Settings
from drill.theory.names import NoteLanguage
from drill.theory.neck import Spot


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("Am", "Am"),
        ("a minor", "Am"),
        ("Bb", "Bb"),
        ("Am F C G", "C Am"),
        ("A | D | E", "A"),
        ("|: A | % | D | E7(#9) :|", "A"),
    ],
)
def test_a_key_or_the_chords_of_a_loop_are_found(text: str, keys: str) -> None:
    found = look_up(text, Settings())
    assert " ".join(key.short for key in found.keys) == keys
    assert found.picture


@pytest.mark.parametrize(
    "loop", ["C G Am F", "C/E F G", "Am | F - C", "G→C", "C → G→Am", "C->G", "C-G-Am-F", "C/G/Am/F", "C/E-F-G"]
)
def test_a_loop_may_have_bass_notes_bars_dashes_and_arrows(loop: str) -> None:
    assert look_up(loop, Settings()).keys


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "Nothing has been typed yet."),
        (" ", "Nothing has been typed yet."),
        ("Bdim", "“Bdim” is a single chord, neither a key nor a loop."),
        ("C5", "“C5” is a single chord, neither a key nor a loop."),
        ("Am/C", "“Am/C” is a single chord, neither a key nor a loop."),
        ("Am X G", "“X” is not a chord."),
        ("Am-X-G", "“X” is not a chord."),
        ("Am X", "“X” is not a chord."),
        ("quinze", "“quinze” is not a key or a chord."),
        ("quinze ans", "“quinze ans” is not a key or a chord."),
        ("Cfoo", "“Cfoo” is not a key or a chord; the nearest is C."),
        ("Amm G", "“Amm” is not a chord; the nearest is Am."),
    ],
)
def test_anything_else_is_refused_with_the_reason_and_what_to_type(text: str, problem: str) -> None:
    with pytest.raises(UnknownName) as refused:
        look_up(text, Settings())
    assert refused.value.message == problem
    assert refused.value.fix == (
        "Write a key, such as Eb or F#m, a scale, such as A dorian, or the chords of a loop: Am F C G."
    )


def test_examples_are_in_the_learners_note_language() -> None:
    with pytest.raises(UnknownName) as refused:
        look_up("quinze", Settings(note_language="french"))
    assert refused.value.fix == (
        "Write a key, such as Mib or Fa#m, a scale, such as La dorian, or the chords of a loop: Lam Fa Do Sol."
    )


def test_a_key_no_signature_can_write_is_answered_with_the_one_that_can() -> None:
    with pytest.raises(TheoreticalKey, match="The same sound is written Ab major"):
        look_up("G#", Settings())


def test_a_loop_is_found_with_its_keys_and_where_its_likeliest_key_lies() -> None:
    """A minor lies from fret 5 of string 6 on. Its five notes are A C D E G, and the chord of G is G B D."""
    found = look_up("Am F C G", Settings())
    assert [key.name for key in found.keys] == ["C major", "A minor"]
    assert found.sentences[1].startswith("C major (")
    assert "low-E-string shape index fret 5; A-string shape index fret 12" in found.sentences[1]
    assert "over G: the pentatonic contains G and D but not B" in found.sentences
    assert (found.neck, found.home) == (Settings().neck, range(5, 9))
    assert {mark.spot for mark in found.picture} >= {Spot(6, 5), Spot(6, 8)}


def test_the_learner_goes_through_the_chords_on_which_a_loop_may_rest() -> None:
    found = look_up("D C G", Settings())
    rests, keys = [], []
    for _ in range(4):
        found = look_up("D C G", Settings(), next_rest(found))
        rests.append(found.rests_on.name if found.rests_on else "")
        keys.append(" ".join(key.short for key in found.keys))
    assert rests == ["D", "C", "G", ""]
    assert keys == ["D", "C", "G", "D G"]


@pytest.mark.parametrize(
    ("text", "title", "notes"),
    [
        ("A dorian", "A dorian", "A B C D E F♯ G"),
        ("e flat Dorian", "E♭ dorian", "E♭ F G♭ A♭ B♭ C D♭"),
        ("a minor pentatonic", "A minor pentatonic", "A C D E G"),
    ],
)
def test_a_scale_is_found_and_spelled(text: str, title: str, notes: str) -> None:
    """The dorian mode is the minor scale with a raised sixth (Open Music Theory, diatonic modes)."""
    found = look_up(text, Settings())
    assert (found.title, found.keys) == (title, ())
    assert found.headline[0].startswith(notes + " (")
    assert {mark.note.name for mark in found.picture} == {
        name.replace("♭", "b").replace("♯", "#") for name in notes.split()
    }


@pytest.mark.parametrize(
    ("text", "short"),
    [
        ("the key of A", "A"),
        ("key: Am", "Am"),
        ("A minor key", "Am"),
        ("relative minor of C", "Am"),
        ("C relative minor", "Am"),
        ("relative key of Am", "C"),
        ("minor in A", "Am"),
        ("Am relative", "C"),
        ("loop Am F C G", "Am F C G"),
        ("A m F C G", "Am F C G"),
        ("A minor, F, C and G", "Am F C G"),
        ("what key is Am F C G in?", "Am F C G"),
        ("I V vi IV in G", "G D Em C"),
        ("i-VI-III-VII in Am", "Am F C G"),
        ("ii7 V7 Imaj7 in Bb", "Cm7 F7 Bbmaj7"),
        ("1 5 6 4 in G", "G D Em C"),
        ("dorian in A", "A dorian"),
        ("A dorian mode", "A dorian"),
    ],
)
def test_the_same_in_more_words_finds_the_same(text: str, short: str) -> None:
    """The numerals are those of common practice."""
    assert look_up(text, Settings()) == look_up(short, Settings())


@pytest.mark.parametrize(
    ("language", "text", "short"),
    [
        ("german", "a moll und c", "am c"),
        ("german", "h moll, fis dur", "hm fis"),
        ("italian", "la m fa", "lam fa"),
        ("french", "ré mineur, sol 7, do", "rém sol7 do"),
    ],
)
def test_chords_in_two_words_are_read_in_the_learners_language(language: NoteLanguage, text: str, short: str) -> None:
    settings = Settings(note_language=language)
    assert look_up(text, settings).loop == look_up(short, settings).loop != ()


def test_a_long_text_is_never_cut_to_what_can_be_read() -> None:
    with pytest.raises(UnknownName, match="“Xyz” is not a chord"):
        look_up("Am, " * 60 + "Xyz", Settings())


@pytest.mark.parametrize("text", ["Am F C G in Am", "what key is Am F C G in A minor?", "A m F C G in the key of C"])
def test_a_key_beside_the_chords_of_a_loop_is_none_of_its_chords(text: str) -> None:
    readers: list[Callable[[str], object]] = [lambda each: look_up(each, Settings()), read_chart]
    for read in readers:
        with pytest.raises(UsageProblem) as refused:
            understood(text, read, "english")
        assert refused.value.message.endswith("has chords and a key. A loop is looked up by its chords alone.")
        assert refused.value.fix == "Type: Am F C G."


@pytest.mark.parametrize(
    ("text", "refusal"),
    [
        ("relative major of C", "C major is major itself. Its relative minor is A minor."),
        ("relative minor of Am", "A minor is minor itself. Its relative major is C major."),
        ("Ebm relative minor", "Eb minor is minor itself. Its relative major is Gb major."),
    ],
)
def test_no_key_has_a_relative_of_its_own_mode(text: str, refusal: str) -> None:
    """Relatives share a signature, and one is major, the other minor (Open Music Theory, minor scales)."""
    with pytest.raises(UsageProblem) as refused:
        look_up(text, Settings())
    assert str(refused.value) == refusal


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("A dorain", "“dorain” is not a scale; the nearest is A dorian."),
        ("e flat Harmonic minr", "“Harmonic minr” is not a scale; the nearest is Eb harmonic minor."),
        ("A phrygian dominant", "“phrygian dominant” is neither a chord nor a scale known here."),
        ("A minr", "“minr” is not a scale; the nearest is A minor."),
        ("Em pentatonc", "“pentatonc” is not a scale; the nearest is E minor pentatonic."),
        ("dorian", "“dorian” needs a note before it: A dorian."),
        ("I V vi IV", "“I V vi IV” are numerals. Say in which key: I V vi IV in G."),
        ("5th string", "“5th string” is not looked up but drilled: see Focus."),
        ("D 7 in G", "“D7” is a single chord, neither a key nor a loop."),
        ("B dim", "“B dim” is a single chord, neither a key nor a loop."),
        (
            "Hm Em",
            "“Hm” is a chord in German note names, but yours are English. To change them, open Set-up: “Note names”.",
        ),
        ("Am Ddom", "“Ddom” is not a chord; the nearest is D."),
    ],
)
def test_a_slip_in_the_name_of_a_scale_is_told_from_one_in_a_chord(text: str, problem: str) -> None:
    with pytest.raises(UnknownName) as refused:
        look_up(text, Settings())
    assert refused.value.message == problem


@pytest.mark.parametrize(
    ("text", "up", "fifth"),
    [("Am", "B♭ minor", "E minor"), ("Ab", "A major", "E♭ major"), ("A dorian", "B♭ dorian", "E dorian")],
)
def test_steps_lead_through_the_keys(text: str, up: str, fifth: str) -> None:
    found = look_up(text, Settings())
    assert getattr(stepped(found, 1, Settings()), "title", None) == up
    assert getattr(stepped(found, FIFTH, Settings()), "title", None) == fifth
    around = found
    for _ in range(12):
        around = stepped(around, FIFTH, Settings())  # type: ignore[assignment]
    assert around.title == found.title


def test_steps_begin_somewhere_and_a_loop_has_none() -> None:
    assert getattr(stepped(None, 1, Settings()), "title", None) == "A minor"
    assert stepped(look_up("Am F C G", Settings()), 1, Settings()) is None


def test_the_headline_says_where_the_index_finger_goes() -> None:
    """E flat lies at fret 11 of the low E string and 6 of the A string (common practice, no source)."""
    *_, frets = look_up("Ebm", Settings()).headline
    assert frets == "index fret 11 on string 6 (low E) · 6 on string 5 (A)"
