"""Line mode: a drill in sentences, one line a question, answers on standard input; nothing is ever redrawn.

For screen readers, pipes and old terminals. `line_input` says how lines are read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain
from typing import TYPE_CHECKING, TextIO, cast

from drill.cli import output
from drill.cli.line_input import (
    CATCH_UP_S,
    HOW,
    PASSES_IN_A_ROW,
    answer_from_lines,
    attended,
    homework_elsewhere,
    homework_of,
    is_leaving,
    nobody_there,
    progress_of,
    read_line,
    step_after,
)
from drill.practice.learner_store import BEHIND
from drill.practice.session import Question, Session
from drill.present import summaries
from drill.present.cautions import CAUTIONS
from drill.present.figures import per_cent
from drill.present.idea import sentences, without_shapes
from drill.present.summaries import Summary
from drill.present.verdicts import Line, idea_of, solved_lines, verdict_lines
from drill.present.voice import Voice
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.cli.played_lines import PlayedLines
    from drill.practice.hearing import Ears

GO_ON = "Press Enter to go on."
GO_ON_PLAYING = "Press Enter or play a note to go on; after a while it goes on by itself."
NO_QUESTION = "No question was open, so that was not counted."
UNREADABLE = "This was the third line that could not be read, so the question counts as not known."
NOBODY = f"The last {PASSES_IN_A_ROW} questions went unanswered, so the drill ends here."
SHOWN = "Shown, not asked:"


def drill_in_words(session: Session, environment: Environment, ears: PlayedLines | None = None) -> None:
    """Run a drill in sentences until its time is up or input ends; with `ears` it may be played.

    Raises CannotWrite, RecordDamaged.
    """

    def say(sentence: object) -> None:
        output.say(environment, str(sentence))

    voice = session.settings.voice
    for opening in _opening_lines(session):
        say(opening)
    while not nobody_there(session) and (question := session.ask()):
        if question.solved:
            for shown in _shown_lines(question, voice):
                say(shown)
            if not _goes_on(environment, ears, say, new=True):
                break
            session.shown()
            continue
        say(_question_line(question, voice, ears.asked(question) if ears else question.card.hint))
        answered = ears.answer() if ears else None
        answered = answered or answer_from_lines(session, environment, lambda error: say(f"{error} Not counted."))
        if answered is None:
            break
        if answered.unread:
            say(f"{answered.unread} {UNREADABLE}")
        for line in verdict_lines(answered.verdict, voice):
            say(line)
        session.catch_up(CATCH_UP_S)
        if not (answered.verdict.right or _goes_on(environment, ears, say)):
            break
    if nobody_there(session):
        say(NOBODY)
    summary = session.finish()
    ends = _summary_lines(summary, environment, voice), _homework_lines(session), _other_homework(session)
    for sentence in chain.from_iterable(ends):
        say(sentence)
    if step := step_after(session, summary):
        say(summaries.next_step_sentence(step))


def drill_by_ear(ears: Ears, session: Session, environment: Environment) -> None:
    """Run a drill in sentences that is played, and typed where it cannot be. Raises CannotWrite, RecordDamaged."""
    from drill.cli.played_lines import PlayedLines
    from drill.practice.played_drill import PlayedDrill
    from drill.system.typed_lines import TypedLines

    voice, lines = session.settings.voice, TypedLines(environment.stdin)

    def say(sentence: str) -> None:
        output.say(environment, voice.say(sentence))

    waiting = PlayedLines(PlayedDrill(session, ears), lines, environment.monotonic, say)
    drill_in_words(session, environment._replace(stdin=cast("TextIO", lines)), waiting)


def _question_line(question: Question, voice: Voice, hint: str) -> str:
    """The question with its number and how to answer it; what is heard first is not told in words."""
    prompt = question.card.ask.line if question.card.heard else question.card.prompt
    how = voice.hint(hint)
    return f"{question.number}. {voice.say(prompt)} {f'[{how}]' if '(' in how else f'({how})'}"


def _goes_on(
    environment: Environment, ears: PlayedLines | None, say: Callable[[object], None], *, new: bool = False
) -> bool:
    """Wait for Enter, or a note, after a wrong verdict or a `new` card: reading is no thinking.

    False if the learner leaves instead.
    """
    if not attended(environment):
        return True
    say(GO_ON_PLAYING if ears and ears.drill.is_listening else GO_ON)
    if ears and ears.goes_on(new=new):
        return True
    typed = read_line(environment)
    if typed is None or is_leaving(typed):
        return False
    if typed.strip():
        say(NO_QUESTION)
    return True


def _homework_lines(session: Session) -> Iterator[str]:
    """How far the homework set with the deck has come, if any is."""
    if (now := homework_of(session)) is not None:
        from drill.progress.homework import assignment_sentence

        yield assignment_sentence(now, progress_of(session).today)


def _other_homework(session: Session) -> Iterator[str]:
    """What is set with other decks, and the command that drills it."""
    if found := homework_elsewhere(session):
        from drill.progress.homework import told_sentences

        for each, sentence in zip(found, told_sentences(progress_of(session), found), strict=True):
            yield f"{sentence} fretsure today --deck {each.deck}"


def _shown_lines(question: Question, voice: Voice) -> Iterator[str | Line]:
    """A card that is shown with its answer: the idea, the question, the answer, the reason."""
    yield f"Idea: {idea_of(question.card, voice)}"
    yield f"{SHOWN} {voice.say(question.card.prompt)}"
    yield from solved_lines(question.card, voice)


def _opening_lines(session: Session) -> Iterator[str]:
    """What the drill is; the learner's very first one begins with the cautions and the idea."""
    first = not session.store.position
    yield from _homework_lines(session)
    if session.deck.homework and session.deck.homework.note:
        yield f"“{session.deck.homework.note}”"
    yield f"{session.deck.title}. {session.drill.minutes} min. {HOW}"
    if first:
        yield " ".join(CAUTIONS)
    instead = session.deck.left_out and without_shapes(session.deck.neck.tuning)
    if instead and not any(card in session.store.learner.cards for card in session.deck.entries):
        yield instead
    elif first:
        neck = session.settings.neck
        yield session.settings.voice.say(" ".join(map(str, ("The idea.", *sentences(neck, drawn=False)))))
    if first and session.settings.place == "notes":
        from drill.present import letters

        yield session.settings.voice.say(" ".join(map(str, letters.sentences(session.deck.neck))))
    if session.store.behind:
        yield BEHIND


def _summary_lines(summary: Summary, environment: Environment, voice: Voice) -> Iterator[str | Line]:
    """The end of a drill in words."""
    if summary.ending in summaries.EARLY:
        yield summaries.EARLY[summary.ending]
    if not summary.answered:
        yield summaries.NOTHING_ANSWERED
        return
    yield summaries.result(summary)
    yield from (summaries.mixup(mixup, voice) for mixup in summary.mixups)
    for move in summary.moved:
        yield f"{voice.say(move.prompt)} {move.start} -> {per_cent(move.after)}"
    if summary.slowest:
        yield f"Slowest: {summaries.slowest(summary, voice)}"
    if summary.growth and (grown := summaries.growth_sentence(summary.growth)):
        yield grown
    if day := summaries.come_back(summary, environment):
        yield day
