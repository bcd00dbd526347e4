"""The tuning check in lines, before a drill or a round is heard."""

from __future__ import annotations

from drill.cli.output import notify, say
from drill.practice.hearing import Ears
from drill.practice.tuning_check import WHY, TuningCheck
from drill.settings import Settings
from drill.system.audio import LOOK_S
from drill.system.environment import Environment

PATIENCE_S = 20.0
"""Whoever plays nothing for so long wants to go on."""
UNCHECKED = "The tuning is not checked here; what is out of tune would be misjudged."


def check_tuning_in_words(ears: Ears, settings: Settings, environment: Environment) -> None:
    """Tell how far each open string is off as it is played; Enter skips the rest. The ears must be open.

    A pipe is not made to wait: without a terminal the check is left out, and that is said.
    """
    if not environment.stdin.isatty():
        notify(environment, [UNCHECKED])
        return
    check = TuningCheck(settings.neck, settings.voice)
    say(environment, f"Tuning: {WHY} Enter goes on.")
    quiet_since_s = environment.monotonic()
    while not (check.in_tune or ears.trouble) and environment.monotonic() - quiet_since_s < PATIENCE_S:
        if environment.take_line(environment.stdin) is not None:
            break
        if _hear(ears, check, environment):
            quiet_since_s = environment.monotonic()
        environment.sleep(LOOK_S)
    say(environment, check.outcome)


def _hear(ears: Ears, check: TuningCheck, environment: Environment) -> bool:
    """Take what was heard and tell what is new; says whether anything is."""
    before = check.strings
    measured = [check.hear(event) for event in ears.poll()]
    for state in check.strings:
        if state not in before:
            say(environment, f"  {state.label}: {state.words}")
    return any(measured)
