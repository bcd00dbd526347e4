"""What screens ask the rest of the program for: the one place where they meet decks, record and memory."""

from __future__ import annotations

from collections.abc import Sequence

from drill.decks import Deck, Focus, load_deck
from drill.environment import Environment
from drill.memory import Planner
from drill.recall import Recall
from drill.record import Record
from drill.session import Session
from drill.settings import Settings
from drill.tui.views import HomeView


class Desk:
    """Holds the environment, the settings and the open record. `deck` and `minutes` may be given for one run."""

    def __init__(
        self,
        environment: Environment,
        settings: Settings,
        record: Record,
        deck: str | None = None,
        minutes: float | None = None,
    ) -> None:
        self.environment, self.settings, self.record = environment, settings, record
        self._deck_name, self._minutes = deck, minutes
        self._deck: Deck | None = None

    @property
    def minutes(self) -> float:
        """How long a drill lasts."""
        return self._minutes or self.settings.minutes

    @property
    def deck(self) -> Deck:
        """The deck of the daily drill, laid out on the learner's neck. Raises FretsureError."""
        if self._deck is None:
            self._deck = load_deck(self._deck_name or self.settings.deck, self.settings.neck)
        return self._deck

    def start(self, focus: Focus) -> Session:
        """Begin a drill. Raises FretsureError, as when a focus leaves nothing to ask."""
        return Session.start(self.environment, self.settings, self.record, self.deck, self.minutes, focus or None)

    def home(self) -> HomeView:
        """Where the learner stands now. Raises FretsureError."""
        deck, now_s = self.deck, self.environment.now()
        learner = Recall.of(self.record).learner
        preview = Planner(learner, deck.items, now_s).preview(now_s, 60 * self.minutes)
        return HomeView(
            deck_title=deck.title,
            minutes=round(self.minutes),
            newcomer=self.newcomer,
            neck=deck.neck,
            strengths={},
            pairs=(),
            fading=preview.fading,
            slow=preview.slow,
            fresh=preview.fresh,
            answers=preview.answers,
            notices=(*self.record.notices, *deck.left_out),
        )

    @property
    def newcomer(self) -> bool:
        """Whether nothing has been answered yet."""
        return self.record.attempt_count() == 0

    def keep_key_presses(self, seconds: Sequence[float]) -> None:
        """Keep how long key presses took."""
