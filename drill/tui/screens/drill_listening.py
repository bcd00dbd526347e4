"""The drill, answered on the guitar: what is heard is judged as what is typed is, and hands stay on the strings."""

from __future__ import annotations

from textual.app import ComposeResult

from drill.decks import Deck, Focus
from drill.errors import FretsureError, NoSound, UsageProblem
from drill.practice.hearing import Ears, open_ears
from drill.practice.played_drill import READ_NEW_S, READ_WRONG_S, PlayedDrill, can_be_played
from drill.practice.session import Session
from drill.present.played_words import TIMES_UNMEASURED, what_is_heard
from drill.present.verdicts import Verdict
from drill.system.audio import LOOK_S
from drill.tui.screens.drill import LEFT_ALONE, DrillScreen
from drill.tui.screens.tuning_check import TuningCheckScreen
from drill.tui.services import Services
from drill.tui.verdict_text import trouble
from drill.tui.widgets.listening_sign import ListeningSign

LEFT_ALONE_HERE = "No note and no key came, so the clock stopped. The wait is not counted."
TYPED_INSTEAD = "This drill is typed."


def heard_drill(services: Services, focus: Focus, deck: Deck | None) -> DrillScreen:
    """The drill with a microphone; typed, with a sentence, without one or a card to play. Raises FretsureError."""
    whole = deck or services.deck
    asked = whole.focused(focus, services.settings.note_language) if focus else whole
    try:
        played = can_be_played(asked)
        ears = open_ears(services.environment, services.settings)
    except UsageProblem as error:
        return DeafDrillScreen(services.start(focus, deck), f"{error} {TYPED_INSTEAD}")
    if services.settings.answers != "hands free":
        return HeardDrillScreen(services.start(focus, whole), ears)
    told = what_is_heard(len(played.entries), len(asked.entries), hands_free=True)
    return HeardDrillScreen(services.start(focus, can_be_played(whole)), ears, told)


class DeafDrillScreen(DrillScreen):
    """A drill that was to be heard, and has to be typed."""

    def __init__(self, session: Session, why: str) -> None:
        super().__init__(session)
        self._why = why

    def next_question(self) -> None:
        """Ask the next question; with the first, say why nothing is heard."""
        super().next_question()
        why, self._why = self._why, ""
        if why and self.question is not None:
            self.board.say(why)


class HeardDrillScreen(DrillScreen):
    """A drill that listens: the microphone is open while a question or its verdict is in front. The sign says so."""

    def __init__(self, session: Session, ears: Ears, told: str = "") -> None:
        super().__init__(session)
        self.played = PlayedDrill(session, ears)
        self._told = told
        """What is said with the first question, if the microphone opens."""
        self._has_begun = self._is_told_how = False

    def body(self) -> ComposeResult:
        yield ListeningSign(self.played.ears, id="listening")
        yield from super().body()

    def on_mount(self) -> None:
        self.set_interval(LOOK_S, self.listen_on)

    def _tune_first(self) -> None:
        """Let the guitar be tuned; that takes nothing from the time of the drill."""
        self.session.pause()
        self.app.push_screen(TuningCheckScreen(), lambda _: self._begin())

    def _begin(self) -> None:
        self._has_begun = True
        self.session.resume()
        why = self._open() or " ".join(filter(None, (self._told, "" if self.played.ears.path else TIMES_UNMEASURED)))
        self.next_question()
        if why:
            self.board.say(why)

    def _open(self) -> str:
        """Open the microphone; why it cannot be opened, in a sentence, else nothing."""
        try:
            self.played.start()
        except NoSound as error:
            return f"{error} {TYPED_INSTEAD}"
        finally:
            self._match_sign()
        return ""

    # -- the course of a question --------------------------------------------------------------------------------------

    def next_question(self) -> None:
        """Ask the next question, and listen for its answer; before the first, check the tuning."""
        if not self._has_begun:
            self._tune_first()
            return
        self._is_told_how = False
        super().next_question()
        if self.question is not None:
            self.played.asked(self.question)
            if self.is_asked and self.played.is_listening and not self.played.is_played:
                self._say_how()

    def listen_on(self) -> None:
        """Take what was heard: an answer, a note to be told of, or the wish to go on."""
        if not (self._has_begun and self.in_front and self.played.is_listening) or self.session.watch.paused:
            return
        if self.session.is_heard and not self.played.is_played:
            self.played.ignore()  # what the loudspeakers play is no note of the guitar
        if not self.is_asked:
            if self.played.goes_on() or self._is_read:
                self._on_with_it()
        elif self.board.field.value:
            self.played.ignore()  # who types is not heard meanwhile
        else:
            self._tell()

    def _tell(self) -> None:
        try:
            told = self.played.poll()
        except FretsureError as error:
            self.board.say(trouble(error, self.key_of))
            return
        heard_s = self.times.now_s() - self.played.quiet_s
        self.times.pressed_s = max(self.times.pressed_s, heard_s)  # a note says as well as a key who is there
        for each in told:
            if isinstance(each, Verdict):
                self.judge(each)
            else:
                self._match_sign()
                self.board.say(self.settings.voice.say(each))

    def judge(self, verdict: Verdict) -> None:
        """Show the verdict; notes from now on ask for the next question."""
        super().judge(verdict)
        self.played.verdict_shown()

    def _on_with_it(self) -> None:
        if self.is_solved:
            self._leave_solved()
        elif self.verdict is not None and not self.verdict.right:
            self.next_question()

    @property
    def _is_read(self) -> bool:
        """Whether a wrong answer or a new card has been in sight for long enough without a key."""
        return self.times.since_key_s >= (READ_WRONG_S if self.verdict else READ_NEW_S)

    def finish(self) -> None:
        """Close the microphone and end the drill."""
        self.played.stop()
        super().finish()

    # -- what is shown -------------------------------------------------------------------------------------------------

    def _hint(self) -> None:
        """Say what to play, as it is said what to type."""
        super()._hint()
        if self.played.is_played and not self._is_told_how:
            self._say_how()

    def _say_how(self) -> None:
        if self.question is not None:
            self._is_told_how = True
            self.board.say(self.settings.voice.hint(self.played.how(self.question)))

    def _match_sign(self) -> None:
        for sign in self.query(ListeningSign):
            sign.match()
            self.board.rows_above = int(sign.display)

    # -- time ----------------------------------------------------------------------------------------------------------

    def pause(self, reason: str, away_s: float = 0.0) -> None:
        """Stop the clock and close the microphone, because the learner is away."""
        super().pause(LEFT_ALONE_HERE if reason == LEFT_ALONE else reason, away_s)

    def on_screen_suspend(self) -> None:
        self.played.ears.stop()
        self._match_sign()

    def on_screen_resume(self) -> None:
        is_open = self.played.is_listening or not self.played.wants_to_listen
        if is_open or not self._has_begun or self.question is None:
            return
        why = self._open()
        self.played.asked(self.question) if self.is_asked else self.played.verdict_shown()
        if why:
            self.board.say(why)

    def on_unmount(self) -> None:
        self.played.stop()
