"""All tables of a learner's progress, each worked out when it is first asked for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from drill.decks import Deck, Entry, Focus, entry_of
from drill.memory import Bin, Learner, forecast
from drill.practice.learner_store import LearnerStore
from drill.progress import history
from drill.progress.card_history import CardHistory, story
from drill.progress.card_status import KINDS, CardStatus, Group, Kind, Row, SpotRow, rows, spot_rows
from drill.progress.readiness import KeyReadiness, bar_seconds, key_readiness
from drill.progress.weakest import Weakest, choose, weakest
from drill.questions.catalogue import FAMILIES
from drill.record import Record
from drill.settings import Settings
from drill.system.platforms import shell_quoted
from drill.theory.neck import Spot

FORECAST_DAYS = 14


@dataclass(frozen=True)
class Progress:
    """A learner's progress through a deck as of `now_s` (seconds since the epoch). Make it with `of`."""

    recall: LearnerStore
    deck: Deck
    settings: Settings
    now_s: float
    deck_option: str | None = None
    """The deck as the learner gave it, if it is not the usual one."""

    @classmethod
    def of(
        cls, recall: LearnerStore, deck: Deck, settings: Settings, now_s: float, deck_option: str | None = None
    ) -> Progress:
        """Cheap: nothing is worked out before it is asked for."""
        return cls(recall, deck, settings, now_s, deck_option)

    @property
    def record(self) -> Record:
        return self.recall.record

    @property
    def learner(self) -> Learner:
        return self.recall.learner

    @cached_property
    def standings(self) -> tuple[CardStatus, ...]:
        """Every card of the deck, in teaching order."""
        return tuple(CardStatus.of(entry, self.learner, self.now_s) for entry in self.deck.entries.values())

    @cached_property
    def whole(self) -> Group:
        """All cards of the deck together."""
        return Group(self.standings)

    @cached_property
    def spots(self) -> dict[Spot, SpotRow]:
        """The neck map: every spot the deck asks about."""
        return spot_rows(self.deck, self.standings)

    @cached_property
    def tables(self) -> dict[Kind, tuple[Row, ...]]:
        """The rows of every kind."""
        return {kind: rows(kind, self.deck, self.standings) for kind in KINDS}

    def table(self, kind: Kind) -> tuple[Row, ...]:
        """The rows of one kind, in the order a guitarist expects."""
        return self.tables[kind]

    def weakest_of(self, kind: Kind) -> Row | None:
        """The row of a table to drill next, None when nothing in it is weak."""
        return weakest(self.tables[kind])

    @cached_property
    def weakest(self) -> Weakest:
        """The one thing to drill next."""
        return choose((row for kind in KINDS for row in self.tables[kind]), self.standings)

    @property
    def bar_s(self) -> float:
        """How long one bar lasts at the learner's tempo, in seconds."""
        return bar_seconds(self.settings.tempo_bpm)

    @cached_property
    def keys(self) -> tuple[KeyReadiness, ...]:
        """Readiness of the 24 everyday keys in teaching order."""
        return key_readiness(self.deck, self.learner, self.now_s, self.bar_s)

    @cached_property
    def forecast(self) -> tuple[int, ...]:
        """How many cards that hold now fade in each of the coming days; the first is the next 24 hours."""
        return forecast(self.learner, self.deck.items, self.now_s, FORECAST_DAYS)

    @cached_property
    def _log(self) -> history.Log:
        """One pass over the log."""
        return history.Log.of(self.record.attempts())

    @property
    def days(self) -> tuple[history.Period, ...]:
        """Every day with an answer, the oldest first."""
        return self._log.days

    @property
    def weeks(self) -> tuple[history.Period, ...]:
        """The trend: every week with an answer, the oldest first."""
        return self._log.weeks

    @cached_property
    def mixups(self) -> tuple[history.MixupRow, ...]:
        """What was confused with what, the most frequent first."""
        return self._log.mixups(self.deck)

    @property
    def calibration(self) -> tuple[Bin, ...]:
        """Chance told before an answer against the share that came right, in twentieths of chance."""
        return self.recall.calibration.bins

    def prompt(self, entry: Entry) -> str:
        """The question of a card of this or another deck, with marked notes."""
        if entry.item.card in self.deck.entries:
            return self.deck.card(entry.item.card).prompt
        _, neck = entry_of(entry.item.card)  # it may be about another instrument
        return FAMILIES[entry.item.family].card(entry.facets, neck).prompt

    def command(self, focus: Focus) -> str:
        """The command that drills a focus of this deck: 'fretsure focus --key "F# minor"', in their note language."""
        language = self.settings.note_language
        options = [
            *(f"--string {string}" for string in focus.strings),
            *(f'--key "{key.typed_in(language)}"' for key in focus.keys),
            *(f"--family {name}" for name in focus.families),
            *(f"--shape {name}" for name in focus.shapes),
        ]
        if self.deck_option:
            options.append(f"--deck {shell_quoted(self.deck_option)}")
        return " ".join(("fretsure focus", *options))

    def story(self, card_id: str) -> CardHistory:
        """All there is to tell of one card. Raises `UnknownName`."""
        return story(card_id, self.record, self.learner, self.deck, self.now_s)
