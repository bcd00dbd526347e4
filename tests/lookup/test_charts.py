"""What stands on a chord chart: each symbol is read, reduced and said, or refused with the nearest."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drill.errors import FretsureError, UnknownName, UsageProblem
from drill.lookup.charts import nearest, read_chart, read_chord
from drill.theory.chords import CHORD_KINDS


def names(text: str) -> str:
    return " ".join(chord.name for chord in read_chart(text).chords)


@pytest.mark.parametrize(
    ("symbols", "notes"),
    [
        ("C9sus4 C9sus C7sus4add9 Csus9", "C F G Bb D"),
        ("C13sus4 C13sus", "C F G Bb D A"),
        ("Cadd11 Cadd4", "C E G F"),
        ("Cmadd11 C-add11 Cm(add11)", "C Eb G F"),
        ("C7#11 C7(#11) C7+11", "C E G Bb F#"),
        ("Cmaj13 CM13", "C E G B D F A"),
        ("Cm13 C-13 Cmin13", "C Eb G Bb D F A"),
        ("C7b13 C7(b13) C7-13", "C E G Bb Ab"),
        ("C7alt Calt", "C E Bb Db D# Gb G#"),
        ("Cm7-5 Cm7b5 C-7b5 Cø Cm7(b5)", "C Eb Gb Bb"),
        ("C2 Csus2 C5add9", "C D G"),
        ("C4 Csus4 Csus", "C F G"),
        ("Cm(maj9) CmM9 C-maj9", "C Eb G B D"),
        ("Cm6/9 Cm69 C-6/9", "C Eb G A D"),
        ("C6/9 C69 C(6/9)", "C E G A D"),
        ("C7no3 C7(no3)", "C G Bb"),
        ("Csus4add9 Csus2sus4 Csus24", "C D F G"),
        ("C7b9b13 C7(b9,b13) C7b13b9", "C E G Bb Db Ab"),
        ("Cmaj7#11 CΔ#11 CM7(#11)", "C E G B F#"),
        ("C^7 CΔ Cmaj7 Cj7", "C E G B"),
        ("C7+9 C7#9 C7(#9)", "C E G Bb D#"),
        ("C7/9 C9", "C E G Bb D"),
        ("(G7) G7", "G B D F"),
    ],
)
def test_every_way_to_write_a_chord_has_the_notes_it_names(symbols: str, notes: str) -> None:
    """Lead-sheet custom (common practice, no source), each chord counted out from its degrees."""
    for symbol in symbols.split():
        chord, whole = read_chord(symbol)
        assert {note.name for note in chord.notes} == set(notes.split()), symbol
        assert whole, symbol


@pytest.mark.parametrize(
    ("symbol", "read"),
    [
        ("C7b9#11", "C7"),
        ("C13(#9)", "C7"),
        ("C7#5#9", "Caug7"),
        ("C7sus4b9", "C7sus4"),
        ("Cm11b5", "Cm7b5"),
        ("Cø11", "Cm7b5"),
        ("Cdim9", "Cdim7"),
        ("C+maj9", "Cmaj7#5"),
        ("CmM7add11", "CmMaj7"),
        ("Gmaj7add13/B", "Gmaj7/B"),
        ("F#13(b9,#11)", "F#7"),
    ],
)
def test_unknown_extensions_leave_third_fifth_and_seventh(symbol: str, read: str) -> None:
    chart = read_chart(f"Am {symbol} G")
    assert [chord.name for chord in chart.chords] == ["Am", read, "G"]
    assert [(one.written, one.chord.name) for one in chart.reduced] == [(symbol, read)]


@pytest.mark.parametrize(
    ("text", "found"),
    [("Cfoo", "C"), ("Amm", "Am"), ("C7x", "C7"), ("Bbmin7q", "Bbm7"), ("F#m7b5?", "F#m7b5"), ("X", ""), ("7", "")],
)
def test_what_is_no_chord_is_refused_with_the_nearest(text: str, found: str) -> None:
    with pytest.raises(UnknownName) as refused:
        read_chart(f"Am {text}")
    assert nearest(text, "english") == found
    nearest_is = f"; the nearest is {found}" if found else ""
    assert refused.value.message == f"“{text}” is not a chord{nearest_is}."


@pytest.mark.parametrize(
    ("chart", "chords"),
    [
        ("Am | F | C | G", "Am F C G"),
        ("|| Am F ||", "Am F"),
        ("Am, F, C7(b9,b13), G", "Am F C7b9b13 G"),
        ("N.C. Am F NC n.c.", "Am F"),
        ("Am % F %", "Am Am F F"),
        ("| Am F | % | C |", "Am F Am F C"),
        ("Am / / / | F . . .", "Am F"),
        ("4/4 | C | G", "C G"),
        ("[Verse] C G [Chorus 2] F", "C G F"),
        ("C - G – F", "C G F"),
        # a chart that only repeats itself is one round
        ("|: C | Am | F | G :|", "C Am F G"),
        ("C G x4", "C G"),
        ("C G (x2)", "C G"),
        ("C G 2x", "C G"),
        ("|: C G :| x3", "C G"),
        # a repeat inside it is played out
        ("|: Am F :| C G", "Am F Am F C G"),
        ("|: Am F :| x3 C G", "Am F Am F Am F C G"),
        ("Dm | |: Am | F :| G", "Dm Am F Am F G"),
        ("", ""),
    ],
)
def test_bars_repeats_and_rests_are_understood(chart: str, chords: str) -> None:
    """Chart custom; common practice, no source."""
    assert names(chart) == chords


def test_a_sign_that_repeats_nothing_is_refused() -> None:
    with pytest.raises(UsageProblem, match="there is none"):
        read_chart("% Am")


def test_a_chart_may_not_unfold_without_end() -> None:
    assert len(read_chart("|: C G :| x99 Am |: F Bb :| x99").chords) <= 4000


@pytest.mark.parametrize(
    ("text", "chords"),
    [
        ("Am-F-C-G", "Am F C G"),
        ("C→G", "C G"),
        ("C/G/Am/F", "C G Am F"),
        ("C/E-F", "C/E F"),
        # these are one chord each: a minor seventh, a minor triad, another note in the bass
        ("C-7", "Cm7"),
        ("C-", "Cm"),
        ("C/E", "C/E"),
        ("D- G7", "Dm G7"),
    ],
)
def test_chords_may_have_dashes_arrows_and_slashes_between_them(text: str, chords: str) -> None:
    """Chart custom; common practice, no source."""
    assert names(text) == chords


def test_a_word_with_dashes_that_are_not_all_chords_is_refused() -> None:
    with pytest.raises(UnknownName, match="C-Q"):
        read_chart("Am C-Q")


@pytest.mark.long(but=21)
@pytest.mark.parametrize("suffix", CHORD_KINDS)
def test_every_kind_of_chord_is_read_whole_in_brackets_too(suffix: str) -> None:
    assert read_chord(f"F#{suffix}") == read_chord(f"(F#{suffix})")
    assert read_chord(f"F#{suffix}")[1]


def test_charts_are_read_in_the_note_language() -> None:
    assert [chord.name for chord in read_chart("Hm7(b5,11) | B", "german").chords] == ["Bm7b5", "Bb"]


CHART = st.text(alphabet="ABCGH#b♭m7913aduøΔ°()/|:%x2 .,-+sjlt^N", max_size=30)


@pytest.mark.long
@given(text=st.one_of(CHART, st.text(max_size=40)))
@settings(max_examples=300, deadline=None)
def test_anything_is_read_or_refused(text: str) -> None:
    try:
        chart = read_chart(text)
    except FretsureError as refusal:
        assert refusal.fix
    else:
        assert all(chord.notes for chord in chart.chords)
