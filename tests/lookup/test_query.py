"""What is typed into a look-up: a key, a loop, or neither, with what keeps it from being one."""

from __future__ import annotations

import pytest

from drill.errors import TheoreticalKey, UnknownName, UsageProblem
from drill.lookup.query import FIFTH, look_up, look_up_loop, next_rest, stepped
from drill.settings import Settings
from drill.theory.names import NoteLanguage
from drill.theory.neck import Spot
from drill.theory.scales import SCALES


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
        assert found.chart
        found = look_up_loop(found.chart, Settings(), next_rest(found))
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
        ("I V vi IV in G", "G D Em C in G"),
        ("i-VI-III-VII in Am", "Am F C G in Am"),
        ("ii7 V7 Imaj7 in Bb", "Cm7 F7 Bbmaj7 in Bb"),
        ("1 5 6 4 in G", "G D Em C in G"),
        ("what key is Am F C G in A minor?", "Am F C G in Am"),
        ("A m F C G in the key of C", "Am F C G in C"),
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


@pytest.mark.parametrize(
    ("text", "chords", "key"),
    [
        ("Am F C G in Am", "Am F C G", "A minor"),
        ("Am F C G in A", "Am F C G", "A minor"),  # the loop has Am and no A
        ("Am F C G in C", "Am F C G", "C major"),
        ("Cm Ab Eb Bb in C", "Cm Ab Eb Bb", "C minor"),
        ("Em7 A7 in D", "Em7 A7", "D major"),  # a ii V whose tonic is left to the ear
        ("D 7 in G", "D7", "G major"),
        ("ii-V-I in G", "Am D G", "G major"),
        ("vi IV I V in G", "Em C G D", "G major"),
        ("i iv V in Am", "Am Dm E", "A minor"),
        ("1 4 5 in E", "E A B", "E major"),
        ("Gb Db Ebm Cb in F#", "Gb Db Ebm Cb", "Gb major"),  # as the loop spells it
    ],
)
def test_a_key_that_is_named_is_where_the_loop_rests(text: str, chords: str, key: str) -> None:
    """The numerals are those of common practice."""
    found = look_up(text, Settings())
    assert (" ".join(chord.name for chord in found.loop), [each.name for each in found.keys]) == (chords, [key])


def test_a_mode_that_is_named_counts_though_the_loop_has_another_chord_on_that_note() -> None:
    """C E flat G lies in C minor alone; of C F G, F and G lie in C major (counted out)."""
    found = look_up("Cm F G in C major", Settings())
    assert [each.name for each in found.keys] == ["C major"]


@pytest.mark.parametrize(
    ("text", "chords", "title"),
    [
        ("Em7 A7 in E dorian", "Em7 A7", "E dorian"),
        ("Am G in A dorian", "Am G", "A dorian"),  # the chords alone would be A minor as well
        ("F G in F lydian", "F G", "F lydian"),
        ("I bVII IV in D mixolydian", "D C G", "D mixolydian"),
        ("C#m F#7 in Db dorian", "C#m F#7", "C♯ dorian"),  # no signature can write D flat minor
        ("C F G in C ionian", "C F G", "C major"),
        ("Am F G in A aeolian", "Am F G", "A minor"),
    ],
)
def test_a_mode_that_is_named_is_the_mode(text: str, chords: str, title: str) -> None:
    found = look_up(text, Settings())
    assert (" ".join(chord.name for chord in found.loop), found.title) == (chords, title)


def test_a_chord_that_speaks_against_the_mode_that_is_named_is_told() -> None:
    """A major has C sharp, D mixolydian C (counted out)."""
    found = look_up("D G A in D mixolydian", Settings())
    assert found.title == "D major"
    assert "A does not lie in D mixolydian, so the chords decide the mode." in found.sentences


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("Am F C G in X", "“X” is not a key."),
        ("ii V I in H", "“H” is a key in German note names, but yours are English."),
        ("blues in quinze", "“quinze” is not a key."),
    ],
)
def test_chords_in_what_is_no_key_are_refused_for_that(text: str, problem: str) -> None:
    with pytest.raises(UnknownName) as refused:
        look_up(text, Settings())
    assert str(refused.value).startswith(problem)


@pytest.mark.parametrize(
    ("text", "chords", "taken"),
    [
        ("II V I in Bb", "Cm F Bb", ["II is read as ii, as jazz players write it: Cm, not C."]),
        ("II-V7-I in C", "Dm G7 C", ["II is read as ii, as jazz players write it: Dm, not D."]),
        (
            "III VI II V in C",
            "Em Am Dm G",
            [
                "III is read as iii, as jazz players write it: Em, not E.",
                "VI is read as vi, as jazz players write it: Am, not A.",
                "II is read as ii, as jazz players write it: Dm, not D.",
            ],
        ),
        # not safe: no chain that leads to V, small letters beside, a seventh that makes it a dominant, a minor key
        ("I II IV in C", "C D F", []),
        ("I III IV iv in C", "C E F Fm", []),
        ("vi II V I in C", "Am D G C", []),
        ("II7 V7 I in C", "D7 G7 C", []),
        ("VI V I in C", "A G C", []),
        ("III VI VII in Am", "C F G", []),
    ],
)
def test_capitals_are_read_as_jazz_players_mean_them_where_that_is_safe(
    text: str, chords: str, taken: list[str]
) -> None:
    """In a major key a chain of falling fifths to V is iii vi ii V (common practice, no source)."""
    found = look_up(text, Settings())
    assert " ".join(chord.name for chord in found.loop) == chords
    assert [each for each in found.sentences if "is read as" in each] == taken


BLUES = "A7 A7 A7 A7 D7 D7 A7 A7 E7 D7 A7 A7"


@pytest.mark.parametrize(
    ("text", "chords"),
    [
        ("12 bar blues in A", BLUES),
        ("12-bar blues in A", BLUES),
        ("twelve-bar blues in the key of A", BLUES),
        ("12bar blues in A major", BLUES),
        ("blues in A", BLUES),
        ("Blues in a", BLUES),
        ("A 12-bar blues", BLUES),
        ("minor blues in A", "Am7 Am7 Am7 Am7 Dm7 Dm7 Am7 Am7 E7 Dm7 Am7 Am7"),
        ("12-bar blues in Am", "Am7 Am7 Am7 Am7 Dm7 Dm7 Am7 Am7 E7 Dm7 Am7 Am7"),
        ("12-bar minor blues in Db", "C#m7 C#m7 C#m7 C#m7 F#m7 F#m7 C#m7 C#m7 G#7 F#m7 C#m7 C#m7"),
    ],
)
def test_a_blues_is_read_as_its_twelve_bars(text: str, chords: str) -> None:
    """Common practice, no source. No signature can write D flat minor."""
    found = look_up(text, Settings())
    assert " ".join(chord.name for chord in found.loop) == chords
    assert [key.tonic for key in found.keys] == [found.loop[0].root]


def test_the_scale_of_the_name_is_still_a_scale() -> None:
    assert look_up("A blues", Settings()).scale == look_up("A minor blues", Settings()).scale
    assert any("the scale of that name is A blues" in each for each in look_up("blues in A", Settings()).sentences)


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
        ("12-bar blues", "“12-bar blues” is a loop in any key. Say in which key: 12-bar blues in A."),
        ("5th string", "“5th string” is not looked up but drilled: see Focus."),
        ("D 7", "“D 7” is a single chord, neither a key nor a loop."),
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


@pytest.mark.parametrize("text", ["A phrygian dominant", "A altered"])
def test_where_a_note_comes_before_what_is_no_scale_the_scales_are_listed(text: str) -> None:
    with pytest.raises(UnknownName) as refused:
        look_up(text, Settings())
    assert refused.value.fix == f"Scales: {', '.join(SCALES)}."


@pytest.mark.parametrize(
    ("text", "up", "fifth"),
    [("Am", "B♭ minor", "E minor"), ("Ab", "A major", "E♭ major"), ("A dorian", "B♭ dorian", "E dorian")],
)
def test_steps_lead_through_the_keys(text: str, up: str, fifth: str) -> None:
    found = look_up(text, Settings())
    assert stepped(found, 1, Settings()).title == up
    assert stepped(found, FIFTH, Settings()).title == fifth
    around = found
    for _ in range(12):
        around = stepped(around, FIFTH, Settings())
    assert around.title == found.title


def test_steps_begin_somewhere() -> None:
    assert stepped(None, 1, Settings()).title == "A minor"


@pytest.mark.parametrize(
    ("text", "semitones", "chords", "keys"),
    [
        ("Am F C G", 1, "Bbm Gb Db Ab", "Db Bbm"),
        ("Am F C G", -1, "G#m E B F#", "B G#m"),
        ("C/E F G7 C", FIFTH, "G/B C D7 G", "G"),
        ("Em7 A7 in D", 1, "Fm7 Bb7", "Eb"),
        ("Gb Cb Db", 1, "G C D", "G"),
        ("blues in A", 2, BLUES.replace("E7", "F#7").replace("D7", "E7").replace("A7", "B7"), "B"),
    ],
)
def test_a_loop_moves_chord_by_chord_with_the_key_in_which_it_rests(
    text: str, semitones: int, chords: str, keys: str
) -> None:
    """Counted out, semitone by semitone."""
    moved = stepped(look_up(text, Settings()), semitones, Settings())
    assert " ".join(chord.name for chord in moved.loop) == chords
    assert " ".join(key.short for key in moved.keys) == keys


def test_where_a_loop_rests_moves_with_it_and_twelve_steps_lead_back() -> None:
    open_loop = look_up("D C G", Settings())
    assert open_loop.chart
    found = look_up_loop(open_loop.chart, Settings(), open_loop.loop[1])
    moved = stepped(found, 2, Settings())
    assert (moved.rests_on and moved.rests_on.name, moved.title) == ("D", "D lydian")
    around = found
    for _ in range(12):
        around = stepped(around, 1, Settings())
    assert around == found


@pytest.mark.parametrize(
    ("text", "title", "short"),
    [
        ("D C G", "D mixolydian / G major", "D mix / G"),
        ("Em7 A7", "E dorian / D major", "E dor / D"),
        ("C D", "G major / C lydian", "G / C lyd"),
        ("Am Bb in Am", "A phrygian", "A phr"),
        ("Am F C G", "C major / A minor", "C / Am"),
    ],
)
def test_the_title_of_a_loop_names_the_mode(text: str, title: str, short: str) -> None:
    found = look_up(text, Settings())
    assert (found.title, found.short) == (title, short)


def test_the_headline_says_where_the_index_finger_goes() -> None:
    """E flat lies at fret 11 of the low E string and 6 of the A string (common practice, no source)."""
    *_, frets = look_up("Ebm", Settings()).headline
    assert frets == "index fret 11 on string 6 (low E) · 6 on string 5 (A)"
