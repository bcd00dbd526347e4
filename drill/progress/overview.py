"""A learner's progress: every table of it, each worked out when it is first asked for."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cached_property

from drill.decks import Deck, Entry, Focus
from drill.memory import Learner, Settled, Sitting, forecast
from drill.memory.calibration import Calibration
from drill.present.dates import moment
from drill.progress import history
from drill.progress.asked_cards import card_as_asked
from drill.progress.card_status import (
    GROUPINGS,
    CardGroup,
    CardStatus,
    Grouping,
    GroupRow,
    SpotRow,
    group_rows,
    spot_rows,
)
from drill.progress.hows import HowRow
from drill.progress.landings import AsPlayed, LandedKey, as_played, landed_keys
from drill.progress.mixup_counts import MixupRow
from drill.progress.readiness import KeyReadiness, key_readiness
from drill.progress.weakest import Weakest, choose, least_ready, weakest
from drill.record import Record
from drill.settings import Settings
from drill.system.platforms import shell_quoted
from drill.theory.bars import bar_seconds
from drill.theory.keys import Key
from drill.theory.neck import Spot

FORECAST_DAYS = 14


@dataclass(frozen=True)
class Progress:
    """A learner's progress through a deck as of `now_s` (seconds since the epoch).

    Making one costs nothing: a table is worked out when it is first asked for.
    """

    learner: Learner
    log: Record
    """The attempts from which the learner was derived."""
    deck: Deck
    settings: Settings
    now_s: float
    calibration: Calibration = field(default_factory=Calibration)
    """The chances predicted before each answer, beside the share that came right."""
    deck_option: str | None = None
    """The deck as the learner gave it, if it is not the usual one."""
    sitting: Sitting | None = None
    """Given, what this sitting did not ask is shown as it was before it (see `memory.sitting`)."""
    utc_offset_minutes: int = 0
    """How far the learner's calendar is ahead of UTC."""

    @property
    def today(self) -> date:
        """The day on the learner's own calendar."""
        return (moment(self.now_s) + timedelta(minutes=self.utc_offset_minutes)).date()

    @cached_property
    def statuses(self) -> tuple[CardStatus, ...]:
        """Every card of the deck, in teaching order."""
        shown = Settled(self.learner, self.sitting)
        return tuple(CardStatus.of(entry, shown.of(entry.item), self.now_s) for entry in self.deck.entries.values())

    @cached_property
    def whole(self) -> CardGroup:
        """All cards of the deck together."""
        return CardGroup(self.statuses)

    @cached_property
    def spots(self) -> dict[Spot, SpotRow]:
        """The neck map: every spot the deck asks about."""
        return spot_rows(self.deck, self.statuses)

    @cached_property
    def _tables(self) -> dict[Grouping, tuple[GroupRow, ...]]:
        """The cards of the deck grouped in every way."""
        return {by: group_rows(by, self.deck, self.statuses) for by in GROUPINGS}

    def table(self, by: Grouping) -> tuple[GroupRow, ...]:
        """The cards grouped one way, in the order a guitarist expects."""
        return self._tables[by]

    def weakest_of(self, by: Grouping) -> GroupRow | None:
        """The row of a table to drill next, of keys the least ready; None when nothing in it is weak."""
        row = weakest(self._tables[by])
        if row is None or by != "key" or self.least_ready is None:
            return row
        return next(each for each in self._tables[by] if each.name == self.least_ready.key.name)

    @property
    def least_ready(self) -> KeyReadiness | None:
        """Of the keys that the deck asks about, the least ready; None before one was asked."""
        return least_ready(self.keys, {row.name for row in self._tables["key"]})

    @cached_property
    def weakest(self) -> Weakest:
        """The one thing to drill next: of the weakest of each table, the one of the lowest strength."""
        rows = (row for by in GROUPINGS if (row := self.weakest_of(by)) is not None)
        return choose(rows, self.statuses, self.least_ready)

    @property
    def bar_s(self) -> float:
        """How long one bar lasts at the learner's tempo, in seconds."""
        return bar_seconds(self.settings.tempo_bpm)

    @cached_property
    def keys(self) -> tuple[KeyReadiness, ...]:
        """Readiness of the 24 everyday keys in teaching order."""
        return key_readiness(self.deck, self.learner, self.now_s, self.bar_s, self.sitting)

    @cached_property
    def keys_as_played(self) -> tuple[KeyReadiness, ...]:
        """The same, each beside how it was landed on in rounds that were heard."""
        return tuple(row._replace(played=self.played.get(row.key)) for row in self.keys)

    @cached_property
    def forecast(self) -> tuple[int, ...]:
        """How many cards that hold now fade in each of the coming days; the first is the next 24 hours."""
        return forecast(self.learner, self.deck.items, self.now_s, FORECAST_DAYS)

    @cached_property
    def _counts(self) -> history.LogCounts:
        """One pass over the log."""
        return history.LogCounts.of(self.log.attempts())

    @property
    def days(self) -> tuple[history.Period, ...]:
        """Every day with an answer, the oldest first."""
        return self._counts.days

    @property
    def weeks(self) -> tuple[history.Period, ...]:
        """The trend: every week with an answer, the oldest first."""
        return self._counts.weeks

    @property
    def hows(self) -> tuple[HowRow, ...]:
        """How the answers came: typed, or played."""
        return self._counts.hows

    @cached_property
    def mixups(self) -> tuple[MixupRow, ...]:
        """The recognised mix-ups, the one that stands out most first."""
        return self._counts.mixups(self.deck)

    @cached_property
    def landings(self) -> tuple[LandedKey, ...]:
        """The keys landed on in rounds, apart from all else."""
        return landed_keys(self.log.landings())

    @cached_property
    def played(self) -> dict[Key, AsPlayed]:
        """Readiness as played, of the keys heard in rounds; it stands beside readiness, and does not move it."""
        return as_played(self.log.landings())

    def prompt(self, entry: Entry) -> str:
        """The question of a card of this or another deck, with marked notes."""
        return card_as_asked(entry, self.deck).prompt

    def command(self, focus: Focus) -> str:
        """The command that drills a focus of this deck, in the learner's note language.

        Example: 'fretsure focus --key "F# minor"'.
        """
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
