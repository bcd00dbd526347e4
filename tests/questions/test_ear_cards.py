"""Cards that are heard: what they play has one answer, by arithmetic on what sounds, and is heard as it is meant."""

from __future__ import annotations

import pytest

from drill.errors import UnknownName
from drill.questions.catalogue import FAMILIES
from drill.questions.families.ear import TonicAndMode
from drill.questions.mode_answer import ModeAnswer
from drill.questions.wording import to_ascii
from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key
from drill.theory.neck import STANDARD, Neck
from tests.support.arithmetic import pitch_class, spelled
from tests.support.asking import judged

NECK = Neck(STANDARD)
EAR = FAMILIES["ear-tonic"]


@pytest.mark.parametrize("key", KEYS, ids=lambda key: key.name)
def test_the_chords_are_those_of_the_key_and_the_last_is_its_tonic(key: Key) -> None:
    """Fourth, fifth and first: iv V i in minor, IV V I in major (Open Music Theory, cadences)."""
    heard = EAR.card(TonicAndMode(key.tonic, key.mode), NECK).heard
    assert heard is not None
    minor = "m" if key.mode == "minor" else ""
    tonic = key.tonic.name
    fourth = spelled("FGABCDE"["CDEFGAB".index(tonic[0])], pitch_class(tonic) + 5)
    fifth = spelled("GABCDEF"["CDEFGAB".index(tonic[0])], pitch_class(tonic) + 7)
    assert [chord.name for chord in heard.chords] == [fourth + minor, fifth, tonic + minor]


@pytest.mark.parametrize("key", PRACTICAL_KEYS, ids=lambda key: key.name)
def test_relatives_hear_the_same_five_notes_over_other_chords(key: Key) -> None:
    own, other = (EAR.card(TonicAndMode(each.tonic, each.mode), NECK).heard for each in (key.minor, key.major))
    assert own is not None and other is not None
    assert own.notes == other.notes
    assert own.chords[-1] != other.chords[-1]
    # minor pentatonic: 0 3 5 7 10 semitones over the minor tonic, 0 2 4 7 9 over the major one
    minor, major = pitch_class(key.minor.tonic.name), pitch_class(key.major.tonic.name)
    assert {(note.pitch_class - minor) % 12 for note in own.notes} == {0, 3, 5, 7, 10}
    assert {(note.pitch_class - major) % 12 for note in own.notes} == {0, 2, 4, 7, 9}


def test_the_screen_says_nothing_of_what_is_heard() -> None:
    cards = [EAR.card(TonicAndMode(key.tonic, key.mode), NECK) for key in PRACTICAL_KEYS]
    assert {card.ask for card in cards} == {("Listen", "", "Minor or major?")}
    assert {card.question_picture for card in cards} == {()}


def test_cards_that_are_read_play_nothing() -> None:
    card = FAMILIES["relative-minor"].card(FAMILIES["relative-minor"].facet_type(KEYS[7]), NECK)
    assert card.heard is None


@pytest.mark.parametrize(
    ("typed", "mode"),
    [("mi", "minor"), ("Minor", "minor"), ("m", "minor"), ("moll", "minor"), ("M", "major"), ("maj", "major"),
     (" MAJOR ", "major"), ("Dur", "major")],
)  # fmt: skip
def test_a_mode_is_read_as_people_write_it(typed: str, mode: str) -> None:
    assert ModeAnswer().read(typed) == mode
    assert ModeAnswer().show(mode) == mode


@pytest.mark.parametrize("typed", ["", "mx", "C minor", "minor!", "major minor", "x" * 500])
def test_what_is_no_mode_is_refused_with_what_to_type(typed: str) -> None:
    with pytest.raises(UnknownName) as caught:
        ModeAnswer().read(typed)
    assert caught.value.fix == "Type mi for minor, ma for major."


def test_two_letters_decide_and_one_does_not() -> None:
    assert [text for text in ("m", "M", "mi", "ma", "mo", "d", "x") if ModeAnswer().decides(text)] == [
        "mi",
        "ma",
        "mo",
        "d",
    ]


def test_the_other_mode_is_told_as_the_relative() -> None:
    [mixup] = judged(EAR.card(TonicAndMode(KEYS[7].relative.tonic, "minor"), NECK), "major").mixups
    assert to_ascii(mixup.sentence) == (
        "C major is the relative of A minor and has the same five notes; home is where the chords come to rest."
    )
