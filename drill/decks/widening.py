"""What a focus of few cards could be widened to: the other anchor, the relative key, neighbours, other decks."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from drill.decks.deck import Deck
from drill.decks.focus import Focus
from drill.questions.wording import named_key, string_label
from drill.theory.keys import KEYS, PRACTICAL_KEYS, Key
from drill.theory.names import joined

ENOUGH = 8
"""A drill of fewer cards repeats them so often that it trains short-term memory."""
MOST_DECKS = 3
NEIGHBOURS = (1, 11)
"""Steps around the circle of twelve fifths to the two keys beside a key."""


class Widening(NamedTuple):
    """A wider focus. `words` name it, `adds` says in a sentence what it brings; notes as in `questions.wording`."""

    words: str
    deck: Deck
    focus: Focus
    cards: int
    adds: str


class _Way(NamedTuple):
    """One way to widen a focus; the nearest of all is offered even where it brings few cards."""

    words: str
    adds: str
    focus: Focus
    nearest: bool = False


def is_narrow(deck: Deck, focus: Focus) -> bool:
    """Whether a drill of this focus would be of few cards."""
    return bool(focus) and deck.count(focus) < ENOUGH


def widenings(deck: Deck, focus: Focus, others: Iterable[Deck]) -> tuple[Widening, ...]:
    """Wider choices in the deck and in `others` of the same instrument, the nearest first.

    All but the nearest have enough cards for a drill. For a focus that leaves no card, fewer are better than none.
    """
    same = [other for other in others if other.neck.tuning.id == deck.neck.tuning.id and other.id != deck.id]
    same.sort(key=lambda other: -other.count(focus) / max(len(other.entries), 1))
    ways = [(deck, way) for way in _wider(deck, focus)]
    ways += [(other, _in_another_deck(other, focus)) for other in same[:MOST_DECKS]]
    asked = deck.count(focus)
    found: dict[tuple[str, frozenset[str]], Widening] = {}
    for where, way in ways:
        cards = frozenset(where.in_focus(way.focus))
        if len(cards) > asked and (len(cards) >= ENOUGH or way.nearest or not asked):
            found.setdefault((where.id, cards), Widening(way.words, where, way.focus, len(cards), way.adds))
    enough = tuple(offer for offer in found.values() if offer.cards >= ENOUGH)
    return enough if enough and not asked else tuple(found.values())


def other_names(deck: Deck, focus: Focus) -> dict[Key, Key]:
    """The keys in focus that the deck asks by another name only, such as E flat minor, each with that name."""
    asked = {group.value for entry in deck.in_focus(focus).values() for group in entry.groups if group.facet == "key"}
    pairs = ((key, other) for key in focus.keys for other in KEYS if other in asked and other.sounds_like(key))
    return {key: other for key, other in pairs if key not in asked}


def _wider(deck: Deck, focus: Focus) -> Iterator[_Way]:
    """Each way to widen a focus in its own deck, the nearest first, then all these ways at once.

    Keys bear the names by which the deck asks them.
    """
    tuning = deck.neck.tuning

    def key_names(keys: tuple[Key, ...]) -> list[str]:
        others = other_names(deck, Focus(keys=keys))
        return [named_key(others.get(key, key)) for key in keys]

    if focus.keys and focus.strings:
        same = "the same key" if len(focus.keys) == 1 else "the same keys"
        adds = f"It adds all else that is asked about {joined(key_names(focus.keys), 'and')}."
        yield _Way(f"{same} on every string", adds, focus._replace(strings=()), nearest=True)
    strings, keys = tuple(_more_strings(deck, focus.strings)), tuple(key.relative for key in focus.keys)
    beside = tuple(_beside(focus.keys))
    for added, relatives, near in ((strings, (), ()), ((), keys, ()), ((), (), beside), (strings, keys, beside)):
        names = [*(string_label(tuning, string) for string in added), *key_names((*relatives, *near))]
        if names:
            wide = focus._replace(strings=(*focus.strings, *added), keys=(*focus.keys, *relatives, *near))
            yield _Way(f"with {joined(names, 'and')}", _adds(len(added), len(relatives), len(near)), wide)
    yield from _without_a_part(focus)


def _adds(strings: int, relatives: int, near: int) -> str:
    """What strings, relative keys and keys a fifth away bring, so many of each, in a sentence."""
    brought = [
        *["one more string" if strings == 1 else f"{strings} more strings"] * bool(strings),
        *["the relative with the same notes" if relatives == 1 else "the relatives"] * bool(relatives),
        *["the keys a fifth away, which share all notes but one"] * bool(near),
    ]
    return f"It adds {joined(brought, 'and')}."


def _in_another_deck(deck: Deck, focus: Focus) -> _Way:
    return _Way(f"the deck “{deck.title}”", f"For this drill alone: {deck.about}", focus)


def _more_strings(deck: Deck, strings: tuple[int, ...]) -> Iterator[int]:
    """The other anchor where an anchor string is in focus, else the strings beside that the deck asks about.

    None where it asks nothing about the strings in focus: then others would stand in their place, not beside them.
    """
    tuning = deck.neck.tuning
    to_anchors = bool(strings) and set(strings) < set(tuning.anchor_strings)
    for string in tuning.anchor_strings if to_anchors else tuning.strings:
        near = to_anchors or {string - 1, string + 1} & set(strings)
        if near and string not in strings and all(deck.count(Focus((each,))) for each in (string, *strings)):
            yield string


def _without_a_part(focus: Focus) -> Iterator[_Way]:
    """The focus without its strings, its keys and so on, as long as something of it is left."""
    for field, words, adds in (
        ("families", "every kind of question", "It adds the other kinds of question about it."),
        ("shapes", "every shape", "It adds the other shapes."),
        ("strings", "every string", "It adds the other strings."),
        ("keys", "every key", "It adds the other keys."),
    ):
        if getattr(focus, field) and (left := focus._replace(**{field: ()})):
            yield _Way(words, adds, left)


def _beside(keys: tuple[Key, ...]) -> Iterator[Key]:
    """The neighbours of keys on the circle of fifths."""
    for near in PRACTICAL_KEYS:
        steps = {(near.signature - key.signature) % 12 for key in keys if key.mode == near.mode}
        if steps & set(NEIGHBOURS) and near not in keys:
            yield near
