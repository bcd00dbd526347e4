"""The thirty keys: what is true of every one of them."""

from __future__ import annotations

import pytest

from drill.errors import TheoreticalKey
from drill.theory.keys import KEYS, MAJOR_KEYS, MINOR_KEYS, PRACTICAL_KEYS, Key, parse_key, parse_tonic
from drill.theory.pitch import LETTERS, Note
from drill.theory.scales import MAJOR, NATURAL_MINOR, SCALES, spell


@pytest.mark.parametrize(
    ("key", "parallel"), [("C", "C minor"), ("Em", "E major"), ("Ab", "Ab minor"), ("Db", None), ("G#m", None)]
)
def test_the_parallel_key_has_the_same_tonic_where_a_signature_can_write_it(key: str, parallel: str | None) -> None:
    """Db minor would need eight flats, G# major eight sharps."""
    found = parse_key(key).parallel
    assert (found and found.name) == parallel


def test_there_are_fifteen_of_each_mode() -> None:
    assert len(set(MAJOR_KEYS)) == len(set(MINOR_KEYS)) == 15
    assert len(set(KEYS)) == 30


@pytest.mark.parametrize("key", KEYS, ids=str)
def test_relatives_share_a_signature_and_all_notes(key: Key) -> None:
    assert key.relative.relative == key
    assert key.relative.mode != key.mode
    assert key.relative.signature == key.signature
    assert set(key.relative.notes) == set(key.notes)
    assert {key.minor, key.major} == {key, key.relative}
    assert (key.minor.mode, key.major.mode) == ("minor", "major")


@pytest.mark.parametrize("key", KEYS, ids=str)
def test_the_notes_are_the_scale_of_the_mode(key: Key) -> None:
    formula = MAJOR if key.mode == "major" else NATURAL_MINOR
    assert key.notes == spell(key.tonic, formula)
    assert {note for note in key.notes if note.accidental} == set(key.altered_notes)


@pytest.mark.parametrize("key", KEYS, ids=str)
def test_every_name_of_a_key_is_read_back(key: Key) -> None:
    for name in (key.name, key.short, key.shown_in("english"), repr(key).removeprefix("Key('").removesuffix("')")):
        assert parse_key(name) == key


@pytest.mark.long(but=24)
@pytest.mark.parametrize("letter", LETTERS)
@pytest.mark.parametrize("accidental", range(-2, 3))
@pytest.mark.parametrize("mode", ["major", "minor"])
def test_a_tonic_makes_a_key_or_is_refused_with_one_that_sounds_alike(letter: str, accidental: int, mode: str) -> None:
    text = f"{Note.of(letter, accidental).name} {mode}"
    try:
        assert parse_key(text) in KEYS
    except TheoreticalKey as refusal:
        offered = parse_key(refusal.fix.removeprefix("The same sound is written ").removesuffix("."))
        tonic, read_mode = parse_tonic(text)
        assert offered.tonic.sounds_like(tonic)
        assert offered.mode == read_mode == mode


def test_the_twelve_practical_keys_cover_every_sound_once_in_each_mode() -> None:
    for mode in ("major", "minor"):
        sounds = [key.tonic.pitch_class for key in PRACTICAL_KEYS if key.mode == mode]
        assert sorted(sounds) == list(range(12))


def test_the_harmonic_minors_with_a_double_accidental_are_g_sharp_d_sharp_and_a_sharp() -> None:
    doubled = {
        key.tonic.name: note.name
        for key in MINOR_KEYS
        for note in spell(key.tonic, SCALES["harmonic minor"])
        if abs(note.accidental) > 1
    }
    assert doubled == {"G#": "F##", "D#": "C##", "A#": "G##"}


@pytest.mark.parametrize(
    ("text", "tonic", "mode"),
    [
        ("G#", "G#", None),
        ("Fb major", "Fb", "major"),
        ("Dbm", "Db", "minor"),
        ("A-", "A", "minor"),
        ("A–", "A", "minor"),
        ("A −", "A", "minor"),
        ("b‑flat minor", "Bb", "minor"),
        ("CM", "C", "major"),
    ],
)
def test_a_tonic_is_read_even_where_no_signature_can_write_its_key(text: str, tonic: str, mode: str | None) -> None:
    read, read_mode = parse_tonic(text)
    assert (read.name, read_mode) == (tonic, mode)


def test_keys_that_sound_alike_know_it() -> None:
    assert parse_key("G#m").sounds_like(parse_key("Abm"))
    assert not parse_key("G#m").sounds_like(parse_key("B"))


@pytest.mark.parametrize(
    ("one", "other", "same"), [("D#m", "Ebm", True), ("F#", "Gb", True), ("A", "Am", False), ("C", "G", False)]
)
def test_keys_sound_alike_only_in_the_same_mode(one: str, other: str, same: bool) -> None:
    assert parse_key(one).sounds_like(parse_key(other)) is same
