"""What may be typed into every kind of answer field, and that anything else is refused in one clear sentence."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drill.errors import TheoreticalKey, UnknownName
from drill.questions.answers import (
    AnswerKind,
    AnyKeyAnswer,
    ChordAnswer,
    DegreeAnswer,
    FingerAnswer,
    FretAnswer,
    KeyAnswer,
    LetterAnswer,
    NoteAnswer,
    NumeralAnswer,
    SignatureAnswer,
)
from drill.questions.wording import to_ascii, to_typed
from drill.theory.chords import parse_chord
from drill.theory.keys import parse_key
from drill.theory.names import NOTE_LANGUAGES, NoteLanguage

A_MINOR, B_FLAT = NumeralAnswer(parse_key("Am")), NumeralAnswer(parse_key("Bb"))
KINDS: list[AnswerKind] = [
    NoteAnswer(),
    LetterAnswer(),
    KeyAnswer("major"),
    KeyAnswer("minor"),
    AnyKeyAnswer(),
    SignatureAnswer(),
    FretAnswer(15),
    FingerAnswer(),
    DegreeAnswer(),
    ChordAnswer(),
    A_MINOR,
    B_FLAT,
]


@pytest.mark.long(but=19)
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: to_ascii(kind.hint))
@pytest.mark.parametrize("language", NOTE_LANGUAGES)
def test_what_a_field_gives_as_an_example_can_be_typed_in_every_language(
    kind: AnswerKind, language: NoteLanguage
) -> None:
    examples = to_typed(kind.hint, language).partition("such as ")[2].partition(";")[0]
    for example in examples.split(" or ") if examples else ():
        assert kind.read(example, language)


@pytest.mark.parametrize(
    ("language", "hints"),
    [
        ("english", ["a note, such as Eb", "a minor key, such as Em", "a chord, such as Gm or Bdim"]),
        ("german", ["a note, such as Es", "a minor key, such as Em", "a chord, such as Gm or Hdim"]),
        ("italian", ["a note, such as Mib", "a minor key, such as Mim", "a chord, such as Solm or Sidim"]),
        ("french", ["a note, such as Mib", "a minor key, such as Mim", "a chord, such as Solm or Sidim"]),
    ],
)
def test_hints_name_notes_in_the_learners_language(language: NoteLanguage, hints: list[str]) -> None:
    assert [to_typed(kind.hint, language) for kind in (NoteAnswer(), KeyAnswer("minor"), ChordAnswer())] == hints


@pytest.mark.parametrize("language", NOTE_LANGUAGES)
def test_the_examples_of_chords_can_be_typed_in_every_language(language: NoteLanguage) -> None:
    with pytest.raises(UnknownName) as caught:
        parse_chord("?", language)
    first, last = caught.value.fix.partition("as in ")[2].removesuffix(".").split(" or ")
    read = [parse_chord(example, language).name for example in (*first.split(", "), last)]
    assert read == ["Am", "F#m7b5", "Bdim", "G7", "C/E"]


@pytest.mark.parametrize(
    ("language", "typed", "told"),
    [
        ("english", "G#", "G# major would need 8 sharps; no key signature holds more than seven. "
         "The same sound is written Ab major."),
        ("german", "Ais", "Ais major would need 10 sharps; no key signature holds more than seven. "
         "The same sound is written B major."),
        ("italian", "sol diesis", "Sol# major would need 8 sharps; no key signature holds more than seven. "
         "The same sound is written Lab major."),
    ],
)  # fmt: skip
def test_the_key_offered_for_one_that_cannot_be_written_can_be_typed(
    language: NoteLanguage, typed: str, told: str
) -> None:
    with pytest.raises(TheoreticalKey) as refused:
        parse_key(typed, language)
    assert str(refused.value) == told
    parse_key(told.removesuffix(".").partition("is written ")[2], language)


def test_the_examples_of_keys_can_be_typed_in_every_language() -> None:
    for language in NOTE_LANGUAGES:
        with pytest.raises(UnknownName) as caught:
            KeyAnswer("major").read("?", language)
        *first, last = caught.value.fix.partition("as in ")[2].removesuffix(".").split(" or ")
        for example in (*first[0].split(", "), last):
            assert parse_key(example, language)


@pytest.mark.parametrize(
    ("kind", "canonical", "typed"),
    [
        (NoteAnswer(), "Bb", ["Bb", "bb", "B♭", "b flat", "B-flat", "Bflat", " bb ", "Ｂb"]),
        (NoteAnswer(), "F#", ["F#", "f#", "F♯", "f sharp", "F-sharp"]),
        (NoteAnswer(), "F##", ["Fx", "F##", "F𝄪"]),
        (LetterAnswer(), "F", ["F", "f", "Ｆ"]),
        (KeyAnswer("minor"), "G# minor", ["G#", "G#m", "g# minor", "G♯ min", "G#-"]),
        (KeyAnswer("major"), "Bb major", ["Bb", "bb", "Bb major", "B♭ maj", "BbM"]),
        (KeyAnswer("minor"), "C major", ["C major"]),
        (AnyKeyAnswer(), "A minor", ["Am", "a minor", "A min", "A-"]),
        (AnyKeyAnswer(), "C major", ["C", "c", "C major"]),
        (
            SignatureAnswer(),
            "3 flats",
            ["3 flats", "3b", "3 b", "bbb", "♭♭♭", "three flats", "3♭", "3 FLATS", "3 flat"],
        ),
        (SignatureAnswer(), "1 sharp", ["1 sharp", "1#", "#", "one sharp", "1 sharps", "♯"]),
        (SignatureAnswer(), "7 flats", ["7 flats", "bbbbbbb"]),
        (SignatureAnswer(), "0", ["0", "none", "no", "no sharps", "no sharps or flats", "0 flats", "0#", "None"]),
        (FretAnswer(15), "8", ["8", "fret 8", "Fret 8", " 8 ", "08", "８", "٨"]),
        (FretAnswer(15), "0", ["0", "fret 0"]),
        (FingerAnswer(), "4", ["4", "little", "Little finger", "pinky", "finger 4", "finger 4 (little)", "4 (little)"]),
        (FingerAnswer(), "1", ["1", "index", "INDEX finger"]),
        (DegreeAnswer(), "b3", ["b3", "♭3", "3b", "flat 3", "flat third", "minor third", "b3rd", "B3", "flat-third"]),
        (DegreeAnswer(), "5", ["5", "fifth", "perfect fifth", "5th"]),
        (DegreeAnswer(), "1", ["1", "tonic", "root", "octave", "8", "1st"]),
        (DegreeAnswer(), "#4", ["#4", "♯4", "sharp fourth"]),
        (ChordAnswer(), "Gm", ["Gm", "gm", "G minor", "G-", "Gmin"]),
        (ChordAnswer(), "E#dim", ["E#dim", "E♯°", "e#o"]),
        (ChordAnswer(), "E", ["E", "e", "E major", "Emaj"]),
        (B_FLAT, "vi", ["vi", " vi "]),
        (B_FLAT, "viio", ["viio", "vii°", "viidim"]),
        (B_FLAT, "VI", ["VI"]),
        (A_MINOR, "VI", ["VI", "bVI", "♭VI"]),
        (A_MINOR, "v", ["v"]),
        (A_MINOR, "V", ["V"]),
    ],
)
def test_sensible_spellings_are_read_alike(kind: AnswerKind, canonical: str, typed: list[str]) -> None:
    assert [kind.read(text) for text in typed] == [canonical] * len(typed)
    assert kind.read(canonical) == canonical


@pytest.mark.parametrize(
    ("kind", "typed"),
    [
        (NoteAnswer(), ["", " ", "H", "J", "B flat major", "4", "bbbbb", "?"]),
        (LetterAnswer(), ["", "F#", "Bb", "H", "7"]),
        (KeyAnswer("minor"), ["", "minor", "H", "4 flats"]),
        (AnyKeyAnswer(), ["", "X", "m"]),
        (SignatureAnswer(), ["", "3", "8 flats", "sharps", "3 flats 2 sharps", "Eb", "-1", "b#"]),
        (FretAnswer(15), ["", "16", "-1", "99", "1000", "3.5", "x", "fret", "1e1", "²"]),
        (FingerAnswer(), ["", "0", "5", "thumb", "12", "finger", "1 4", "4 (index)", "1 1 1 4"]),
        (DegreeAnswer(), ["", "9", "0", "bb3", "b3b", "b", "flat", "iii", "4 5"]),
        (ChordAnswer(), ["", "X", "Am F", "4", "Gmi7b"]),
        (A_MINOR, ["", "6", "VIII", "Am", "x"]),
    ],
)
def test_a_slip_of_the_keyboard_is_told_and_not_judged(kind: AnswerKind, typed: list[str]) -> None:
    for text in typed:
        with pytest.raises(UnknownName) as refused:
            kind.read(text)
        assert refused.value.fix, text


@pytest.mark.parametrize(
    ("language", "typed", "canonical"),
    [
        ("english", "b", "B"),
        ("german", "b", "Bb"),
        ("german", "h", "B"),
        ("german", "es", "Eb"),
        ("german", "As", "Ab"),
        ("french", "si bémol", "Bb"),
        ("italian", "sib", "Bb"),
        ("spanish", "fa sostenido", "F#"),
    ],
)
def test_notes_are_read_in_the_learners_language(language: NoteLanguage, typed: str, canonical: str) -> None:
    """What `b`, `es` and `as` mean: LilyPond 2.24.1, note names of six languages."""
    assert NoteAnswer().read(typed, language) == canonical
    assert ChordAnswer().read(f"{typed} m7", language) == f"{canonical}m7"
    assert KeyAnswer("minor").read(typed, language) == f"{canonical} minor"


def test_a_german_b_is_no_letter_without_a_sign() -> None:
    assert LetterAnswer().read("h", "german") == "B"
    with pytest.raises(UnknownName):
        LetterAnswer().read("b", "german")


@pytest.mark.parametrize(
    ("kind", "answer", "shown"),
    [
        (NoteAnswer(), "Bb", "B♭"),
        (KeyAnswer("minor"), "F# minor", "F♯ minor"),
        (SignatureAnswer(), "0", "no sharps or flats"),
        (SignatureAnswer(), "2 flats", "2 flats"),
        (FretAnswer(15), "8", "fret 8"),
        (FingerAnswer(), "4", "finger 4 (little)"),
        (DegreeAnswer(), "b3", "♭3"),
        (ChordAnswer(), "Bbm", "B♭m"),
        (A_MINOR, "iio", "ii°"),
        (AnyKeyAnswer(), "Eb major", "E♭ major"),
    ],
)
def test_answers_are_shown_with_real_signs(kind: AnswerKind, answer: str, shown: str) -> None:
    assert kind.show(answer) == shown


anything = st.text(max_size=50) | st.text("ABCDEFGHabcdefgh#b♭♯ mM7-°iIvVx0123456789sharpflatmin", max_size=14)


@pytest.mark.long(but=2)
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: to_ascii(kind.hint))
@settings(max_examples=50)
@given(text=anything, language=st.sampled_from(NOTE_LANGUAGES))
def test_any_text_is_read_or_refused(kind: AnswerKind, text: str, language: NoteLanguage) -> None:
    try:
        canonical = kind.read(text, language)
    except UnknownName as error:
        assert error.fix
        assert len(error.message) < 200
        assert error.message.isprintable()
    else:
        assert canonical.isascii()
        assert kind.read(canonical) == canonical
        assert kind.show(canonical, language)


@pytest.mark.long(but=20)
@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: to_ascii(kind.hint))
@pytest.mark.parametrize(
    "text", ["a" * 1_000_000, "1" * 1_000_000, "\x1b[2J\x00\x07", "b\u202e#", "\ud800", "♭" * 50, "i" * 9000]
)
def test_long_lines_and_control_characters_do_no_harm(kind: AnswerKind, text: str) -> None:
    with pytest.raises(UnknownName) as refused:
        kind.read(text)
    assert len(str(refused.value)) < 400
    assert refused.value.message.isprintable()
