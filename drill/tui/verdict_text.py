"""What the screens say, in sentences. Notes come marked and leave in the learner's note language."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from textual.content import Content

from drill.errors import FretsureError
from drill.practice.verdict import Verdict
from drill.present.figures import how_many, per_cent
from drill.present.neck_drawing import RAMP, band, block
from drill.questions.wording import named_key, to_screen
from drill.settings import Settings
from drill.theory.keys import parse_key
from drill.tui.widgets.neck_view import STYLES

if TYPE_CHECKING:
    from drill.progress import CardGroup

LEGEND = f"{RAMP} chance of recall now, in per cent   · not asked yet"
"""What the map of strength shows."""
RIGHT, WRONG, PASSED = "✓", "✗", "○"

CAUTIONS = (
    "Playing can hurt. Warm up, keep the wrist straight, and let shoulders and jaw hang loose.",
    "Stop at pain, numbness or tingling; if it stays or comes back, see a doctor or physiotherapist.",
    "Stretches are optional. Keep the volume low, most of all on headphones.",
    "A teacher in the room knows better than a program.",
)
LONG_DRILL_S = 15 * 60
"""A drill as long as this ends with the cautions."""


def said(sentence: str, settings: Settings) -> str:
    """A sentence with its notes in the learner's language."""
    return to_screen(sentence, settings.note_language, settings.shape_names == "numbers")


def verdict_content(verdict: Verdict, settings: Settings) -> Content:
    """The verdict in words and a sign, the time against the target, the reason as a chain, the mix-up by name."""
    return Content("\n").join(_verdict_lines(verdict, settings))


def _verdict_lines(verdict: Verdict, settings: Settings) -> Iterator[Content]:
    yield _ruling(verdict, settings)
    if verdict.mixup:
        yield Content.assemble(
            ("Mixed up: ", "bold"), f"{verdict.mixup.name}. {said(verdict.mixup.sentence, settings)}"
        )
    yield Content.assemble(("Why: ", "bold"), " → ".join(said(step, settings) for step in verdict.card.because))


def _ruling(verdict: Verdict, settings: Settings) -> Content:
    def shown(answer: str) -> str:
        return verdict.card.kind.show(answer, settings.note_language)

    accepted = " or ".join(shown(answer) for answer in verdict.card.accepts)
    if verdict.right:
        sign, style, words = RIGHT, "$text-success bold", f"Right: {shown(verdict.given or '')}."
    elif verdict.given is None:
        sign, style, words = PASSED, "$text-warning bold", f"Not known. It is {accepted}."
    else:
        sign, style, words = WRONG, "$text-error bold", f"Wrong: {shown(verdict.given)}. It is {accepted}."
    told = (time_against_target(verdict), "It comes back." if verdict.comes_back else "")
    return Content.assemble((f"{sign} {words}", style), *(f" {sentence}" for sentence in told if sentence))


def time_against_target(verdict: Verdict) -> str:
    """The thinking time against the target, in words."""
    if verdict.thinking_s is None or verdict.given is None:
        return ""
    return f"{verdict.thinking_s:.1f} s, aim {verdict.target_s:.1f} s."


def reading(strength: float) -> str:
    """A strength as a block and a figure."""
    return f"{block(strength)} {per_cent(strength)}"


def group_name(group: str, settings: Settings) -> str:
    """A group of cards in words: 'string-6' is 'string 6', 'key-Fm' is 'F minor'."""
    kind, _, name = group.partition("-")
    return said(named_key(parse_key(name)), settings) if kind == "key" else f"{kind} {name}"


def trouble(error: FretsureError) -> str:
    """What went wrong while an answer was kept: what happened, what is safe, what to do."""
    return f"{error} Every answer before this one is kept; this one is not. Enter tries again, Esc ends the drill."


def group_reading(group: CardGroup) -> Content:
    """Some cards together: strength, speed against the aim, how many were seen."""
    if group.strength is None or group.speed_s is None or group.target_s is None:
        return Content.styled(f"· not asked yet, {how_many(group.cards, 'card')}", STYLES["unmet"])
    lag = f", {group.lagging} weak" if group.lagging else ""
    return Content.assemble(
        (reading(group.strength), STYLES[band(group.strength)]),
        f" {group.speed_s:.1f} of {group.target_s:.1f} s, {group.seen}/{group.cards} seen{lag}",
    )
