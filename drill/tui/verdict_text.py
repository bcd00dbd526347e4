"""Verdicts and strengths as styled text, with notes in the learner's note language."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.content import Content

from drill.errors import FretsureError
from drill.present.figures import how_many, per_cent
from drill.present.neck_drawing import SURE, band, block
from drill.present.verdicts import Line, Verdict, idea_of, solved_lines, verdict_lines
from drill.questions.card import Card
from drill.settings import Settings
from drill.tui.widgets.neck_view import STYLES

if TYPE_CHECKING:
    from drill.progress import CardGroup

LEGEND = f"{SURE} to recall it now  · not asked yet"
"""What the map of strength shows."""
_SIGNS = {
    (True, True): ("✓", "$verdict-right bold"),
    (True, False): ("✗", "$verdict-wrong bold"),
    (False, False): ("○", "$verdict-passed bold"),
}
"""The sign and the style of a verdict, by whether an answer was given and whether it was right."""

LONG_DRILL_S = 15 * 60
"""A drill as long as this ends with the cautions."""


def verdict_content(verdict: Verdict, settings: Settings) -> Content:
    """The verdict with a sign and a colour, then the mix-up and the reason as a chain.

    What is known and goes by itself within a second has no reason: nobody could read it.
    """
    lines = verdict_lines(verdict, settings.voice, joint=" → ")
    ruling = next(lines)
    goes_by = verdict.right and not verdict.is_new and settings.next_question == "by itself"
    others = () if goes_by else lines
    sign, style = _SIGNS[not verdict.is_passed, verdict.right]
    first = Content.assemble((f"{sign} {ruling.lead}", style), f" {ruling.rest}".rstrip())
    return Content("\n").join([first, *map(lead_in_bold, others)])


def solved_content(card: Card, settings: Settings, *, new: bool) -> Content:
    """What is said of a card that is shown with its answer, after the idea of its kind, which may be `new`."""
    idea = Line("New:" if new else "Idea:", idea_of(card, settings.voice))
    return Content("\n").join(map(lead_in_bold, (idea, *solved_lines(card, settings.voice, joint=" → "))))


def lead_in_bold(line: Line) -> Content:
    """A line of text with its lead in bold."""
    return Content.assemble((line.lead, "bold"), f" {line.rest}")


def reading(strength: float) -> str:
    """A strength as a block and a figure."""
    return f"{block(strength)} {per_cent(strength)}"


def trouble(error: FretsureError, key_of: Callable[[str], str]) -> str:
    """Why an answer could not be saved: what happened, what is safe, what to do; `key_of` names a command's key."""
    safe = "Every earlier answer is saved; this one is not."
    return f"{error} {safe} {key_of('answer')} tries again, {key_of('end')} ends the drill."


def group_reading(group: CardGroup) -> Content:
    """Some cards together: strength, speed against the target, how many have been asked."""
    if group.strength is None or group.speed_s is None or group.target_s is None:
        return Content.styled(f"· not asked yet, {how_many(group.cards, 'card')}", STYLES["unmet"])
    lag = f", {group.lagging} to drill" if group.lagging else ""
    return Content.assemble(
        (reading(group.strength), STYLES[band(group.strength)]),
        f" {group.speed_s:.1f} s (target {group.target_s:.1f}), {group.seen} of {group.cards} asked{lag}",
    )
