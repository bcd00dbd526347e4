"""Where to begin, asked in lines at the first start: at most three questions, each answered by yes or no.

Only somebody who sits at a terminal is asked. A pipe, or whoever passes, begins undecided.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from drill import settings as settings_file
from drill.cli.line_input import attended, read_line
from drill.cli.output import notify, say
from drill.errors import CannotWrite
from drill.present.placement import BEGINS, QUESTIONS, place_of
from drill.record import Record
from drill.settings import Settings
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.memory import Start

HOW = "At most three questions first: y or n. An empty line skips them; then your first answers decide."
ANSWERS = {"y": True, "yes": True, "n": False, "no": False}


def placed(settings: Settings, record: Record, environment: Environment) -> Settings:
    """The settings with the place where a newcomer begins, if they were asked and said so; it is saved."""
    if settings.place or record.last_attempt_id() or not attended(environment):
        return settings
    place = _asked(environment)
    if place is None:
        return settings
    say(environment, BEGINS[place])
    settings = settings._replace(start=place)
    try:
        settings_file.save(settings, environment.config_path)
    except CannotWrite as error:  # this drill begins there all the same
        notify(environment, [error])
    return settings


def _asked(environment: Environment) -> Start | None:
    """Ask until the place is clear; None if a question was passed over, or at the end of input."""
    say(environment, HOW)
    answers: list[bool] = []
    while (place := place_of(answers)) is None:
        say(environment, f"{len(answers) + 1}. {QUESTIONS[len(answers)]} (y or n)")
        line = read_line(environment)
        if line is None or not line.strip():
            return None
        if (answer := ANSWERS.get(line.strip().casefold())) is not None:
            answers.append(answer)
    return place
