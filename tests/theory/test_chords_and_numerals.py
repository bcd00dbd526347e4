"""Chord names and roman numerals: what is read, what is refused. Spellings: outside/harmonies.py."""

from __future__ import annotations

import pytest

from drill.errors import UnknownName
from drill.theory.chords import CHORD_KINDS, Chord, chord_of, parse_chord, parse_chords
from drill.theory.harmony import chord_at, dominant, numeral_of, scale_chords, show_numeral
from drill.theory.keys import KEYS, Key, parse_key
from drill.theory.names import NOTE_LANGUAGES, NoteLanguage, parse_note
from drill.theory.pitch import LETTERS, Note


@pytest.mark.long(but=5)
@pytest.mark.parametrize("language", NOTE_LANGUAGES)
@pytest.mark.parametrize("letter", LETTERS)
def test_every_chord_shown_is_read_back_in_its_language(letter: str, language: NoteLanguage) -> None:
    for suffix in CHORD_KINDS:
        for accidental in range(-1, 2):
            chord = Chord(Note.of(letter, accidental), suffix)
            assert parse_chord(chord.shown_in(language), language) == chord


@pytest.mark.parametrize("letter", LETTERS)
def test_every_chord_is_read_by_its_name_alone_and_over_a_bass(letter: str) -> None:
    for suffix in CHORD_KINDS:
        for accidental in range(-1, 2):
            chord = Chord(Note.of(letter, accidental), suffix)
            assert parse_chord(chord.name) == chord
            assert parse_chord(f"{chord.name}/E").bass == (None if chord.root.name == "E" else parse_note("E")), chord


@pytest.mark.parametrize(
    ("texts", "name"),
    [
        ("Am A- Amin am Ａm A− A– A‑ A—", "Am"),
        ("F#m7b5 F♯m7♭5 F#ø F#ø7 F#-7b5 F#−7b5 F#min7b5", "F#m7b5"),
        ("Bb B♭ bb Bbmaj BbM B♭major", "Bb"),
        ("Cmaj7 CM7 CΔ CΔ7 Cmajor7 Cj7 CMaj7 CMAJ7", "Cmaj7"),
        ("Cm7 C-7 C–7 Cmin7 cm7 Cmi7", "Cm7"),
        ("Bdim B° Bo", "Bdim"),
        ("Bdim7 B°7 Bo7", "Bdim7"),
        ("Caug C+ C(#5)", "Caug"),
        ("G7 Gdom7", "G7"),
        ("Asus4 Asus", "Asus4"),
        ("C6/9 C69", "C69"),
        ("Ab5", "Ab5"),
        ("C/E", "C/E"),
        ("Am7/G", "Am7/G"),
        ("Db/Db", "Db"),
        ("Cm(maj7) CmM7 CminMaj7", "CmMaj7"),
        ("Cm(Maj9) Cmmaj9 CmMaj9 CmM9", "CmMaj9"),
        ("Cdim(Maj7) Cdimmaj7 CdimMaj7 C°M7", "CdimMaj7"),
        ("Cm7-5 Cm7b5", "Cm7b5"),
        ("C7+9 C7#9", "C7#9"),
        ("C7-13 C7b13", "C7b13"),
        ("D9sus D9sus4", "D9sus4"),
    ],
)
def test_ways_to_write_a_chord(texts: str, name: str) -> None:
    assert {parse_chord(text).name for text in texts.split()} == {name}


@pytest.mark.parametrize(
    ("text", "language", "name"),
    [
        ("Hm", "german", "Bm"),
        ("B7", "german", "Bb7"),
        ("Asus4", "german", "Asus4"),
        ("Asm7", "german", "Abm7"),
        ("Esus2", "german", "Esus2"),
        ("Fis/Cis", "german", "F#/C#"),
        ("lam7", "italian", "Am7"),
        ("Si♭maj7", "french", "Bbmaj7"),
        ("Sol7", "spanish", "G7"),
    ],
)
def test_chords_are_read_in_the_chosen_language(text: str, language: NoteLanguage, name: str) -> None:
    assert parse_chord(text, language).name == name


@pytest.mark.parametrize("text", ["Am F C G", "Am | F | C | G", "Am, F, C, G", " Am - F – C — G ", "|Am|F|C|G|"])
def test_several_chords_are_read_with_blanks_commas_bars_or_dashes_between(text: str) -> None:
    assert [chord.name for chord in parse_chords(text)] == ["Am", "F", "C", "G"]


def test_several_chords_are_read_in_the_chosen_language_and_one_bad_one_is_named() -> None:
    assert [chord.name for chord in parse_chords("Hm G B", "german")] == ["Bm", "G", "Bb"]
    assert parse_chords(" | - ") == ()
    with pytest.raises(UnknownName, match="“X”"):
        parse_chords("Am X G")


@pytest.mark.parametrize("text", ["", "H", "N.C.", "Cfoo", "/A", "A/", "A//B", "G/B/D", "m7", "7", "A" * 500, "\x00"])
def test_what_is_no_chord_is_refused(text: str) -> None:
    with pytest.raises(UnknownName, match="is not a chord") as refusal:
        parse_chord(text)
    assert refusal.value.message.isprintable()
    assert "F#m7b5" in refusal.value.fix


@pytest.mark.long(but=12)
@pytest.mark.parametrize("suffix", CHORD_KINDS)
def test_a_chord_is_found_again_from_its_notes(suffix: str) -> None:
    for fifths in range(-6, 7):
        chord = Chord(Note(fifths), suffix)
        assert chord_of(chord.notes) == chord
        assert chord.notes[0] == chord.root


def test_notes_of_no_known_chord_are_refused_by_name() -> None:
    with pytest.raises(UnknownName, match="C C# D do not make a chord"):
        chord_of(parse_note(name) for name in ("C", "C#", "D"))


@pytest.mark.parametrize(
    ("name", "triad"),
    [
        ("Cmaj7", "C"),
        ("Am7", "Am"),
        ("Bm7b5", "Bdim"),
        ("G13", "G"),
        ("Caug7", "Caug"),
        ("Dsus4", "Dsus4"),
        ("E5", "E5"),
        ("G7b5", "G"),
        ("G7alt", "G"),
        ("Gm7#5", "Gm"),
        ("G7no3", "G7no3"),
    ],
)
def test_a_chord_reduces_to_its_triad(name: str, triad: str) -> None:
    assert parse_chord(name).triad.name == triad


@pytest.mark.long(but=18)
@pytest.mark.parametrize("key", KEYS, ids=str)
@pytest.mark.parametrize("sevenths", [False, True])
def test_numerals_and_chords_of_a_key_match_both_ways(key: Key, sevenths: bool) -> None:
    chords = scale_chords(key, sevenths)
    assert [one.degree for one in chords] == [1, 2, 3, 4, 5, 6, 7]
    for one in chords:
        assert set(one.chord.notes) <= set(key.notes)
        assert numeral_of(one.chord, key) == one.numeral
        assert chord_at(one.numeral, key) == chord_at(show_numeral(one.numeral), key) == one.chord
    assert chord_at("V", key) == dominant(key)


@pytest.mark.parametrize(
    ("key", "numerals"),
    [
        ("C", "I ii iii IV V vi viio"),
        ("Am", "i iio III iv v VI VII"),
    ],
)
def test_the_triads_of_a_key(key: str, numerals: str) -> None:
    assert " ".join(one.numeral for one in scale_chords(parse_key(key))) == numerals


@pytest.mark.parametrize(
    ("numeral", "key", "chord"),
    [
        ("vi", "Bb", "Gm"),
        ("VI", "Am", "F"),
        ("bVI", "Am", "F"),
        ("♭VII", "A", "G"),
        ("bII", "Am", "Bb"),
        ("viio", "Am", "G#dim"),
        ("bviio", "Am", "Gdim"),
        ("#viio", "Am", "G#dim"),
        ("vii°", "F#", "E#dim"),
        ("viidim", "C#", "B#dim"),
        ("viiø7", "C", "Bm7b5"),
        ("vii/o7", "C", "Bm7b5"),
        ("V 7", "Em", "B7"),
        ("I7", "A", "A7"),
        ("Imaj7", "A", "Amaj7"),
        ("IM7", "A", "Amaj7"),
        ("IΔ", "A", "Amaj7"),
        ("IΔ7", "A", "Amaj7"),
        ("III+", "Am", "Caug"),
        ("#ivo", "C", "F#dim"),
    ],
)
def test_numerals_name_chords(numeral: str, key: str, chord: str) -> None:
    assert chord_at(numeral, parse_key(key)).name == chord


@pytest.mark.parametrize("numeral", ["", "VIII", "iI", "I°", "b", "4", "VIImaj", "X", "vi" * 100])
def test_what_is_no_numeral_is_refused(numeral: str) -> None:
    with pytest.raises(UnknownName, match="is not a roman numeral"):
        chord_at(numeral, parse_key("C"))


@pytest.mark.parametrize(
    ("chord", "key", "numeral", "shown"),
    [
        ("Bb", "C", "bVII", "♭VII"),
        ("F#dim", "C", "#ivo", "#iv°"),
        ("Bm7b5", "C", "vii/o7", "viiø7"),
        ("D9", "C", "II9", "II9"),
        ("Dm9", "C", "ii9", "ii9"),
        ("Gsus4", "C", "Vsus4", "Vsus4"),
        ("Cmaj9", "C", "Imaj9", "Imaj9"),
        ("G7b9", "C", "V7b9", "V7♭9"),
        ("Fmadd9", "C", "ivadd9", "ivadd9"),
        ("G7no3", "C", "V7no3", "V7no3"),
        ("D9sus4", "C", "II9sus4", "II9sus4"),
    ],
)
def test_chords_get_numerals_in_ascii_and_on_screen(chord: str, key: str, numeral: str, shown: str) -> None:
    found = numeral_of(parse_chord(chord), parse_key(key))
    assert (found, show_numeral(found)) == (numeral, shown.replace("#", "♯"))
