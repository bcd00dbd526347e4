"""Pages in HTML: one file that needs no other, readable on a screen, on paper and aloud.

Every value that reaches a template is escaped unless it is a drawing of ours, and control characters are made visible.
The page's own policy forbids scripts and the network. The library of templates is imported only when a page is written.

    page      a template filled in
    Figure    a rounded figure with its exact value, for a <data> element
"""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from drill.present import dates
from drill.present.figures import per_cent, seconds
from drill.system.text import visible

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).with_name("templates")
STYLE = TEMPLATES / "page.css"
NO_BREAK = "\N{NO-BREAK SPACE}"


class Figure(NamedTuple):
    """A figure as people read it, on one line whatever the room, and its exact value."""

    exact: str
    text: str


def page(template: str, **values: Any) -> str:
    """A whole page from one of our templates."""
    written = (
        _environment().get_template(f"{template}.html.jinja").render(style=Drawing(STYLE.read_text("utf-8")), **values)
    )
    return f"{written}\n"


class Drawing(str):
    """Markup of ours, such as a drawing, which is not escaped again."""

    __slots__ = ()

    def __html__(self) -> str:
        return self


@cache
def _environment() -> Environment:
    """Our templates. They escape every value, after `_safe_to_show` has said what stands for it."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    return Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        finalize=_safe_to_show,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def _safe_to_show(value: Any) -> Any:
    return value if hasattr(value, "__html__") else visible(str(value))


# -- figures -----------------------------------------------------------------------------------------------------------


def chance(share: float | None) -> Figure | str:
    """A share in per cent; a dash where nothing was measured."""
    return _figure(share, "" if share is None else per_cent(share))


def time(time_s: float | None) -> Figure | str:
    """A time in seconds; a dash where nothing was measured."""
    return _figure(time_s, "" if time_s is None else seconds(time_s))


def count(number: int) -> Figure | str:
    """A whole number."""
    return _figure(number, str(number))


def _figure(value: float | None, text: str) -> Figure | str:
    return "–" if value is None else Figure(repr(value), text.replace(" ", NO_BREAK))


def day_in_words(day: date) -> str:
    """A day of the calendar: '26 November 2026', on one line."""
    return dates.day_in_words(day).replace(" ", NO_BREAK)


def day_in_short(day: date) -> str:
    """A day of the calendar where room is short: '26 Nov 2026'."""
    return f"{day.day}{NO_BREAK}{day:%b}{NO_BREAK}{day.year}"
