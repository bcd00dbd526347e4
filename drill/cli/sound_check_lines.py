"""The check of sound and microphone in lines."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from drill import settings as settings_file
from drill.cli.output import notify, say
from drill.errors import FretsureError, NoSound
from drill.practice.hearing import CLOSED, OPENED, open_ears
from drill.practice.playback import refuse_without_numpy
from drill.settings import Settings
from drill.system.audio import LOOK_S
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.practice.sound_check import SoundCheck
    from drill.practice.sound_steps import Step

OFFER = "Sound and microphone have not been measured. Type c to check them first, in about a minute; Enter goes on."


def offered_check(settings: Settings, environment: Environment) -> Settings:
    """Offer the check where somebody sits and nothing has been measured; a pipe is not made to wait. Raises NoSound."""
    if settings.path_ms or not environment.stdin.isatty():
        return settings
    open_ears(environment, settings)  # says before anything is asked that there is nothing to hear
    say(environment, OFFER)
    typed = environment.stdin.readline()
    return check_sound_in_words(settings, environment) if typed.strip().casefold() == "c" else settings


def check_sound_in_words(settings: Settings, environment: Environment) -> Settings:
    """Run the check; Enter skips a step. Returns the settings with what was measured, which are saved.

    Raises NoSound.
    """
    refuse_without_numpy()
    from drill.practice.sound_check import SoundCheck, warnings

    check = SoundCheck(environment, settings)
    with suppress(NoSound):
        notify(environment, warnings(settings, environment.find_devices()))
    say(environment, "Sound and microphone. Enter skips a step.")
    check.start()
    say(environment, OPENED)
    try:
        _run(check, environment)
    finally:
        check.stop()
        with suppress(OSError):
            say(environment, CLOSED)
    return _kept(check.latency_ms, settings, environment)


def _run(check: SoundCheck, environment: Environment) -> None:
    told: Step | None = None
    while (step := check.step) is not None:
        if step is not told:
            say(environment, f"{step.title}: {step.ask}")
            told = step
        for finding in check.poll():
            say(environment, f"  {finding.words}")
        if environment.take_line(environment.stdin):
            check.skip()
        environment.sleep(LOOK_S)


def _kept(latency_ms: int | None, settings: Settings, environment: Environment) -> Settings:
    if latency_ms is None:
        return settings
    measured = settings._replace(path_ms=latency_ms)
    try:
        settings_file.save(measured, environment.config_path)
    except FretsureError as error:
        notify(environment, [error])
    return measured
