"""Decks: which families are asked, over which strings, frets, keys, shapes and loops.

load_deck        a deck by its name or its file's path, laid out for the learner's neck
shipped_decks    every deck that ships with the program
check_deck       every mistake in a deck file, each with its field and its fix
Deck, Entry      the deck's cards in teaching order; a card itself is derived only when it is asked for
Focus            what to leave of a deck: a string, a key, a family, a shape
entry_of         what a card id alone says
"""

from drill.decks.deck import Deck, Entry, Focus, check_deck, entry_of, load_deck, shipped_decks

__all__ = ["Deck", "Entry", "Focus", "check_deck", "entry_of", "load_deck", "shipped_decks"]
