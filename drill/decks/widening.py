"""What a focus of few cards could be widened to: the other anchor, the relative key, neighbours, other decks."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from drill.decks.deck import Deck
from drill.decks.focus import Focus
from drill.questions.wording import named_key, string_label
from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key
from drill.theory.neck import Tuning

ENOUGH = 8
"""A drill of fewer cards repeats them so often that it trains short-term memory."""
MOST_DECKS = 3
NEIGHBOURS = (1, 11)
"""Steps around the circle of twelve fifths to the two keys beside a key."""


class Widening(NamedTuple):
    """A wider focus. `words` say what it adds, with notes marked as in `questions.wording`."""

    words: str
    deck: Deck
    focus: Focus
    cards: int


def is_narrow(deck: Deck, focus: Focus) -> bool:
    """Whether a drill of this focus would be of few cards."""
    return bool(focus) and deck.count(focus) < ENOUGH


def widenings(deck: Deck, focus: Focus, others: Iterable[Deck]) -> tuple[Widening, ...]:
    """Wider choices in the deck and in `others` of the same instrument, each with enough cards for a drill.

    For a focus that leaves no card at all fewer are better than none.
    """
    same = [other for other in others if other.neck.tuning.id == deck.neck.tuning.id and other.id != deck.id]
    same.sort(key=lambda other: -other.count(focus))
    wider = [(words, deck, wide) for words, wide in _wider(deck.neck.tuning, focus)]
    wider += [(f"the deck “{other.title}”", other, focus) for other in same[:MOST_DECKS]]
    found: dict[tuple[str, frozenset[str]], Widening] = {}
    for words, where, wide in wider:
        cards = frozenset(where.in_focus(wide))
        if len(cards) > deck.count(focus):
            found.setdefault((where.id, cards), Widening(words, where, wide, len(cards)))
    enough = tuple(offer for offer in found.values() if offer.cards >= ENOUGH)
    return enough if enough or deck.count(focus) else tuple(found.values())


def other_names(deck: Deck, focus: Focus) -> dict[Key, Key]:
    """The keys in focus that the deck asks by another name only, such as E flat minor, each with that name."""
    asked = {group.value for entry in deck.in_focus(focus).values() for group in entry.groups if group.facet == "key"}
    pairs = ((key, other) for key in focus.keys for other in KEYS if other in asked and other.sounds_like(key))
    return {key: other for key, other in pairs if key not in asked}


def _wider(tuning: Tuning, focus: Focus) -> Iterator[tuple[str, Focus]]:
    """Each way to widen a focus in its own deck, the nearest first, then all these ways at once."""
    strings, keys = _more_strings(tuning, focus.strings), tuple(key.relative for key in focus.keys)
    beside = tuple(_beside(focus.keys))
    for added, more in ((strings, ()), ((), keys), ((), beside), (strings, (*keys, *beside))):
        names = [*(string_label(tuning, string) for string in added), *map(named_key, more)]
        if names:
            yield _with(names), focus._replace(strings=(*focus.strings, *added), keys=(*focus.keys, *more))
    yield from _without_a_part(focus)


def _more_strings(tuning: Tuning, strings: tuple[int, ...]) -> tuple[int, ...]:
    """The other anchor where an anchor string is in focus, else the strings beside."""
    if not strings:
        return ()
    if set(strings) < set(tuning.anchor_strings):
        return tuple(string for string in tuning.anchor_strings if string not in strings)
    return tuple(each for each in tuning.strings if each not in strings and {each - 1, each + 1} & set(strings))


def _without_a_part(focus: Focus) -> Iterator[tuple[str, Focus]]:
    """The focus without its strings, its keys and so on, as long as something of it is left."""
    for field, words in (
        ("families", "every kind of question"),
        ("shapes", "every shape"),
        ("strings", "every string"),
        ("keys", "every key"),
    ):
        if getattr(focus, field) and (left := focus._replace(**{field: ()})):
            yield words, left


def _beside(keys: tuple[Key, ...]) -> Iterator[Key]:
    """The neighbours of keys on the circle of fifths."""
    for near in PRACTICAL_KEYS:
        steps = {(near.signature - key.signature) % 12 for key in keys if key.mode == near.mode}
        if steps & set(NEIGHBOURS) and near not in keys:
            yield near


def _with(names: list[str]) -> str:
    *most, last = names
    return f"with {', '.join(most)} and {last}" if most else f"with {last}"
