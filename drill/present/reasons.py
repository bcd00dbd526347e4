"""Why the planner chose a card, as a sentence: before it is asked, and once it was answered."""

from __future__ import annotations

from drill.memory.constants import DAY_S
from drill.memory.reasons import Reason, ReasonKind
from drill.present.figures import per_cent, seconds


def reason_sentence(reason: Reason) -> str:
    """The reason as a teacher would say it.

    >>> reason_sentence(Reason(ReasonKind.SLOW, 0.9, 2.34, 1.5, 0.0))
    'You know it, but slowly: in about 2.3 s; the target is 1.5 s.'
    """
    strength = per_cent(reason.strength)
    return {
        ReasonKind.MISSED: "You missed it earlier in this drill.",
        ReasonKind.PART: "It is a part of a question that you missed.",
        ReasonKind.FAILED_PART: "You missed a question that rests on it; this is the part that failed.",
        ReasonKind.FRESH: "It is new, and the next in the deck.",
        ReasonKind.SHOWN: "You were shown it solved; now it is your turn.",
        ReasonKind.EXAMPLE: "Nothing of this kind has come right yet, so here is one more with its answer.",
        ReasonKind.REMINDER: "You were shown it on an earlier day; here it is once more before it is asked.",
        ReasonKind.NEVER_RIGHT: "You have not had it right yet.",
        ReasonKind.FAILED: "You missed it when it was last asked.",
        ReasonKind.FADING: f"It is fading: the chance that you still know it is about {strength}.",
        ReasonKind.SLOW: _slow(reason),
        ReasonKind.UNTRIED: (
            f"You have not been asked it for {reason.idle_s / DAY_S:.0f} days; this makes sure that you still know it."
        ),
        ReasonKind.SETTLING: "It came right a moment ago; once more, until it comes surely and in time.",
        ReasonKind.AGAIN: "It came right in this drill; once more, so that it is there tomorrow.",
        ReasonKind.INSTEAD: "What goes badly rests until tomorrow; this goes well, and is asked to make it sure.",
        ReasonKind.REFRESH: f"It holds at about {strength}; asking it now keeps it from fading.",
        ReasonKind.HOLDING: f"Nothing is more urgent; you know it ({strength}), and this keeps it so.",
        ReasonKind.PROVED: "It is not asked: a question that rests on the same facts keeps proving it.",
        ReasonKind.LATER: "It is not asked yet: it is new, and others come first.",
    }[reason.kind]


def _slow(reason: Reason) -> str:
    """Both times, unless they look the same."""
    speed, target = seconds(reason.speed_s), seconds(reason.target_s)
    if speed == target:
        return f"You know it, but take a little longer than the target of {target}."
    return f"You know it, but slowly: in about {speed}; the target is {target}."


def reason_afterwards(reason: Reason) -> str:
    """The same beside a wrong answer, in the past: by now more is known. Nothing for a card that was new.

    >>> reason_afterwards(Reason(ReasonKind.SLOW, 0.9, 2.34, 1.5, 0.0))
    'Why it was asked: you had known it, but slowly, against a target of 1.5 s.'
    """
    why = _in_the_past(reason)
    return f"Why it was asked: {why}." if why else ""


def _in_the_past(reason: Reason) -> str:
    strength = per_cent(reason.strength)
    return {
        ReasonKind.MISSED: "you had missed it earlier in this drill",
        ReasonKind.PART: "it is a part of a question that you had missed",
        ReasonKind.FAILED_PART: "you had missed a question that rests on it, and this was the part that failed",
        ReasonKind.SHOWN: "you had been shown it solved, and it was your turn",
        ReasonKind.NEVER_RIGHT: "you had not had it right yet",
        ReasonKind.FAILED: "you had missed it the time before",
        ReasonKind.FADING: f"it was fading: the chance that you still knew it was about {strength}",
        ReasonKind.SLOW: f"you had known it, but slowly, against a target of {seconds(reason.target_s)}",
        ReasonKind.UNTRIED: f"you had not been asked it for {reason.idle_s / DAY_S:.0f} days",
        ReasonKind.SETTLING: "it had come right a moment before, and was to come surely and in time",
        ReasonKind.AGAIN: "it had come right in this drill, and was to be there tomorrow",
        ReasonKind.INSTEAD: "it had gone well, and what goes badly rests until tomorrow",
        ReasonKind.REFRESH: f"it seemed to hold, at about {strength}, and was to be kept from fading",
        ReasonKind.HOLDING: f"nothing was more urgent, and you seemed to know it ({strength})",
    }.get(reason.kind, "")
