"""Questions of a drill that want an answer."""

from __future__ import annotations

from drill.practice.session import Question, Session


def ask(session: Session) -> Question | None:
    """The next question that is asked; solved cards before it are shown and left at once."""
    while (question := session.ask()) is not None and question.solved:
        session.shown()
    return question
