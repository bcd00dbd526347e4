"""What the pages of the Progress screen say."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import NamedTuple

from textual.content import Content

from drill.decks import Focus
from drill.present.dates import relative_day
from drill.present.figures import how_many, per_cent
from drill.present.neck_drawing import RAMP, band, block
from drill.progress import KeyReadiness, Kind, Needed, Period, Progress
from drill.progress.card_status import Group
from drill.progress.lines import shown_answer
from drill.questions.catalogue import FAMILIES
from drill.questions.facets import string_of
from drill.questions.wording import named_key, times_in_words
from drill.settings import Settings
from drill.system.environment import Environment
from drill.theory.neck import Spot
from drill.tui.verdict_text import LEGEND, group_reading, reading, said
from drill.tui.widgets.neck_view import STYLES

BAR = 16
"""Cells of the longest bar."""
MOST_HELD_BACK = 2


class Line(NamedTuple):
    """One line of a page; with a focus it can be drilled, `told` lets the cursor rest on it without one."""

    content: Content
    focus: Focus | None = None
    told: bool = True


class Page(NamedTuple):
    """A page by its title; the neck's has no lines."""

    title: str
    lines: Callable[[Progress, Settings], Iterator[Line]] | None = None


class Map(NamedTuple):
    """What the map shows: a share from 0 to 1 for each spot, other figures than its per cents, and the legend."""

    strengths: Mapping[Spot, float | None]
    figures: Mapping[Spot, str] | None
    legend: str


# -- the neck ----------------------------------------------------------------------------------------------------------


def strength_map(progress: Progress) -> Map:
    """The chance of recall on every spot."""
    strengths = {spot: row.strength for spot, row in progress.spots.items()}
    return Map(strengths, None, LEGEND)


def speed_map(progress: Progress) -> Map:
    """The expected thinking time on every spot; a full block is the aim or faster."""
    shares = {spot: _share_of_aim(row) for spot, row in progress.spots.items()}
    tenths = {spot: min(round(row.speed_s * 10), 99) for spot, row in progress.spots.items() if row.speed_s is not None}
    figures = {spot: f"{count:02d}" for spot, count in tenths.items()}
    return Map(shares, figures, f"{RAMP} thinking time in tenths of a second; a full block meets the aim")


def _share_of_aim(row: Group) -> float | None:
    return None if row.speed_s is None or row.target_s is None else min(row.target_s / row.speed_s, 1.0)


def weakest_spot(progress: Progress) -> Spot:
    """Where the cursor starts: the weakest spot that was met, else the first that the deck asks about."""
    met = [(row.strength, spot) for spot, row in progress.spots.items() if row.strength is not None]
    first = next(iter(sorted(progress.spots, key=lambda spot: (-spot.string, spot.fret))), Spot(1, 0))
    return min(met)[1] if met else first


def spot_content(progress: Progress, spot: Spot, settings: Settings, environment: Environment) -> Content:
    """The cards about a spot and their history."""
    return Content("\n").join(_spot_lines(progress, spot, settings, environment))


def _spot_lines(progress: Progress, spot: Spot, settings: Settings, environment: Environment) -> Iterator[Content]:
    row = progress.spots.get(spot)
    if row is None:
        yield Content(f"String {spot.string}, fret {spot.fret}: this deck does not ask about it.")
        return
    yield Content.assemble((f"String {spot.string}, fret {spot.fret}  ", "bold"), group_reading(row))
    met = [standing for standing in row.standings if standing.met]
    for standing in met or row.standings[:1]:
        story = progress.story(standing.card)
        fades = story.fades_at_s
        ahead = f" Fades {relative_day(fades, environment)}." if fades is not None and fades > progress.now_s else ""
        told = f"{reading(standing.strength)}, {standing.right} of {standing.asked} right.{ahead} " if met else ""
        yield Content.assemble((said(story.card.prompt, settings), "bold"), f" {told}{story.why}")


def _note(sentence: str) -> Line:
    """A line that says how to read the others; the cursor passes over it."""
    return Line(Content.styled(f"{sentence}", STYLES["unmet"]), told=False)


# -- lists -------------------------------------------------------------------------------------------------------------


def _table(kind: Kind) -> Callable[[Progress, Settings], Iterator[Line]]:
    def lines(progress: Progress, settings: Settings) -> Iterator[Line]:
        for row in progress.table(kind):
            name = f"{said(row.label, settings):<32.32} "
            yield Line(Content.assemble((name, "bold"), group_reading(row)), row.focus)

    return lines


def _keys(progress: Progress, settings: Settings) -> Iterator[Line]:
    bar = f"{progress.bar_s:.1f} s at {settings.tempo_bpm} beats a minute"
    yield _note(f"The chance that all you need comes right within one bar ({bar}), and what holds it back (string).")
    for row in sorted(progress.keys, key=lambda row: (not row.met, row.readiness if row.met else 0.0)):
        yield Line(_key_content(row, settings), row.focus)


def _key_content(row: KeyReadiness, settings: Settings) -> Content:
    name = f"{said(named_key(row.key), settings):<10}"
    if not row.met:
        return Content.assemble((name, "bold"), ("· not asked yet", STYLES["unmet"]))
    held = " · ".join(_in_brief(row.held_back_by[:MOST_HELD_BACK])) or "nothing"
    reads = (f"{reading(row.readiness):<7}", STYLES[band(row.readiness)])
    return Content.assemble((name, "bold"), reads, f" {held}")


def _in_brief(needed: Iterable[Needed]) -> Iterator[str]:
    """What holds a key back: each kind of question once, with its strings."""
    strings: dict[str, list[int]] = {}
    for standing in (each.standing for each in needed):
        string = string_of(standing.entry.facets)
        on = strings.setdefault(FAMILIES[standing.item.family].title.lower(), [])
        on.extend([string] if string else [])
    for title, on in strings.items():
        yield f"{title} ({', '.join(map(str, sorted(on)))})" if on else title


def _weeks(progress: Progress, settings: Settings) -> Iterator[Line]:
    if not progress.weeks:
        yield Line(Content("Nothing yet: after the first drill this page shows week by week how it goes."))
        return
    yield _note("Of each day's first answers, the share that came right; then the usual thinking time.")
    for week in reversed(progress.weeks):
        yield Line(_week_content(week))


def _week_content(week: Period) -> Content:
    share = week.first_right_share
    bar = "" if share is None else block(share) * round(share * BAR)
    told = "" if share is None else per_cent(share)
    time = "" if week.median_ms is None else f"{week.median_ms / 1000:.1f} s"
    return Content.assemble(
        (f"Week of {week.start:%d %b %Y}  ", "bold"),
        (f"{bar:<{BAR}} ", STYLES[band(share)]),
        f"{told:>4}  {time:>6}  {how_many(week.answers, 'answer')}, {how_many(week.drills, 'drill')}",
    )


def _ahead(progress: Progress, settings: Settings) -> Iterator[Line]:
    total = sum(progress.forecast)
    most = max(progress.forecast, default=0)
    if not total:
        yield Line(Content("No card that holds now fades in the next fourteen days."))
        return
    yield _note(f"Of the cards that hold now, {total} fade in the next fourteen days without a drill.")
    for day, count in enumerate(progress.forecast):
        name = ("next 24 hours", "the day after")[day] if day < 2 else f"in {day} days"
        yield Line(Content.assemble((f"{name:<14}", "bold"), ("█" * -(-count * BAR // most), "$primary"), f" {count}"))


def _mixups(progress: Progress, settings: Settings) -> Iterator[Line]:
    if not progress.mixups:
        yield Line(Content("No mix-up has a name yet. When one has, this page shows it with an example and its cure."))
    for row in progress.mixups:
        shown = shown_answer(row.card, row.given, settings.note_language)
        cure = " Enter drills it." if row.focus else ""
        content = Content.assemble(
            (f"{row.name}, {times_in_words(row.times)}. ", "bold"),
            f"{said(row.card.prompt, settings)} You said {shown}. {said(row.sentence, settings)}{cure}",
        )
        yield Line(content, row.focus)


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
