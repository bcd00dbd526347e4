"""What commands need of the learner: settings, deck, record and progress. Each imports only what it opens."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from drill.cli.output import notify
from drill.system.environment import Environment
from drill.system.slow_notice import notify_if_slow

if TYPE_CHECKING:
    from drill.decks import Deck
    from drill.progress import Progress
    from drill.record import Record
    from drill.settings import Settings


BEGINS = "A new record begins at {}: there was none. If you have one elsewhere, correct --record."


def load_settings(environment: Environment) -> Settings:
    """The learner's settings. Raises BadFile."""
    from drill import settings

    return settings.load(environment.config_path)


def chosen_deck(name: str | None, settings: Settings) -> Deck:
    """The deck that was asked for, or else the one in the settings. Raises UnknownName and BadFile."""
    from drill.decks import load_deck
    from drill.theory.bars import bar_seconds

    return load_deck(name or settings.deck, settings.neck, bar_seconds(settings.tempo_bpm))


@contextmanager
def open_record(environment: Environment, *, on_screens: bool = False) -> Iterator[Record]:
    """Open the learner's record. Once it is closed, for whatever reason, its notices are printed.

    That a new one begins at a path that was typed, perhaps mistyped, is said at once at a terminal; `on_screens`, where
    it would be covered, it is one of the notices.
    """
    from drill.record import Record

    begins = [BEGINS.format(environment.record_path)]
    is_new = environment.is_record_typed and _is_missing(environment.record_path)
    is_told = is_new and environment.stderr.isatty()
    record = Record.open(environment.record_path, environment.now)
    if is_told and on_screens:
        record.notices += begins
    elif is_told:
        notify(environment, begins)
    try:
        with record:
            yield record
    finally:
        notify(environment, record.notices)


def _is_missing(path: Path) -> bool:
    """Whether nothing is at a path; where that cannot be told, whoever opens it says why."""
    with suppress(OSError, ValueError):
        return not path.exists()
    return False


@contextmanager
def open_progress(deck: str | None, environment: Environment, *, exact: bool = True) -> Iterator[Progress]:
    """Give the learner's progress through a deck while their record is open.

    If it need not be `exact`, a long log that has to be read again is read for two seconds only.
    """
    from drill.practice.learner_store import LearnerStore
    from drill.progress import Progress

    settings = load_settings(environment)
    chosen = chosen_deck(deck, settings)
    with open_record(environment) as record:
        with notify_if_slow(environment.stderr):
            store = LearnerStore.of(record) if exact else LearnerStore.begin(record, environment.monotonic)
        now_s, sitting = environment.now(), store.state.sitting
        offset = environment.utc_offset_minutes(now_s)
        yield Progress(
            store.learner, record, chosen, settings, now_s, store.calibration, deck, sitting, utc_offset_minutes=offset
        )
