"""The verdict on an answer, in the sentences that line mode and the screens share.

Verdict          what came of an answer
verdict_lines    all there is to say of it
idea_of          the idea of a card's kind
solved_lines     a card shown with its answer, before any of its kind is asked
"""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from drill.present.figures import beats, seconds
from drill.present.voice import Voice
from drill.questions.card import Card
from drill.questions.catalogue import FAMILIES
from drill.questions.mixups.mixup import GUESSES, Mixup, worth_telling
from drill.questions.reasons import either_name
from drill.theory.neck import FRETS_PER_OCTAVE

ONLY_TYPED = "It is not asked again here: a miss counts only when it is typed."


class Verdict(NamedTuple):
    """What came of an answer. `given` is None if the learner passed; `thinking_s` None if it could not be measured."""

    card: Card
    fresh: bool
    """Whether the card was asked for the first time; it may have been shown solved before."""
    right: bool
    given: str | None
    mixups: tuple[Mixup, ...]
    """What was confused, the likelier first."""
    thinking_s: float | None
    target_s: float
    comes_back: bool
    """Whether this drill will ask the card again."""
    strength_before: float
    last_thinking_s: float | None = None
    """The counted time when the card last came right, None if it never did or was not timed."""
    net_thinking_s: float | None = None
    """Thinking time without reading and key press, where those are known: by it an answer is in time."""
    beat_s: float = 0.75
    """How long a beat lasts at the learner's tempo."""
    how: Literal["typed", "played", "self-checked"] = "typed"
    heard: int | None = None
    """The MIDI number of the last note of a played answer."""
    is_new: bool = False
    """Whether its reason is worth reading: it was missed last, or came right for the first time and is not yet sure."""
    mixed_up_before: frozenset[str] = frozenset()
    """The names of the mix-ups behind earlier answers of this drill."""
    only_typed: bool = False
    """Whether it was a played miss in a drill where nothing is to be typed: it neither comes back nor counts."""

    @property
    def in_time(self) -> bool:
        """Whether it came right within the target."""
        return self.right and self.counted_s is not None and self.counted_s <= self.target_s

    @property
    def is_passed(self) -> bool:
        """Whether the learner passed; a played answer that comes to none was one all the same."""
        return self.given is None and self.how == "typed"

    @property
    def counted_s(self) -> float | None:
        """The time that is told, and compared with the target."""
        return self.thinking_s if self.net_thinking_s is None else self.net_thinking_s

    @property
    def mixup(self) -> Mixup | None:
        """The likeliest of the mix-ups."""
        return self.mixups[0] if self.mixups else None


class Line(NamedTuple):
    """One line of text; a screen may show its lead in bold."""

    lead: str
    rest: str

    def __str__(self) -> str:
        return f"{self.lead} {self.rest}".rstrip()


def verdict_lines(verdict: Verdict, voice: Voice, joint: str = "; ") -> Iterator[Line]:
    """The ruling with the time, the mix-up, and the reason, whose steps are joined by `joint`."""
    again = "It comes back." if verdict.comes_back else ONLY_TYPED if verdict.only_typed else ""
    yield Line(_ruling(verdict, voice), f"{time_line(verdict)} {again}".strip())
    for number, mixup in enumerate(worth_telling(verdict.mixups, verdict.mixed_up_before)):
        yield Line(_lead(mixup, number, verdict), f"{mixup.name}. {voice.say(mixup.sentence)}")
    yield _why(verdict.card, voice, joint)


def idea_of(card: Card, voice: Voice) -> str:
    """The idea of the card's kind, in one sentence."""
    return voice.say(FAMILIES[card.family].idea)


def solved_lines(card: Card, voice: Voice, joint: str = "; ") -> Iterator[Line]:
    """What is said of a card that is shown solved: its answer and the reason."""
    yield Line(f"Answer: {_accepted(card, voice)}.", "")
    yield _why(card, voice, joint)


def _lead(mixup: Mixup, number: int, verdict: Verdict) -> str:
    """How sure it sounds: a guess may have hit by chance on what some confusion would lead to."""
    if number:
        return "Or:"
    return "Perhaps:" if mixup.name in GUESSES - verdict.mixed_up_before else "Mixed up:"


def _why(card: Card, voice: Voice, joint: str) -> Line:
    return Line("Why:", joint.join(map(voice.say, card.because)) + ".")


def _accepted(card: Card, voice: Voice) -> str:
    return " or ".join(card.kind.show(answer, voice.language) for answer in card.accepts)


def _ruling(verdict: Verdict, voice: Voice) -> str:
    accepted = _accepted(verdict.card, voice)
    if verdict.heard is not None:
        sounded = voice.say(heard_note(verdict.heard))
        return (
            f"Right: {_string_told(verdict, voice)}." if verdict.right else f"Wrong: heard {sounded}. It is {accepted}."
        )
    if verdict.given is None:
        return f"Not known. It is {accepted}."
    given = verdict.card.kind.show(verdict.given, voice.language)
    return f"Right: {given}." if verdict.right else f"Wrong: {given}. It is {accepted}."


def heard_note(midi: int) -> str:
    """A sound by its everyday names, its notes marked."""
    return either_name(midi % FRETS_PER_OCTAVE)


def _string_told(verdict: Verdict, voice: Voice) -> str:
    """The right answer as far as it was heard: a pitch seldom tells on which string it was played."""
    card, midi = verdict.card, verdict.heard or 0
    shown = card.kind.show(verdict.given or card.accepts[0], voice.language)
    from drill.questions.by_ear import string_is_open  # a drill that is typed starts without it

    if not string_is_open(card, midi):
        return shown
    return f"{shown}; heard {voice.say(heard_note(midi))}, which string cannot be heard"


def time_line(verdict: Verdict) -> str:
    """The thinking time beside the learner's own last one, then in beats of the bar.

    Only a right answer has one: a pass was not thought out, and nobody is told how fast they erred. Nor is a target
    told that is out of reach: it was missed now, and not met the last time either.
    """
    if not verdict.right or verdict.counted_s is None:
        return ""
    last_s = verdict.last_thinking_s
    thought = f"{seconds(verdict.counted_s)} of thinking" + ("" if last_s is None else f", last time {seconds(last_s)}")
    if not verdict.in_time and (last_s is None or last_s > verdict.target_s):
        return f"{thought}."
    return f"{thought}; {beats(verdict.counted_s, verdict.target_s, verdict.beat_s)}."
