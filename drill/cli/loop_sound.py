"""`loop --play`, `--wav` and `--midi`: a loop through the sound card, or into a new file."""

from __future__ import annotations

from drill.cli.learner import load_settings
from drill.cli.output import notify
from drill.cli.requests import LoopRequest
from drill.errors import NoSound
from drill.lookup.loops import LoopView
from drill.practice.playback import play_loop, refuse_without_numpy
from drill.sound.arrangement import Arrangement, arrange
from drill.system import files
from drill.system.environment import Environment, expand_user
from drill.theory.bars import bar_seconds

STEP_S = 0.05


def write_files(view: LoopView, request: LoopRequest, environment: Environment) -> None:
    """Write the loop to the files that were asked for. Raises UsageProblem, CannotWrite; a file is never replaced."""
    for file, endings in ((request.midi, (".mid", ".midi")), (request.wav, (".wav", ".wave"))):
        if file:
            files.refuse_other_ending(expand_user(file), *endings)
    arrangement = _arranged(view, request, environment)
    if request.midi:
        from drill.sound.midi import midi_bytes

        _write(request.midi, midi_bytes(arrangement, view.reading.keys[0]), environment)
    if request.wav:
        refuse_without_numpy()
        from drill.sound.render import RATE, render
        from drill.sound.wav import wav_bytes

        _write(request.wav, wav_bytes(render(arrangement).mixed(), RATE), environment)


def play(view: LoopView, request: LoopRequest, environment: Environment) -> None:
    """Play the loop: on its own screen, or, without a terminal, once. Raises NoSound."""
    refuse_without_numpy()
    if environment.is_terminal:
        _play_on_screen(view, request, environment)
    else:
        _play_once(_arranged(view, request, environment), environment)


def _play_on_screen(view: LoopView, request: LoopRequest, environment: Environment) -> None:
    from drill.cli.screens import run_screens
    from drill.sound.render import RATE
    from drill.tui.screens.play import PlayScreen

    environment.open_speaker(RATE, environment.monotonic).stop()  # says in time that there is none
    screen = PlayScreen.of(view, load_settings(environment), request.tempo)
    run_screens(environment, first=lambda: screen)


def _play_once(arrangement: Arrangement, environment: Environment) -> None:
    playback, _ = play_loop(environment, arrangement, load_settings(environment).decibels_down)
    end_s = arrangement.seconds + bar_seconds(arrangement.bpm)
    try:
        while playback.elapsed_s < end_s and not playback.silent_because:
            environment.sleep(STEP_S)
    finally:
        playback.stop()
    if playback.silent_because:
        raise NoSound(playback.silent_because)


def _arranged(view: LoopView, request: LoopRequest, environment: Environment) -> Arrangement:
    """The loop at the tempo that was asked for, or else the learner's own."""
    return arrange(view.reading.chords, request.tempo or load_settings(environment).tempo_bpm)


def _write(name: str, data: bytes, environment: Environment) -> None:
    path = expand_user(name)
    files.write_new(path, data)
    notify(environment, [f"Written: {path}"])
