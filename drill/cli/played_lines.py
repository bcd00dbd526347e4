"""A drill in sentences that is answered on the guitar: what is heard and what is typed, whichever comes first."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, NamedTuple, Protocol

from drill.cli.line_input import Answered
from drill.cli.output import notify, say
from drill.decks import Deck, Focus
from drill.errors import UsageProblem
from drill.practice.request import DrillRequest
from drill.practice.session import Question
from drill.present.verdicts import Verdict
from drill.settings import Settings
from drill.system.audio import LOOK_S
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.practice.hearing import Ears
    from drill.practice.played_drill import PlayedDrill


class Waiting(Protocol):
    """Where lines are typed: tells whether one has come."""

    def ready(self, seconds: float) -> bool: ...


class PlayedLines:
    """Waits for a note or a line. `say` prints a sentence whose notes are marked."""

    def __init__(
        self, drill: PlayedDrill, lines: Waiting, monotonic: Callable[[], float], say: Callable[[str], None]
    ) -> None:
        self.drill, self._lines, self._monotonic, self._say = drill, lines, monotonic, say

    def asked(self, question: Question) -> str:
        """Listen for the answer to a question; what to play for it, or why it is typed."""
        self.drill.asked(question)
        return self.drill.hint(question)

    def answer(self) -> Answered | None:
        """The verdict on what was played; None once a line has been typed, or input has ended."""
        while not self._lines.ready(LOOK_S):
            for told in self.drill.poll():
                if isinstance(told, Verdict):
                    return Answered("", told)
                self._say(told)
        return None

    def goes_on(self, *, new: bool = False) -> bool:
        """Wait until a note is plucked, or a wrong answer, or a `new` card, was shown for long enough.

        False if somebody has to press Enter: the microphone is closed, or a line is there; it is not read.
        """
        from drill.practice.played_drill import READ_NEW_S, READ_WRONG_S

        if not self.drill.is_listening:
            return False
        self.drill.verdict_shown()
        until_s = self._monotonic() + (READ_NEW_S if new else READ_WRONG_S)
        while self._monotonic() < until_s:
            if self._lines.ready(LOOK_S):
                return False
            if self.drill.goes_on():
                break
        return True


class Heard(NamedTuple):
    """What a drill is over, and its open ears; without ears it is typed."""

    deck: Deck
    ears: Ears | None = None


@contextmanager
def heard(
    request: DrillRequest, deck: Deck, focus: Focus | None, settings: Settings, environment: Environment
) -> Iterator[Heard]:
    """Open the microphone for a drill of this deck, say what of it can be played, and say when it closes.

    For hands that stay on the guitar the deck loses what has to be typed. Where nothing can be heard or played, the
    drill is typed, with a sentence; if the command asked to listen, raises NoSound or UsageProblem instead.
    """
    from drill.cli.sound_check_lines import offered_check
    from drill.practice.hearing import CLOSED, OPENED, open_ears
    from drill.present.played_words import TIMES_UNMEASURED

    try:
        given, told = _prepared(deck, focus, settings)
        settings = offered_check(settings, environment) if request.listen else settings
        ears = open_ears(environment, settings)
        say(environment, told)
        ears.start()
    except UsageProblem as error:
        if request.listen:
            raise
        notify(environment, [f"{error} This drill is typed."])
        yield Heard(deck)
        return
    try:
        from drill.cli.tuning_lines import check_tuning_in_words  # needs numpy, as the ears do

        say(environment, OPENED)
        if not ears.path:
            say(environment, TIMES_UNMEASURED)
        check_tuning_in_words(ears, settings, environment)
        yield Heard(given, ears)
    finally:
        ears.stop()
        notify(environment, [CLOSED])


def _prepared(deck: Deck, focus: Focus | None, settings: Settings) -> tuple[Deck, str]:
    """The deck to drill, and what of it is heard, in a sentence. Raises UsageProblem if nothing of it can be played."""
    from drill.practice.played_drill import can_be_played
    from drill.present.played_words import what_is_heard

    asked, hands_free = deck.focused(focus, settings.note_language) if focus else deck, settings.answers == "hands free"
    played = can_be_played(asked)
    told = what_is_heard(len(played.entries), len(asked.entries), hands_free=hands_free)
    return (can_be_played(deck) if hands_free else deck), told
