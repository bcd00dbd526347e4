"""Questions that are heard: what is played before they are answered, and what a deck is without sound.

HeardFirst   plays what a card is about
with_sound   the deck as it can be asked here: without sound, what has to be heard is left out
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from drill.decks import Deck
from drill.decks.targets import HEARD
from drill.errors import NoSound
from drill.questions.card import Card
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.practice.playback import Playback

PROBE_RATE = 44_100


class HeardFirst:
    """Plays what a card is about, each time in another order of notes, so that no phrase is learnt by heart."""

    def __init__(self, environment: Environment, decibels_down: int) -> None:
        self._environment, self._decibels_down = environment, decibels_down
        self._playback: Playback | None = None

    def play(self, card: Card) -> None:
        """Play it from the beginning; a card that is read is silent. Raises NoSound where nothing can be heard."""
        self.stop()
        heard = card.heard
        if heard is None:
            return
        from drill.practice.playback import Playback, refuse_without_numpy

        refuse_without_numpy()
        from drill.sound.phrase import OnceMix, phrase
        from drill.sound.render import RATE
        from drill.sound.volume import first_volume

        notes = self._environment.rng.sample(heard.notes, len(heard.notes))
        mix = OnceMix(phrase(heard.chords, notes), RATE, first_volume(-self._decibels_down))
        self._playback = Playback.start(self._environment, mix)
        if self._playback.silent_because:
            raise NoSound(self._playback.silent_because)

    def stop(self) -> None:
        """Fall silent."""
        if self._playback is not None:
            self._playback.stop()
            self._playback = None


def with_sound(deck: Deck, environment: Environment) -> Deck:
    """The deck without what has to be heard, where nothing can be. Raises NoSound if that leaves nothing to ask."""
    read = {card: entry for card, entry in deck.entries.items() if entry.item.family not in HEARD}
    if len(read) == len(deck.entries):
        return deck
    from drill.practice.playback import refuse_without_numpy

    try:
        refuse_without_numpy()
        environment.open_speaker(PROBE_RATE, environment.monotonic).stop()
    except NoSound as error:
        if not read:
            raise NoSound(f"“{deck.title}” has to be heard. {error.message}", error.fix) from error
        return deck._replace(entries=read)
    return deck
