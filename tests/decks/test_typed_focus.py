"""A focus in a learner's own words: what they name is found, and what nobody could find is named."""

from __future__ import annotations

import pytest

from drill.decks import Focus
from drill.decks.strings import find_string
from drill.decks.typed_focus import read_typed_focus, read_words
from drill.decks.typed_weak import weak_called
from drill.errors import FretsureError, UnknownName
from drill.system.tunings import find_tuning
from drill.theory.keys import parse_key
from drill.theory.neck import STANDARD

E_FLAT_MINOR, A_MINOR = parse_key("Eb minor"), parse_key("Am")
UNDERSTOOD = {
    "Eb minor A string": Focus(strings=(5,), keys=(E_FLAT_MINOR,)),
    "e flat minor on the low E string": Focus(strings=(6,), keys=(E_FLAT_MINOR,)),
    "low-E string": Focus(strings=(6,)),
    "string 6 and string A": Focus(strings=(6, 5)),
    "Am on string 6 and string 5": Focus(strings=(6, 5), keys=(A_MINOR,)),
    "4": Focus(strings=(4,)),
    "Am, Ebm and C": Focus(keys=(A_MINOR, E_FLAT_MINOR, parse_key("C"))),
    "Am A-string shape": Focus(keys=(A_MINOR,), shapes=("string-5",)),
    "low E string shape in A minor": Focus(keys=(A_MINOR,), shapes=("string-6",)),
    "shape 3": Focus(shapes=("3",)),
    "relative minor": Focus(families=("relative-minor",)),
    "Am tonic-fret": Focus(keys=(A_MINOR,), families=("tonic-fret",)),
    "note at a fret on the A string": Focus(strings=(5,), families=("note-at-fret",)),
    "Key of a loop": Focus(families=("loop-tonic",)),
    "index fret": Focus(families=("shape-anchor",)),
    "relatives": Focus(families=("relative-minor", "relative-major")),
    "relatives of Am": Focus(keys=(A_MINOR,), families=("relative-minor", "relative-major")),
    "shape anchor": Focus(families=("shape-anchor",)),
    "chord tones": Focus(families=("chord-tone",)),
    "C G": Focus(keys=(parse_key("C"), parse_key("G"))),
    "C minor G e flat minor": Focus(keys=(parse_key("Cm"), parse_key("G"), E_FLAT_MINOR)),
    "sixth string": Focus(strings=(6,)),
    "Am 5th string": Focus(strings=(5,), keys=(A_MINOR,)),
    "Am string 5": Focus(strings=(5,), keys=(A_MINOR,)),
    "low E": Focus(strings=(6,)),
    "thin e": Focus(strings=(1,)),
    "thick E string": Focus(strings=(6,)),
    "lowest string": Focus(strings=(6,)),
    "two lowest strings": Focus(strings=(6, 5)),
    "lowest two strings": Focus(strings=(6, 5)),
    "bass strings": Focus(strings=(6, 5, 4)),
    "treble strings": Focus(strings=(3, 2, 1)),
    "E and A strings": Focus(strings=(6, 5)),
    "strings B and E": Focus(strings=(2, 1)),
    "a d g strings": Focus(strings=(5, 4, 3)),
    "A- and D-string": Focus(strings=(5, 4)),
    "both E strings": Focus(strings=(6, 1)),
    "low E and A": Focus(strings=(6, 5)),
    "low E and A minor": Focus(strings=(6,), keys=(A_MINOR,)),
    "strings 5 and 6": Focus(strings=(5, 6)),
    "strings 1-3": Focus(strings=(1, 2, 3)),
    "string5": Focus(strings=(5,)),
    "string six": Focus(strings=(6,)),
    "5th": Focus(strings=(5,)),
    "notes on D": Focus(strings=(4,), families=("note-at-fret", "fret-of-note")),
    "notes on the D": Focus(strings=(4,), families=("note-at-fret", "fret-of-note")),
    "notes in D": Focus(keys=(parse_key("D"),), families=("note-at-fret", "fret-of-note")),
    "on D": Focus(keys=(parse_key("D"),)),
    "Am on 5": Focus(strings=(5,), keys=(A_MINOR,)),
    "a flat minor on A": Focus(strings=(5,), keys=(parse_key("Abm"),)),
    "notes on A minor": Focus(keys=(A_MINOR,), families=("note-at-fret", "fret-of-note")),
    "E shape": Focus(shapes=("string-6",)),
    "Am A shape": Focus(keys=(A_MINOR,), shapes=("string-5",)),
    "E A shapes": Focus(shapes=("string-6", "string-5")),
    "C E shapes": Focus(keys=(parse_key("C"),), shapes=("string-6",)),
    "third shape": Focus(shapes=("3",)),
    "Am shapes": Focus(keys=(A_MINOR,), families=("shape-anchor", "neck-diagram")),
    "A minor pentatonic": Focus(keys=(A_MINOR,)),
    "the key of A": Focus(keys=(parse_key("A"),)),
    "Am - F - C": Focus(keys=(A_MINOR, parse_key("F"), parse_key("C"))),
    "Am/C": Focus(keys=(A_MINOR, parse_key("C"))),
    "roots on the A string": Focus(strings=(5,), families=("tonic-fret",)),
}
GERMAN = {
    "es moll a saite": Focus(strings=(5,), keys=(E_FLAT_MINOR,)),
    "es-Moll auf der A-Saite": Focus(strings=(5,), keys=(E_FLAT_MINOR,)),
    "Saite 6 und h-Saite": Focus(strings=(6, 2)),
    "tiefe E-Saite": Focus(strings=(6,)),
    "6. Saite": Focus(strings=(6,)),
    "auf der sechsten Saite": Focus(strings=(6,)),
}


@pytest.mark.parametrize("text", UNDERSTOOD)
def test_what_a_learner_names_is_found(text: str) -> None:
    assert read_words(text, STANDARD, "english") == UNDERSTOOD[text]
    assert read_typed_focus(text, STANDARD, "english") == UNDERSTOOD[text]


def test_the_lowest_strings_are_those_of_the_instrument() -> None:
    seven = find_tuning("seven-string")
    assert read_words("two lowest strings", seven, "english") == Focus(strings=(7, 6))
    assert read_words("low B", seven, "english") == Focus(strings=(7,))


def test_keys_are_named_together_by_mode_and_by_signs() -> None:
    """The everyday minor keys, and those with flats (circle of fifths)."""
    minor, flat = (read_words(text, STANDARD, "english").keys for text in ("all minor keys", "flat keys"))
    assert len(minor) == 12
    assert {key.mode for key in minor} == {"minor"}
    assert {key.short for key in flat} == {"F", "Bb", "Eb", "Ab", "Db", "Dm", "Gm", "Cm", "Fm", "Bbm"}


@pytest.mark.parametrize("group", ["sharp", "flat"])
def test_keys_are_named_by_their_signs_alone(group: str) -> None:
    wanted = read_words(f"{group} keys on string 6", STANDARD, "english")
    assert wanted.keys
    assert read_words(f"{group}s on string 6", STANDARD, "english") == wanted
    with pytest.raises(UnknownName):  # it would be string 2 in all flat keys
        read_words(f"two {group}s", STANDARD, "english")


WEAK = {
    "weak": "all", "weakest": "all", "my weakest cards": "all", "weak strings": "string", "Weakest string": "string",
    "weakest strings": "string", "weakest key": "key", "my weak keys": "key", "weak shapes": "shape",
    "weakest kind of question": "family", "slow": "slow", "slowest": "slow", "what I mix up": "mixups",
    "mix-ups": "mixups", "Am": None, "strings": None, "weak Am": None, "": None,
}  # fmt: skip


@pytest.mark.parametrize("text", WEAK)
def test_what_is_called_weak_is_told_from_all_else(text: str) -> None:
    assert weak_called(text) == WEAK[text]


def test_the_middle_of_three_strings_of_one_note_has_a_name() -> None:
    """Open G is tuned D2 G2 D3 G3 B3 D4, from string 6 to 1 (common practice, no source)."""
    assert read_words("middle D", find_tuning("open-g"), "english") == Focus(strings=(4,))
    with pytest.raises(UnknownName, match="No string is called “middle D”"):
        read_words("middle D", STANDARD, "english")


@pytest.mark.parametrize("text", GERMAN)
def test_german_words_are_read_among_german_note_names(text: str) -> None:
    assert read_words(text, STANDARD, "german") == GERMAN[text]


def test_a_key_in_another_language_is_told() -> None:
    with pytest.raises(UnknownName, match="“es moll” is a key in German note names, but yours are English"):
        read_words("es moll on string 5", STANDARD, "english")


def test_a_note_after_numbers_of_strings_is_a_key() -> None:
    assert read_words("strings 6 5 A", STANDARD, "english") == Focus(strings=(6, 5), keys=(parse_key("A"),))


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("nots on A", "notes on A"),
        ("A-sting", "A string"),
        ("bas strings", "bass strings"),
        ("eb minr", "eb minor"),
        ("chrods in G", "chords in G"),
        ("flat kyes", "flat keys"),
        ("teh A strng", "the A string"),
    ],
)
def test_a_misspelt_word_is_refused_with_the_word_that_was_meant(text: str, meant: str) -> None:
    with pytest.raises(UnknownName) as refused:
        read_words(text, STANDARD, "english")
    assert refused.value.fix == f"Did you mean “{meant}”?"
    assert read_words(meant, STANDARD, "english")


@pytest.mark.parametrize("text", ["quinze", "Am on the X string", "eb minr quinze", "blues"])
def test_no_other_word_is_offered_where_that_would_not_be_understood_either(text: str) -> None:
    with pytest.raises(UnknownName) as refused:
        read_words(text, STANDARD, "english")
    assert "Did you mean" not in refused.value.fix


def test_every_name_of_a_string_that_is_offered_is_read() -> None:
    with pytest.raises(UnknownName) as refused:
        read_words("Am X string", STANDARD, "english")
    names = refused.value.fix.split("a name: ")[1].removesuffix(".").split(", ")
    assert [find_string(name, STANDARD, "english") for name in names] == [6, 5, 4, 3, 2, 1]


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("eb minr", "“eb minr” is neither a key nor a string"),
        ("Am and the blues", "“blues” is neither a key nor a string"),
        ("Am on the X string", "“X” is not a string"),
        ("Am E string", "“E” could be string 1 (high E) or string 6 (low E)"),
        ("Fb major", "Fb major would need 8 flats"),
        ("top string", "“top” could be string 1 (high E) or string 6 (low E)"),
        ("top", "“top” could be string 1 (high E) or string 6 (low E)"),
        ("low", "“low” could be one string or several. Write low string, or two low strings."),
        ("lowest notes", "“lowest” could be one string or several"),
        ("middle strings", "“middle” could be string 2 (B) or string 3 (G) or string 4 (D) or string 5 (A)"),
        ("0 lowest strings", "“0” is neither a key nor a string"),
        ("string 0", "“0” is not a string"),
        ("seven strings", "“seven strings” does not say which ones"),
        ("two strings", "“two strings” does not say which ones. Write string 2 for that one"),
        ("finger 3", "“finger 3” is not drilled alone"),
        ("Am third finger", "“third finger” is not drilled alone"),
        ("wound strings", "“wound” is not a string"),
        ("weakest keys on the A string", "What is weakest is drilled alone. Write weakest, weakest string"),
        ("plain E", "“plain E” is neither a key nor a string"),
        ("bottom E", "“bottom E” could be string 1 (high E) or string 6 (low E)"),
        ("low F", "No string is called “low F”"),
        ("E flat string", "No string is called “E flat”"),
    ],
)
def test_what_is_not_understood_is_named(text: str, named: str) -> None:
    with pytest.raises(FretsureError) as refused:
        read_words(text, STANDARD, "english")
    assert str(refused.value).startswith(named)
    assert refused.value.fix
    assert read_typed_focus(text, STANDARD, "english") is None
