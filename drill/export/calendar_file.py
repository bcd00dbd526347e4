"""The daily drill as an event for any calendar: iCalendar, https://www.rfc-editor.org/rfc/rfc5545

The event is in floating time: it comes at that hour wherever the learner is, summer or winter, as a habit does
(section 3.3.5, form 1). Its UID is made of the identity, so that a calendar which takes a newer file in moves the one
event it has and makes no second. A deck that was asked for has an event of its own, which names the command that drills
it and ends with the last day of the homework set with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from statistics import median_low

from drill.errors import UsageProblem
from drill.present.dates import day_in_words, moment
from drill.progress import Progress
from drill.record import DrillRow
from drill.system.environment import resolved
from drill.system.platforms import shell_quoted

USUAL_MINUTE = 18 * 60
"""Six in the evening, as long as the drills do not show when the learner likes to play."""
FEW_DRILLS, RECENT_DRILLS = 3, 28
STEP_MINUTES = 15
LONGEST_LINE = 75
"""Bytes in a line, its end not counted (section 3.1)."""

Offset = Callable[[float], int]
"""By how many minutes the learner's clock is ahead of UTC at a moment."""


def calendar(progress: Progress, offset: Offset) -> str:
    """The daily event, from the next time on that it can take place. Raises UsageProblem if its last day is past."""
    minutes = progress.settings.minutes
    start = _next(moment(progress.now_s) + timedelta(minutes=offset(progress.now_s)), usual_minute(progress, offset))
    until = last_day(progress)
    if until is not None and start.date() > until:
        problem = f"The homework set with “{progress.deck.title}” ends on {day_in_words(until)}; no time is left."
        raise UsageProblem(problem, "Leave out --deck for the daily drill without an end.")
    lines = (
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//fretsure//daily drill//EN",
        "BEGIN:VEVENT",
        f"UID:{_event(progress)}-{_escaped(progress.log.identify().id)}@fretsure",
        f"DTSTAMP:{moment(progress.now_s):%Y%m%dT%H%M%SZ}",
        f"SEQUENCE:{max(0, int(progress.now_s // 60))}",
        f"DTSTART:{start:%Y%m%dT%H%M%S}",
        f"DURATION:PT{minutes}M",
        f"RRULE:FREQ=DAILY{_end(until)}",
        f"SUMMARY:{_escaped(f'Fretboard drill, {minutes} min')}",
        f"DESCRIPTION:{_escaped(f'{progress.deck.title}. In a terminal: {_command(progress)}')}",
        "TRANSP:TRANSPARENT",
        "BEGIN:VALARM",
        "ACTION:DISPLAY",
        "TRIGGER:PT0S",
        "DESCRIPTION:Fretboard drill",
        "END:VALARM",
        "END:VEVENT",
        "END:VCALENDAR",
    )
    return "".join(f"{part}\r\n" for line in lines for part in _folded(line))


def last_day(progress: Progress) -> date | None:
    """The last day of the homework of a deck that was asked for; the daily drill goes on without an end."""
    homework = progress.deck.homework if progress.deck_option else None
    return homework.until if homework else None


def _event(progress: Progress) -> str:
    return f"homework-{_escaped(progress.deck.id)}" if progress.deck_option else "daily"


def _end(until: date | None) -> str:
    """The last moment of the last day, in floating time as the start is (section 3.3.10, UNTIL)."""
    return f";UNTIL={until:%Y%m%d}T235959" if until else ""


def _command(progress: Progress) -> str:
    """The command that drills the deck from any folder."""
    deck = progress.deck_option
    if deck is None:
        return "fretsure today"
    is_path = deck.endswith(".toml") or Path(deck).name != deck
    return f"fretsure today --deck {shell_quoted(str(resolved(deck)) if is_path else deck)}"


def usual_minute(progress: Progress, offset: Offset) -> int:
    """The minute of the day at which the learner's drills usually begin, on a quarter of an hour."""
    begun = [_minute_of_day(drill, offset) for drill in progress.log.drills()][-RECENT_DRILLS:]
    if len(begun) < FEW_DRILLS:
        return USUAL_MINUTE
    return median_low(begun) // STEP_MINUTES * STEP_MINUTES


def _minute_of_day(drill: DrillRow, offset: Offset) -> int:
    started_s = drill.started_at / 1000
    return (int(started_s // 60) + offset(started_s)) % (24 * 60)


def _next(now: datetime, minute: int) -> datetime:
    """The next time that a clock shows this minute of the day."""
    today = now.replace(hour=minute // 60, minute=minute % 60, second=0, microsecond=0)
    return today if today > now else today + timedelta(days=1)


def _escaped(text: str) -> str:
    r"""Text as a property holds it (section 3.3.11).

    >>> _escaped("Am, F; C\nG")
    'Am\\, F\\; C\\nG'
    """
    for sign, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\r\n", "\\n"), ("\n", "\\n")):
        text = text.replace(sign, written)
    return "".join(sign for sign in text if sign.isprintable())


def _folded(line: str) -> Iterator[str]:
    """The line in pieces short enough; each but the first begins with a blank. No letter is cut in two."""
    piece = ""
    for sign in line:
        if len(f"{piece}{sign}".encode("utf-8", "replace")) > LONGEST_LINE:
            yield piece
            piece = " "
        piece += sign
    yield piece
