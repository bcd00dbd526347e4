"""The contents of the pages of the Progress screen."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import NamedTuple

from textual.content import Content

from drill.decks import Focus
from drill.present.dates import relative_day
from drill.present.figures import how_many, per_cent, seconds
from drill.present.neck_drawing import RAMP, band, block
from drill.progress import Grouping, KeyReadiness, Needed, Period, Progress
from drill.progress.card_status import CardGroup
from drill.progress.columns import MOST_HELD_BACK
from drill.progress.lines import answer_text
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import string_of
from drill.questions.wording import named_key, times_in_words
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import Spot
from drill.tui.verdict_text import LEGEND, group_reading, reading
from drill.tui.widgets.neck_view import STYLES

BAR = 16
"""Cells of the longest bar."""


class PageLine(NamedTuple):
    """One line of a page: one with a focus can be drilled, and the cursor passes over a note."""

    content: Content
    focus: Focus | None = None
    is_note: bool = False


class Page(NamedTuple):
    """A page with its title; the page of the neck has no lines."""

    title: str
    lines: Callable[[Progress, Settings], Iterator[PageLine]] | None = None


class Map(NamedTuple):
    """A map of the neck: a share from 0 to 1 for each spot, the figures to show instead of per cent, and the legend."""

    strengths: Mapping[Spot, float | None]
    figures: Mapping[Spot, str] | None
    legend: str


# -- the neck ----------------------------------------------------------------------------------------------------------


def strength_map(progress: Progress) -> Map:
    """The chance of recall on every spot."""
    strengths = {spot: row.recall for spot, row in progress.spots.items()}
    return Map(strengths, None, LEGEND)


def speed_map(progress: Progress) -> Map:
    """The expected thinking time on every spot; a full block is the target or faster."""
    shares = {spot: _share_of_target(row) for spot, row in progress.spots.items()}
    tenths = {spot: min(round(row.speed_s * 10), 99) for spot, row in progress.spots.items() if row.speed_s is not None}
    figures = {spot: f"{count:02d}" for spot, count in tenths.items()}
    return Map(shares, figures, f"{RAMP} thinking time in tenths of a second; a full block meets the target")


def _share_of_target(row: CardGroup) -> float | None:
    return None if row.speed_s is None or row.target_s is None else min(row.target_s / row.speed_s, 1.0)


def weakest_spot(progress: Progress) -> Spot:
    """Where the cursor starts: the weakest spot asked so far, else the first that the deck asks about."""
    asked = [(row.strength, spot) for spot, row in progress.spots.items() if row.strength is not None]
    first = next(iter(sorted(progress.spots, key=lambda spot: (-spot.string, spot.fret))), Spot(1, 0))
    return min(asked)[1] if asked else first


def spot_content(progress: Progress, spot: Spot, settings: Settings, environment: Environment) -> Content:
    """The cards about a spot and their histories."""
    return Content("\n").join(_spot_lines(progress, spot, settings, environment))


def _spot_lines(progress: Progress, spot: Spot, settings: Settings, environment: Environment) -> Iterator[Content]:
    row = progress.spots.get(spot)
    if row is None:
        yield Content(f"String {spot.string}, fret {spot.fret}: this deck does not ask about it.")
        return
    yield Content.assemble((f"String {spot.string}, fret {spot.fret}  ", "bold"), group_reading(row))
    asked = [status for status in row.statuses if status.seen]
    for status in asked or row.statuses[:1]:
        history = progress.card_history(status.card)
        fades = history.fades_at_s
        ahead = f" Fades {relative_day(fades, environment)}." if fades is not None and fades > progress.now_s else ""
        figures = f"{reading(status.strength)}, {status.right} of {status.asked} right.{ahead} " if asked else ""
        yield Content.assemble((settings.voice.say(history.card.prompt), "bold"), f" {figures}{history.why}")


def _note(sentence: str) -> PageLine:
    """A line that says how to read the others; the cursor passes over it."""
    return PageLine(Content.styled(sentence, STYLES["unmet"]), is_note=True)


# -- lists -------------------------------------------------------------------------------------------------------------


def _table(by: Grouping) -> Callable[[Progress, Settings], Iterator[PageLine]]:
    def lines(progress: Progress, settings: Settings) -> Iterator[PageLine]:
        for row in progress.table(by):
            name = f"{settings.voice.say(row.label):<32.32} "
            yield PageLine(Content.assemble((name, "bold"), group_reading(row)), row.focus)

    return lines


def _keys(progress: Progress, settings: Settings) -> Iterator[PageLine]:
    bar = f"{seconds(progress.bar_s)} at {settings.tempo_bpm} beats a minute"
    yield _note(f"The chance that you know all the key takes within one bar ({bar}), and what holds it back (string).")
    for row in sorted(progress.keys, key=lambda row: (not row.asked, row.measured or 0.0)):
        yield PageLine(_key_content(row, settings), row.focus)


def _key_content(row: KeyReadiness, settings: Settings) -> Content:
    name = f"{settings.voice.say(named_key(row.key)):<10}"
    if not row.asked:
        return Content.assemble((name, "bold"), ("· not asked yet", STYLES["unmet"]))
    held_back_by = " · ".join(_in_brief(row.held_back_by[:MOST_HELD_BACK])) or "nothing"
    chance = (f"{reading(row.readiness):<7}", STYLES[band(row.readiness)])
    return Content.assemble((name, "bold"), chance, f" {held_back_by}")


def _in_brief(needed: Iterable[Needed]) -> Iterator[str]:
    """The questions that hold a key back: each kind once, with its strings."""
    strings: dict[str, list[int]] = {}
    for status in (each.status for each in needed):
        string = string_of(status.entry.facets)
        on = strings.setdefault(FAMILIES[status.item.family].title.lower(), [])
        on.extend([string] if string else [])
    for title, on in strings.items():
        yield f"{title} ({', '.join(map(str, sorted(on)))})" if on else title


def _weeks(progress: Progress, settings: Settings) -> Iterator[PageLine]:
    if not progress.weeks:
        yield PageLine(Content("Nothing yet: after your first drill, this page shows your progress week by week."))
        return
    yield _note("How many of each day's first answers were right, and the median thinking time.")
    for week in reversed(progress.weeks):
        yield PageLine(_week_content(week))


def _week_content(week: Period) -> Content:
    share = week.first_right_share
    bar = "" if share is None else block(share) * round(share * BAR)
    known = "" if share is None else per_cent(share)
    time = "" if week.median_s is None else seconds(week.median_s)
    return Content.assemble(
        (f"Week of {week.start:%d %b %Y}  ", "bold"),
        (f"{bar:<{BAR}} ", STYLES[band(share)]),
        f"{known:>4}  {time:>6}  {how_many(week.answers, 'answer')}, {how_many(week.drills, 'drill')}",
    )


def _ahead(progress: Progress, settings: Settings) -> Iterator[PageLine]:
    total = sum(progress.forecast)
    most = max(progress.forecast, default=0)
    if not total:
        yield PageLine(Content("No card is expected to fade in the next 14 days."))
        return
    yield _note(f"Without a drill, {how_many(total, 'card is', 'cards are')} expected to fade in the next 14 days.")
    for day, count in enumerate(progress.forecast):
        name = ("next 24 hours", "the day after")[day] if day < 2 else f"in {day} days"
        bar = "█" * -(-count * BAR // most)
        yield PageLine(Content.assemble((f"{name:<14}", "bold"), (bar, "$primary"), f" {count}"))


def _mixups(progress: Progress, settings: Settings) -> Iterator[PageLine]:
    say = settings.voice.say
    if not progress.mixups:
        yield PageLine(Content("No recognised mix-ups yet. This page shows each with an example and its drill."))
    for row in progress.mixups:
        answer = answer_text(row.card, row.given, settings.note_language)
        share = f"That is {per_cent(row.rate)} of {how_many(row.opportunities, 'answer')} where it can happen."
        cure = " Enter drills it." if row.focus else ""
        content = Content.assemble(
            (f"{row.name}, {times_in_words(row.times)}. ", "bold"),
            f"{say(row.card.prompt)} You said {answer}. {say(row.sentence)} {share}{cure}",
        )
        yield PageLine(content, row.focus)


PAGES = (
    Page("Neck"),
    Page("Strings", _table("string")),
    Page("Keys", _keys),
    Page("Shapes", _table("shape")),
    Page("Kinds", _table("family")),
    Page("Weeks", _weeks),
    Page("Ahead", _ahead),
    Page("Mix-ups", _mixups),
)
