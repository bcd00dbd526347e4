"""Questions and reasons can be read at a glance: few words, one line, one reading, in every language of note names."""

from __future__ import annotations

import re
from collections import defaultdict
from functools import cache
from statistics import median

import pytest

from drill.decks import shipped_decks
from drill.questions.card import Ask, Card
from drill.questions.catalogue import FAMILIES
from drill.questions.wording import named, to_ascii, to_screen
from drill.system.tunings import find_tuning
from drill.theory.names import NOTE_LANGUAGES
from drill.theory.neck import Neck
from drill.theory.pitch import Note

NECKS = [
    ("standard", 15, 0),
    ("standard", 24, 0),
    ("half-step-down", 22, 3),
    ("seven-string", 24, 0),
    ("open-g", 15, 0),
    ("dadgad", 12, 0),
    ("bass", 20, 0),
    ("ukulele-low-g", 15, 0),
]
MOST_WORDS = 6
MOST_WORDS_ON_A_SCREEN = 8
MOST_WORDS_OF_A_STEP = 8
MOST_WORDS_OF_AN_IDEA = 25

on_necks = pytest.mark.parametrize(("tuning", "frets", "capo"), NECKS)
in_languages = pytest.mark.parametrize("language", NOTE_LANGUAGES)


@cache
def cards(tuning: str, frets: int, capo: int) -> tuple[Card, ...]:
    decks = shipped_decks(Neck(find_tuning(tuning), frets, capo))
    return tuple(dict.fromkeys(card for deck in decks for card in deck.cards()))


@pytest.mark.long(but=1)
@on_necks
def test_no_question_asks_in_more_than_six_words(tuning: str, frets: int, capo: int) -> None:
    """A string's number stands for it; its note in brackets is there for who does not count strings."""
    for card in cards(tuning, frets, capo):
        for said in (to_ascii(card.ask.ask), *(to_screen(card.ask.ask, language) for language in NOTE_LANGUAGES)):
            assert len(re.sub(r" \(.*?\)", "", said).split()) <= MOST_WORDS, (card.id, said)


@pytest.mark.long(but=2)
@on_necks
def test_a_question_has_a_subject_and_ends_with_its_only_question_mark(tuning: str, frets: int, capo: int) -> None:
    for card in cards(tuning, frets, capo):
        subject, place, ask = map(to_ascii, card.ask)
        assert subject[0].isupper() or subject[0].isdigit(), card.id
        assert ask[0].isupper() and ask.endswith("?"), card.id
        assert f"{subject}{place}{ask}".count("?") == 1, card.id
        assert card.prompt.isprintable() and "  " not in card.prompt, card.id
        assert all(part == part.strip() for part in (subject, place, ask)), card.id


@pytest.mark.long(but=2)
@on_necks
@in_languages
def test_what_the_screen_shows_has_one_answer(tuning: str, frets: int, capo: int, language: str) -> None:
    """Question and drawing together, as well as the prompt alone, belong to one set of answers."""
    shown, told = defaultdict(set), defaultdict(set)
    for card in cards(tuning, frets, capo):
        neck = card.neck.tuning.id
        parts = tuple(to_screen(part, language) for part in card.ask)  # type: ignore[arg-type]
        if card.family != "ear-tonic":  # what tells its questions apart is heard
            shown[neck, parts, card.question_picture].add(card.accepts)
        told[neck, to_screen(card.prompt, language)].add(card.accepts)  # type: ignore[arg-type]
    assert not [question for question, answers in (*shown.items(), *told.items()) if len(answers) > 1]


@pytest.mark.long(but=2)
@on_necks
def test_a_prompt_is_the_question_in_one_line(tuning: str, frets: int, capo: int) -> None:
    """The parts in their order; where the drawing tells a part of it, the prompt says that too, in the same words."""
    for card in cards(tuning, frets, capo):
        subject, place, ask = card.ask
        about = subject if not place else f"{subject}, {place}"
        assert (card.prompt == f"{about}: {ask[0].lower()}{ask[1:]}") == (card.unseen is None), card.id
        # the prompt tells all of these frets, and what is heard
        span = card.ask.subject if card.family in ("neck-diagram", "ear-tonic") else ""
        assert _words(card.ask.line.removeprefix(span)) <= _words(card.prompt), card.id


@pytest.mark.parametrize("frets", [15, 24])
def test_half_of_the_questions_of_every_family_have_at_most_eight_words_on_the_screen(frets: int) -> None:
    counts = defaultdict(list)
    for card in cards("standard", frets, 0):
        counts[card.family].append(len(to_ascii(" ".join(card.ask)).split()))
    assert not {family: found for family, found in counts.items() if median(found) > MOST_WORDS_ON_A_SCREEN}


def _words(sentence: str) -> set[str]:
    return set(re.findall(r"[\w#]+", to_ascii(sentence).casefold()))


@pytest.mark.long(but=2)
@on_necks
def test_steps_of_a_reason_are_short(tuning: str, frets: int, capo: int) -> None:
    """Half of a family's steps have at most eight words; those that list notes or keys by name may be longer."""
    lengths = defaultdict(list)
    for card in cards(tuning, frets, capo):
        lengths[card.family] += [len(to_ascii(step).split()) for step in card.because]
    assert not {family: found for family, found in lengths.items() if median(found) > MOST_WORDS_OF_A_STEP}


@pytest.mark.long(but=2)
@on_necks
def test_a_degree_is_counted_from_the_nearest_tonic(tuning: str, frets: int, capo: int) -> None:
    """Nobody has to count through an octave, and nobody from a tonic to itself."""
    steps = [to_ascii(step) for card in cards(tuning, frets, capo) for step in card.because]
    ways = [step.partition(": ")[2].split() for step in steps if step.startswith("note by note")]
    assert ways
    assert not [way for way in ways if len(way) < 2 or way.count("1") != 1]


@pytest.mark.parametrize("family", FAMILIES.values(), ids=FAMILIES)
def test_the_idea_of_a_family_is_one_short_sentence(family) -> None:  # type: ignore[no-untyped-def]
    idea = to_ascii(family.idea)
    assert len(idea.split()) <= MOST_WORDS_OF_AN_IDEA
    assert idea[0].isupper() and idea.endswith(".") and idea.count(".") == 1
    for word, meaning in (("tonic", "home note"), ("relative", "same notes")):
        defined = meaning in idea or (word == "relative" and "shares its notes" in idea)
        assert word not in idea or defined or "comes home to" in idea


def test_ideas_name_notes_in_the_learners_language() -> None:
    assert "past H," in to_screen(FAMILIES["letter-skip"].idea, "german")
    assert "past Si," in to_screen(FAMILIES["letter-skip"].idea, "italian")


def test_a_line_of_a_question() -> None:
    flat = named(Note.of("B", -1))
    assert (
        to_ascii(Ask(f"{flat} minor", "A-string shape", "Index fret?").line) == "Bb minor, A-string shape: index fret?"
    )
    assert to_ascii(Ask(f"{flat} minor", "", "Relative major?").line) == "Bb minor: relative major?"
