"""A focus in a learner's own words: what they name is found, and what nobody could find is named."""

from __future__ import annotations

import pytest

from drill.decks import Focus
from drill.decks.typed_focus import read_typed_focus, read_words
from drill.errors import FretsureError
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
}


@pytest.mark.parametrize("text", UNDERSTOOD)
def test_what_a_learner_names_is_found(text: str) -> None:
    assert read_words(text, STANDARD, "english") == UNDERSTOOD[text]
    assert read_typed_focus(text, STANDARD, "english") == UNDERSTOOD[text]


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("eb minr", "“eb minr” is neither a key nor a string"),
        ("Am and the blues", "“blues” is neither a key nor a string"),
        ("Am on the X string", "“X” is not a string"),
        ("Am E string", "“E” could be string 1 (high E) or string 6 (low E)"),
        ("Fb major", "Fb major would need 8 flats"),
    ],
)
def test_what_is_not_understood_is_named(text: str, named: str) -> None:
    with pytest.raises(FretsureError) as refused:
        read_words(text, STANDARD, "english")
    assert str(refused.value).startswith(named)
    assert refused.value.fix
    assert read_typed_focus(text, STANDARD, "english") is None
