"""The one place where screens meet decks, record and memory.

Modules that a drill does not need are imported inside functions, so that a start straight into a drill is quick.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from functools import cached_property
from typing import TYPE_CHECKING, Any

from drill import settings as settings_file
from drill.decks import (
    Deck,
    Focus,
    Widening,
    added_decks,
    is_narrow,
    load_deck,
    other_names,
    shipped_decks,
    widenings,
)
from drill.errors import FretsureError, NoSound
from drill.memory import Planner
from drill.memory.constants import DAY_S
from drill.practice.learner_store import BEHIND, SLICE_S, LearnerStore
from drill.practice.session import Session
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment, resolved
from drill.theory.bars import bar_seconds
from drill.theory.keys import Key

if TYPE_CHECKING:
    from pathlib import Path

    from drill.present.summaries import NextStep
    from drill.present.today import Today
    from drill.progress import Progress
    from drill.system.duplex import Devices
    from drill.tui.views import HomeView


class Services:
    """Answers the screens' questions from the open record; `deck` and `minutes` override the settings for one run."""

    def __init__(
        self,
        environment: Environment,
        settings: Settings,
        record: Record,
        deck: str | None = None,
        minutes: float | None = None,
        store: LearnerStore | None = None,
    ) -> None:
        self.listen = False
        """Whether drills are answered on the guitar, whatever the settings say."""
        self.environment, self.settings, self.record = environment, settings, record
        self._store = store
        self._began_empty = bool(record.notices) and not self._has_answers()
        """Whether the record has notices that were made before its first answer."""
        self._deck_name, self._minutes = deck, minutes
        self._deck: Deck | None = None

    @property
    def minutes(self) -> float:
        """How long a drill lasts."""
        return self._minutes or self.settings.minutes

    @property
    def listens(self) -> bool:
        """Whether drills are answered on the guitar where it can be heard."""
        return self.listen or self.settings.answers != "typed"

    @property
    def bar_s(self) -> float:
        """How long a bar lasts at the learner's tempo, in seconds."""
        return bar_seconds(self.settings.tempo_bpm)

    @property
    def deck_name(self) -> str:
        """The name or path of the daily drill's deck."""
        return self._deck_name or self.settings.deck

    @property
    def deck(self) -> Deck:
        """The deck of the daily drill on the learner's neck. Raises FretsureError."""
        if self._deck is None:
            self._deck = load_deck(self.deck_name, self.settings.neck, self.bar_s)
        return self._deck

    @property
    def places(self) -> bool:
        """Whether a newcomer is still to be asked where to begin."""
        return self.newcomer and self.settings.place is None

    @property
    def at_first_start(self) -> bool:
        """Whether the welcome is still to come: nobody has said where to begin, or begun a drill."""
        return self.places and next(self.record.drills(), None) is None

    @property
    def newcomer(self) -> bool:
        """Whether no card has been seen yet."""
        return not self.store.learner.cards

    # -- the learner ---------------------------------------------------------------------------------------------------

    @property
    def store(self) -> LearnerStore:
        """The learner; while a long record is still being read, as far as it has been read.

        Raises FretsureError.
        """
        if self._store is None or not (self._store.behind or self._store.is_current):
            self._store = LearnerStore.begin(self.record, self.environment.monotonic)
        return self._store

    @property
    def behind(self) -> bool:
        """Whether a part of the record is still to be read."""
        return self._store is not None and self._store.behind

    def catch_up(self) -> None:
        """Read the next slice of the record, too short for the learner to notice."""
        if self._store is not None:
            self._store.catch_up(self.environment.monotonic, SLICE_S)

    # -- drilling ------------------------------------------------------------------------------------------------------

    def start(self, focus: Focus, deck: Deck | None = None) -> Session:
        """Begin a drill of the daily deck or another one. Raises FretsureError, as when nothing is left to ask."""
        return Session.start(
            self.environment,
            self.settings,
            self.record,
            deck or self.deck,
            self.minutes,
            focus or None,
            store=self.store,
        )

    def is_narrow(self, focus: Focus) -> bool:
        """Whether a focus leaves few cards of the deck. Raises FretsureError."""
        return is_narrow(self.deck, self.deck.known(focus))

    def widenings(self, focus: Focus) -> tuple[Widening, ...]:
        """What a focus could be widened to. Raises FretsureError."""
        return widenings(self.deck, self.deck.known(focus), self.decks().values())

    def other_names(self, focus: Focus) -> str:
        """That the deck asks keys in focus by their other names, in a sentence with marked notes; empty if none is."""
        from drill.present.narrow import other_name_sentence

        with suppress(FretsureError):  # Home has shown what is wrong with the deck
            return other_name_sentence(other_names(self.deck, focus))
        return ""

    def record_key_presses(self, seconds: Sequence[float]) -> float:
        """Save how long key presses took, in seconds; returns the new estimate of one key press."""
        from drill.practice.key_press import record_key_presses

        return record_key_presses(self.environment, self.store, seconds)

    def count(self, focus: Focus) -> int:
        """How many cards of the deck a focus leaves."""
        return self.deck.count(focus)

    # -- looking -------------------------------------------------------------------------------------------------------

    def progress(self) -> Progress:
        """Where the learner stands now in the deck. Raises FretsureError."""
        from drill.progress import Progress

        store, now_s = self.store, self.environment.now()
        sitting = store.state.sitting
        return Progress(
            store.learner,
            store.record,
            self.deck,
            self.settings,
            now_s,
            store.calibration,
            sitting=sitting,
            utc_offset_minutes=self.environment.utc_offset_minutes(now_s),
        )

    def next_step(self, nothing_urgent: bool = False) -> NextStep | None:
        """What to propose if the deck is known by now, or if a drill of it has just ended because all is."""
        from drill.progress.next_step import next_step

        with suppress(FretsureError):
            return next_step(self.progress(), nothing_urgent)
        return None

    def growth(self) -> str:
        """Growth against oneself in a sentence; empty where there is none to tell of."""
        from drill.practice.growth import growth
        from drill.present.summaries import growth_sentence

        with suppress(FretsureError):
            return growth_sentence(growth(self.store, self.deck.neck, self.environment.now()))
        return ""

    def round_keys(self) -> tuple[Key, ...]:
        """The keys of the deck, the weakest first. Raises FretsureError."""
        from drill.progress.round_keys import round_keys

        return round_keys(self.progress())

    def landed(self, keys: Sequence[Key]) -> str:
        """What was landed on in rounds of these keys, in a sentence; empty for nothing."""
        from drill.progress.landings import landed_sentence

        with suppress(FretsureError):
            progress = self.progress()
            return self.settings.voice.say(landed_sentence(keys, progress.landings, progress.played))
        return ""

    def kept_elsewhere(self) -> str:
        """That what was learnt on another neck is kept; empty where nothing was, or something is known on this one.

        A deck that brings its own instrument is asked on that, whatever is set. Raises FretsureError.
        """
        from drill.progress.other_necks import kept_elsewhere

        if self.deck.neck != self.settings.neck:
            return ""
        return kept_elsewhere(self.store.learner.cards, self.settings.neck)

    def home(self) -> HomeView:
        """Where the learner stands, and what the next drill brings. Raises FretsureError."""
        from drill.present.today import NOTHING_YET, letters
        from drill.progress.homework import home_lines, told
        from drill.tui.views import HomeView, key_pairs

        self.drop_old_notices()
        progress, language = self.progress(), self.settings.note_language
        newcomer = not progress.learner.cards
        done = self._is_done(progress)
        ahead = self._today(progress, progress.now_s + DAY_S * done)
        homework = told(progress)
        left_out = (self.without_shapes,) if self.without_shapes else progress.deck.left_out
        return HomeView(
            deck_title=progress.deck.title,
            newcomer=newcomer,
            neck=progress.deck.neck,
            strengths={spot: row.recall for spot, row in progress.spots.items()},
            pairs=key_pairs(progress),
            today=self._brings(ahead, newcomer, done),
            nothing_ahead=not (ahead.first or ahead.more or ahead.back),
            letters="" if done else letters(ahead, language),
            growth=NOTHING_YET if newcomer else self.growth(),
            homework=tuple(home_lines(progress, homework)),
            homework_deck=homework[0].deck if homework else "",
            notices=tuple(filter(None, (BEHIND * self.behind, *self.record.notices, self.kept_elsewhere(), *left_out))),
        )

    @property
    def without_shapes(self) -> str:
        """What is drilled instead where the deck asks of no shape, because the instrument has none; else empty."""
        from drill.present.idea import without_shapes

        return without_shapes(self.deck.neck.tuning) if self.deck.left_out else ""

    def drop_old_notices(self) -> None:
        """Say no more how a new record began once something was answered: whoever answered has read it."""
        if self._began_empty and self._has_answers():
            self.record.notices.clear()

    def _has_answers(self) -> bool:
        with suppress(FretsureError):  # damage is told of elsewhere
            return self.record.last_attempt_id() > 0
        return True

    def _is_done(self, progress: Progress) -> bool:
        """Whether today's minutes are done, or nothing is left that today has to ask."""
        from drill.practice.attempts import attempt_of
        from drill.practice.done_today import is_done, of_today

        with suppress(FretsureError):  # a damaged answer is told of elsewhere
            rows = of_today(self.record, self.environment)
            if rows and not is_done(rows, self.minutes):
                attempts = (self.store.net(row.family, attempt_of(row)) for row in rows)
                return self._planner(progress, progress.now_s).is_through(attempts)
            return bool(rows)
        return False

    def _brings(self, ahead: Today, newcomer: bool, done: bool) -> str:
        """What the drill ahead brings, tomorrow's once today is done, in a sentence; to a newcomer, what Enter does."""
        from drill.present.today import done_sentence, first_sentence, today_sentence

        if newcomer:
            return first_sentence(ahead.minutes, self.settings.place)
        return (done_sentence if done else today_sentence)(ahead, self.settings.note_language)

    def _today(self, progress: Progress, at_s: float) -> Today:
        """What a drill that is started then, in seconds since the epoch, is about."""
        from drill.practice.pace import answers_in
        from drill.progress.today import todays

        seconds, answers = 60 * self.minutes, None
        with suppress(FretsureError):  # a damaged answer is told of elsewhere
            answers = answers_in(seconds, self.record)
        preview = self._planner(progress, at_s).preview(at_s, seconds)
        return todays(progress, preview, round(self.minutes), answers)

    def _planner(self, progress: Progress, at_s: float) -> Planner:
        """The planner of a drill that is started then, in seconds since the epoch."""
        deck = progress.deck.begun_with(self.settings.place)
        return Planner(progress.learner, deck.items, at_s, self.settings.place)

    # -- setting up ----------------------------------------------------------------------------------------------------

    def decks(self) -> dict[str, Deck]:
        """The decks to choose from, by the name a setting gives them: those that ship, those added, and the current."""
        added, _ = added_decks(self.settings.neck, self.bar_s)
        decks = {deck.id: deck for deck in (*shipped_decks(self.settings.neck, self.bar_s), *added)}
        if self.deck_name not in decks:
            with suppress(FretsureError):  # Home has shown what is wrong with it
                decks[self.deck_name] = self.deck
        return decks

    def find_deck(self, name: str) -> Deck:
        """A deck by its name, the current one by its own. Raises FretsureError."""
        return self.deck if self.deck.id == name else load_deck(name, self.settings.neck, self.bar_s)

    def save_sheet(self, progress: Progress) -> Path:
        """Write a practice sheet of what is weakest into the current folder. Raises CannotWrite, UsageProblem."""
        from drill.export.sheet import save_beside

        return save_beside(progress, resolved("."), self.environment.rng)

    @cached_property
    def devices(self) -> Devices:
        """The microphones and speakers to choose from, as they were when they were first asked for."""
        from drill.system.duplex import Devices

        with suppress(NoSound):
            return self.environment.find_devices()
        return Devices((), ())

    def change(self, name: str, value: str | int) -> None:
        """Change one setting and save it. Raises BadFile for a value that does not fit, CannotWrite."""
        change: dict[str, Any] = {name: value}
        if name in ("microphone", "speaker"):
            change["path_ms"] = 0  # it was measured with other devices
        wanted = settings_file.dump(self.settings._replace(**change))
        changed = settings_file.parse(wanted, "settings")
        bar_s = bar_seconds(changed.tempo_bpm)
        deck = load_deck(changed.deck, changed.neck, bar_s) if name in DECK_SETTINGS else None
        settings_file.save(changed, self.environment.config_path)
        self.settings = changed
        if deck is not None:
            self._deck, self._deck_name = deck, None
        if name == "tempo_bpm":
            self._deck = None  # its targets follow the tempo
        if name == "learner":
            self.record.call(changed.learner.strip())  # exports say what the record says


DECK_SETTINGS = ("deck", "tuning", "frets", "capo")
"""Settings that decide what can be asked; a value that the deck cannot be built for is not saved."""
