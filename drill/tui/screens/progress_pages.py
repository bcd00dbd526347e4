"""The contents of the pages of the Progress screen."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import NamedTuple

from textual.content import Content

from drill.decks import Focus
from drill.memory.constants import DAY_S
from drill.present.dates import local, relative_day
from drill.present.figures import how_many, per_cent, seconds
from drill.present.neck_drawing import RAMP, band, block
from drill.progress import Grouping, GroupRow, KeyReadiness, Needed, Period, Progress, SpotRow
from drill.progress.card_history import card_history
from drill.progress.card_status import CardGroup
from drill.progress.columns import MOST_HELD_BACK
from drill.progress.history import trend_sentence, with_gaps
from drill.progress.landings import LATELY
from drill.progress.lines import answer_text, nothing_more_fades
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
GROUPS: tuple[tuple[Grouping, str], ...] = (("string", "String"), ("shape", "Shape"), ("family", "Kind of question"))
"""How the cards of a deck are grouped on one page, under their heads."""
KEY = 10
"""Cells of the longest name of a key."""
PLAYED = 8
"""Cells of how a key was played."""
WIDE = 74
"""Cells that a table takes with all its columns; with fewer, it leaves some out."""


class PageLine(NamedTuple):
    """One line of a page: one with a focus can be drilled, and the cursor passes over a note."""

    content: Content
    focus: Focus | None = None
    is_note: bool = False


class Shown(NamedTuple):
    """What the lines of a page are made from, and the cells there are for them."""

    progress: Progress
    settings: Settings
    environment: Environment
    width: int = 80


class Page(NamedTuple):
    """A page with its title; the page of the neck has no lines."""

    title: str
    lines: Callable[[Shown], Iterator[PageLine]] | None = None


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
    yield Content.assemble((f"String {spot.string}, fret {spot.fret}  ", "bold"), _spot_reading(row))
    asked = [status for status in row.statuses if status.seen]
    for status in asked or row.statuses[:1]:
        history = card_history(status.card, progress)
        fades = history.fades_at_s
        ahead = f" Fades {relative_day(fades, environment)}." if fades is not None and fades > progress.now_s else ""
        figures = f"{reading(status.strength)}, {status.right} of {status.asked} right.{ahead} " if asked else ""
        yield Content.assemble((settings.voice.say(history.card.prompt), "bold"), f" {figures}{history.why}")


def _spot_reading(row: SpotRow) -> Content:
    """The strength of a spot as its cell on the map shows it, and what that is made from."""
    if row.seen or row.recall is None:
        mean = "; the mean of the cards below" if row.seen > 1 else ""
        return Content.assemble(group_reading(row), mean)
    told = (reading(row.recall), STYLES[band(row.recall)])
    return Content.assemble(told, " by questions that take it; asked by itself: not yet")


def _note(sentence: str) -> PageLine:
    """A line that says how to read the others; the cursor passes over it."""
    return PageLine(Content.styled(sentence, STYLES["unmet"]), is_note=True)


def _head(words: str) -> PageLine:
    """The heads of the columns below."""
    return PageLine(Content.styled(words, "$primary bold"), is_note=True)


# -- lists -------------------------------------------------------------------------------------------------------------


def _keys(shown: Shown) -> Iterator[PageLine]:
    progress, settings = shown.progress, shown.settings
    yield _note(f"Ready: how surely you have all a key takes within one bar ({seconds(progress.bar_s)}).")
    rows = sorted(progress.keys_as_played, key=lambda row: (not row.asked, row.in_part, row.readiness))
    heard = any(row.played for row in rows)
    if heard:
        yield _note(f"Played: landed on in time, of the last {LATELY} calls in rounds in which a note was heard.")
    if any(row.in_part for row in rows):
        yield _note("3 of 4: of four things that a key takes, three have been measured by now.")
    played = f" {'played':<{PLAYED}}" if heard else ""
    yield _head(f"{'Key':<{KEY}} {'ready':<9}{played} held back by")
    for row in rows:
        yield PageLine(_key_content(row, settings, heard), row.focus)


def _key_content(row: KeyReadiness, settings: Settings, heard: bool) -> Content:
    name = f"{settings.voice.say(named_key(row.key)):<{KEY}}"
    text = f"{row.played.in_time} of {row.played.calls}" if row.played else ""
    played = f" {text:<{PLAYED}}" if heard else ""
    if not row.asked:
        dot = f" {'·':<9}{played}" if heard else " ·"
        return Content.assemble((name, "bold"), (f"{dot} not measured yet", STYLES["unmet"]))
    by = [needed for needed in row.held_back_by if needed.is_measured][:MOST_HELD_BACK]
    nothing = "nothing so far" if row.in_part else "no single part" if row.readiness < 1 else "nothing"
    held_back_by = " · ".join(_in_brief(by)) or nothing
    text = "{} of {}".format(*row.parts) if row.in_part else reading(row.readiness)
    chance = (f" {text:<9}", STYLES[band(row.shown)])
    return Content.assemble((name, "bold"), chance, f"{played} {held_back_by}")


def _in_brief(needed: Iterable[Needed]) -> Iterator[str]:
    """The questions that hold a key back: each kind once, with its strings."""
    strings: dict[str, list[int]] = {}
    for status in (each.status for each in needed):
        string = string_of(status.entry.facets)
        on = strings.setdefault(FAMILIES[status.item.family].title.lower(), [])
        on.extend([string] if string else [])
    for title, on in strings.items():
        yield f"{title} ({', '.join(map(str, sorted(on)))})" if on else title


def _groups(shown: Shown) -> Iterator[PageLine]:
    """Strings, shapes and kinds of question under one another, each with its head."""
    tables = [(rows, title) for by, title in GROUPS if (rows := shown.progress.table(by))]
    for number, (rows, title) in enumerate(tables):
        if number:
            yield _note("")
        yield _head(_group_head(title, shown.width))
        for row in rows:
            yield PageLine(_group_content(row, shown), row.focus)


def _group_head(title: str, width: int) -> str:
    cells = _name_cells(width)
    more = f" {'target':>6} {'fading':>6} {'slow':>4}" if width >= WIDE else ""
    return f"{title[:cells]:<{cells}} {'strength':<8} {'time':>5} {'asked':>7}{more}"


def _group_content(row: GroupRow, shown: Shown) -> Content:
    cells = _name_cells(shown.width)
    name = f"{shown.settings.voice.say(row.label)[:cells]:<{cells}} "
    asked = f"{row.seen}/{row.cards}"
    if row.strength is None or row.speed_s is None or row.target_s is None:
        return Content.assemble((name, "bold"), (f"{'·':<8} {'':>5} {asked:>7}", STYLES["unmet"]))
    more = f" {seconds(row.target_s):>6} {row.fading or '':>6} {row.slow or '':>4}" if shown.width >= WIDE else ""
    strength = (f"{reading(row.strength):<8}", STYLES[band(row.strength)])
    return Content.assemble((name, "bold"), strength, f" {seconds(row.speed_s):>5} {asked:>7}{more}")


def _name_cells(width: int) -> int:
    return 32 if width >= WIDE else 14


# -- the calendar ------------------------------------------------------------------------------------------------------


def _calendar(shown: Shown) -> Iterator[PageLine]:
    """The weeks so far, the newest first, then the days ahead."""
    yield from _weeks(shown)
    yield _note("")
    yield from _ahead(shown)


def _weeks(shown: Shown) -> Iterator[PageLine]:
    weeks = with_gaps(shown.progress.weeks, local(shown.progress.now_s, shown.environment).date())
    if not weeks:
        yield PageLine(Content("No weeks yet: after your first drill, this page shows your progress week by week."))
        return
    if grown := trend_sentence(shown.progress.weeks):
        yield _note(grown)
    wide = shown.width >= WIDE
    right, more = (f"{'typed, right at first':<{BAR + 6}}", f" {'drills':>7}") if wide else (f"{'right':>5} ", "")
    yield _head(f"{'Week of':<12} {right}{'time':>6} {'answers':>8}{more}")
    for week in reversed(weeks):
        yield PageLine(_week_content(week, shown.width))


def _week_content(week: Period, width: int) -> Content:
    day = f"{week.start:%d %b %Y}".lstrip("0")
    if not week.answers:
        return Content.assemble((f"{day:<12} ", "bold"), ("· no drill", STYLES["unmet"]))
    share = week.first_right_share
    cells, drills = (BAR, f" {week.drills:>7}") if width >= WIDE else (0, "")
    bar = "" if share is None else block(share) * round(share * cells)
    known = "" if share is None else per_cent(share)
    time = "" if week.median_s is None else seconds(week.median_s)
    return Content.assemble(
        (f"{day:<12} ", "bold"),
        (f"{bar:<{cells}}", STYLES[band(share)]),
        f" {known:>4} {time:>6} {week.answers:>8}{drills}",
    )


def _ahead(shown: Shown) -> Iterator[PageLine]:
    forecast = shown.progress.forecast
    most = max(forecast, default=0)
    if not most:
        yield PageLine(Content(nothing_more_fades(shown.progress)))
        return
    yield _head("Without a drill, this many more cards will have faded by")
    for days, count in enumerate(forecast, start=1):
        if not any(forecast[days - 1 :]):
            return
        day = local(shown.progress.now_s + days * DAY_S, shown.environment)
        bar = "█" * -(-count * BAR // most)
        yield PageLine(
            Content.assemble((f"{day:%a} {day.day:>2} {day:%b}   ", "bold"), (bar, "$primary"), f" {count or '·'}")
        )


def _mixups(shown: Shown) -> Iterator[PageLine]:
    progress, settings = shown.progress, shown.settings
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


def _rounds(shown: Shown) -> Iterator[PageLine]:
    """What was landed on in rounds, apart from every answer."""
    landed = shown.progress.landings
    if not landed:
        yield PageLine(Content("No landings yet: a round, from Home, calls keys over a click, guitar in hand."))
        return
    yield _note("Landed on in rounds; this stands apart from your answers and moves no strength.")
    yield _head(f"{'Key':<{KEY}} {'landed on':>9}  {'how known':<12} last")
    for row in landed:
        name = f"{shown.settings.voice.say(named_key(row.key)):<{KEY}}"
        last = f"{local(row.last_at_ms / 1000, shown.environment):%d %b %Y}".lstrip("0")
        yield PageLine(
            Content.assemble((name, "bold"), f" {row.times:>9}  {row.how:<12} {last}"), Focus(keys=(row.key,))
        )


PAGES = (
    Page("Neck"),
    Page("Keys", _keys),
    Page("Strings and kinds", _groups),
    Page("Weeks", _calendar),
    Page("Mix-ups", _mixups),
    Page("Rounds", _rounds),
)
