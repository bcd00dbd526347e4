"""Decks: which families are asked, over which strings, frets, keys, shapes and loops.

load_deck        a deck by its name or its file's path, for the learner's neck
shipped_decks    every deck that ships with the program
added_decks      every deck that the learner added; decks_with_homework those with which something is set
next_deck        the deck that comes when one is known
check_deck       every mistake in a deck file, each with its field and its fix
Deck, Entry      the deck's cards in teaching order; a card itself is derived only when it is asked for
Focus            the part of a deck to drill: strings, keys, families, shapes
Homework         what a teacher sets with a deck
other_names      the keys that a deck asks by another name than the focus has
widenings        what a focus of few cards could be widened to; is_narrow whether it is one
entry_of         what a card id alone says; card_of the card
"""

from drill.decks.checks import check_deck
from drill.decks.deck import Deck
from drill.decks.entry import Entry, card_of, entry_of
from drill.decks.focus import Focus
from drill.decks.homework import Homework
from drill.decks.loading import added_decks, decks_with_homework, load_deck, next_deck, shipped_decks
from drill.decks.widening import Widening, is_narrow, other_names, widenings

__all__ = [
    "Deck",
    "Entry",
    "Focus",
    "Homework",
    "Widening",
    "added_decks",
    "card_of",
    "check_deck",
    "decks_with_homework",
    "entry_of",
    "is_narrow",
    "load_deck",
    "next_deck",
    "other_names",
    "shipped_decks",
    "widenings",
]
