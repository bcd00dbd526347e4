"""The summary of a drill, in the sentences that line mode and the screens share.

Growth      cards in time now and a week ago
NextStep    what comes when a deck is known
Summary     the figures: what moved, what was mixed up, what was slow, when the first card fades
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from drill.memory.reasons import Ending
from drill.present.dates import relative_day
from drill.present.figures import how_many, per_cent, seconds
from drill.present.verdicts import Line
from drill.present.voice import Voice
from drill.questions.facets import Group
from drill.questions.wording import named_key, times_in_words
from drill.theory.keys import Key

if TYPE_CHECKING:
    from drill.system.environment import Environment

NOTHING_URGENT = "Nothing more is urgent today: every card here is known, and still will be tomorrow."
ALL_IN_TIME = "All of it came right in time today, so the drill ends here."
EARLY = {Ending.KNOWN: NOTHING_URGENT, Ending.IN_TIME: ALL_IN_TIME}
"""What is said where a drill ends before its time."""
NOTHING_ANSWERED = "Nothing was answered, so nothing has changed."


class Move(NamedTuple):
    """How the strength of a card (0 to 1) changed over the drill, and its thinking time in seconds.

    Of a `fresh` card, asked for the first time, `before` is a guess from others of its family. `last_s` is how long it
    took when it last came right before, `now_s` how long now; None where that was not measured.
    """

    card: str
    prompt: str
    fresh: bool
    before: float
    after: float
    last_s: float | None = None
    now_s: float | None = None

    @property
    def times(self) -> str:
        """Its thinking times in words: '3.4 → 2.1 s', or the new one alone; empty where none was measured."""
        if self.now_s is None:
            return ""
        return seconds(self.now_s) if self.last_s is None else f"{self.last_s:.1f} → {seconds(self.now_s)}"

    @property
    def start(self) -> str:
        """The strength before the drill in words: nobody had measured a fresh card."""
        return "new" if self.fresh else per_cent(self.before)


class MixupCount(NamedTuple):
    """How often a kind of mix-up happened in the drill, and one example in words, with the question it answered."""

    name: str
    times: int
    example: str
    prompt: str


class Slow(NamedTuple):
    """A string or a key, and the median thinking time of its right answers, in seconds."""

    group: Group
    seconds: float


class Growth(NamedTuple):
    """How many cards come in time, now and a week ago (None where nothing was asked by then), and how many right."""

    in_time: int
    week_ago: int | None
    right: int = 0


class NextStep(NamedTuple):
    """What comes when a deck is known at a tempo: a faster one, the deck it leads on to, or both."""

    known: str
    """The title of the deck that is known."""
    tempo_bpm: int
    faster_bpm: int | None
    deck: str | None
    deck_title: str


class Return(StrEnum):
    """What there is to do at the next drill, and why it comes when it does."""

    NEW = "new"
    """Some cards of the deck were never asked."""
    MISSED = "missed"
    """Some cards of this drill do not hold yet."""
    FADES = "fades"
    """The first of its cards begins to fade."""
    TEST = "test"
    """Nothing is expected to fade, but no answer has shown yet that it lasts for longer."""


class Summary(NamedTuple):
    """The whole of a drill. `returns_at_s` is when to drill again, in seconds since the epoch, tomorrow at the earliest
    and within four weeks; `returns_for` says why then.

    `keys` are the keys it asked about, those that were missed most first, then the slowest.
    `ending` says why it held no further question; None if the learner left it.
    """

    answered: int
    right: int
    first_time: int
    seconds: float
    moved: tuple[Move, ...]
    mixups: tuple[MixupCount, ...]
    slowest: tuple[Slow, ...]
    returns_at_s: float | None
    growth: Growth | None = None
    keys: tuple[Key, ...] = ()
    ending: Ending | None = None
    returns_for: Return | None = None

    @property
    def is_known(self) -> bool:
        """Whether the drill ended early because every card is known, and not only came right in time today."""
        return self.ending is Ending.KNOWN


def growth_sentence(growth: Growth) -> str:
    """Growth against oneself in a sentence; of who is not in time yet, what comes right; empty where nothing does.

    >>> growth_sentence(Growth(0, None, 20))
    '20 cards came right when last asked; with practice they come in time.'
    >>> growth_sentence(Growth(12, 7)), growth_sentence(Growth(12, 12)), growth_sentence(Growth(3, None))
    ('12 cards in time, 5 more than a week ago.', '12 cards in time, as many as a week ago.', '3 cards in time so far.')
    """
    cards = how_many(growth.in_time, "card")
    if not growth.in_time and not growth.week_ago:
        right = how_many(growth.right, "card")
        return f"{right} came right when last asked; with practice they come in time." if growth.right else ""
    if growth.week_ago is None:
        return f"{cards} in time so far."
    more = growth.in_time - growth.week_ago
    if more > 0:
        return f"{cards} in time, {more} more than a week ago."
    return f"{cards} in time; a week ago {growth.week_ago}." if more else f"{cards} in time, as many as a week ago."


def next_step_sentence(step: NextStep) -> str:
    """What is ready, what comes next, and where to choose it."""
    return f"{ready_sentence(step)} Choose it in Set-up."


def ready_sentence(step: NextStep) -> str:
    """What is ready, and what comes next."""
    ready = f"is ready at {step.tempo_bpm} beats a minute" if step.faster_bpm else "is known"
    return f"“{step.known}” {ready}. Next: {_what_comes(step)}."


def standing_sentence(step: NextStep, set_up_key: str) -> str:
    """What comes next and the key of the screen where it is chosen, in a line for as long as it stands.

    >>> standing_sentence(NextStep("Two shapes", 80, 90, "one-bar", "In one bar"), "s")
    'Next, in Set-up (s): 90 beats a minute or the deck “In one bar”.'
    """
    return f"Next, in Set-up ({set_up_key}): {_what_comes(step)}."


def _what_comes(step: NextStep) -> str:
    faster = f"{step.faster_bpm} beats a minute" if step.faster_bpm else ""
    deck = f"the deck “{step.deck_title}”" if step.deck else ""
    return " or ".join(filter(None, (faster, deck)))


def result(summary: Summary) -> Line:
    """How many answers were right, and how many cards were new."""
    new = f"{how_many(summary.first_time, 'new card')}." if summary.first_time else ""
    return Line(f"{summary.right} of {summary.answered} right in {duration(summary.seconds)}.", new)


def mixup(count: MixupCount, voice: Voice) -> Line:
    """A mix-up, how often it happened, and an example: the question, and what was wrong with the answer."""
    example = f"{voice.say(count.prompt)} {voice.say(count.example)}"
    return Line(f"Mixed up {times_in_words(count.times)}:", f"{count.name}. {example}")


def slowest(summary: Summary, voice: Voice) -> str:
    """The slowest strings and keys: 'string 6 2.3 s · F minor 2.0 s'."""
    return " · ".join(f"{group_name(slow.group, voice)} {seconds(slow.seconds)}" for slow in summary.slowest)


def come_back(summary: Summary, environment: Environment) -> str:
    """The day on which to drill again, and why; empty where nothing was answered."""
    if summary.returns_at_s is None:
        return ""
    return f"Come back {relative_day(summary.returns_at_s, environment)}: {_why_then(summary)}"


def _why_then(summary: Summary) -> str:
    if not summary.right:
        return "you have seen these answers now, and they are asked again."
    if summary.returns_for is Return.NEW:
        return "more of the deck is still new to you."
    if summary.returns_for is Return.MISSED:
        return "what does not come surely yet is asked again."
    if summary.returns_for is Return.TEST:
        return "nothing should fade before then, and a drill makes sure of it."
    return "that is when the first of these begins to fade."


def group_name(group: Group, voice: Voice) -> str:
    """A group of cards in words: 'string 6', 'F minor'."""
    return voice.say(named_key(group.value)) if isinstance(group.value, Key) else f"{group.facet} {group.value}"


def duration(time_s: float) -> str:
    """A length of time in minutes and whole seconds.

    >>> duration(13.4), duration(253.0), duration(300.0)
    ('13 s', '4 min 13 s', '5 min')
    """
    minutes, rest = divmod(round(time_s), 60)
    if not minutes:
        return f"{rest} s"
    return f"{minutes} min {rest} s" if rest else f"{minutes} min"
