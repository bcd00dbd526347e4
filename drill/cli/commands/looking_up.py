"""`key` and `loop`: look-ups, drawn or as JSON. They start light: nothing here opens the record."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from drill.cli.commands import Command, add_json_option, add_tempo_option, whole_number
from drill.cli.output import notify, print_json, print_lines
from drill.cli.requests import LoopRequest
from drill.errors import UnknownName, UsageProblem
from drill.system.environment import Environment

if TYPE_CHECKING:
    from drill.lookup.charts import Chart
    from drill.lookup.loops import LoopView
    from drill.present.neck_drawing import Look, Show
    from drill.theory.names import NoteLanguage
    from drill.theory.neck import Neck
    from drill.theory.pitch import Note


class KeyRequest(NamedTuple):
    """What `fretsure key` was asked for; the words of the key as they were typed."""

    key: Sequence[str]
    all: bool
    scale: str | None
    per_string: int | None
    index_fret: int | None
    show: Show | None
    json: bool
    svg: str | None = None


def look_up_key(request: KeyRequest, environment: Environment) -> None:
    """Show where a key lies on the neck, or a scale on its tonic."""
    from drill.lookup.in_other_words import scale_in_other_words

    neck, look = _neck_and_look(environment, request.show)
    text = " ".join(request.key)
    is_scale = request.scale or request.per_string or request.index_fret
    if is_scale or scale_in_other_words(text, look.language):  # a scale with its tonic, as in 'Bb dorian'
        _look_up_scale(request, neck, look, environment)
        return
    from drill.lookup.in_other_words import understood
    from drill.lookup.keys import KeyView, key_lines, key_object
    from drill.theory.keys import parse_key

    try:
        key = understood(text, lambda each: parse_key(each, look.language), look.language)
        view = KeyView.of(key, neck)
    except UnknownName as problem:
        raise _not_a_key(text, look.language, problem) from None
    if request.svg:
        from drill.export.look_up_pictures import key_picture, save_picture

        notify(environment, [save_picture(request.svg, key_picture(view, look))])
    if request.json:
        print_json(environment, [key_object(view)])
    else:
        print_lines(environment, key_lines(view, look, all_shapes=request.all, width=environment.columns))


def _look_up_scale(request: KeyRequest, neck: Neck, look: Look, environment: Environment) -> None:
    from drill.lookup.scales import ScaleView, scale_lines, scale_object

    tonic, name = _scale_wanted(request, look.language)
    if request.svg:
        raise UsageProblem("A scale has no picture.", "Leave out --svg, or look the key up without a scale.")
    view = ScaleView.of(tonic, name, neck, count=request.per_string, index_fret=request.index_fret)
    if request.json:
        print_json(environment, [scale_object(view)])
    else:
        print_lines(environment, scale_lines(view, look, environment.columns))


def _scale_wanted(request: KeyRequest, language: NoteLanguage) -> tuple[Note, str]:
    """The tonic and the name of the scale: given by --scale, or typed after the tonic. Raises UnknownName."""
    from drill.lookup.in_other_words import scale_in_other_words
    from drill.theory.keys import parse_tonic
    from drill.theory.scales import find_scale

    text = " ".join(request.key)
    if not request.scale and (found := scale_in_other_words(text, language)):
        return found
    try:
        tonic, mode = parse_tonic(text, language)
    except UnknownName as problem:
        raise _not_a_key(text, language, problem) from None
    return tonic, find_scale(request.scale or "pentatonic", mode)


def _not_a_key(text: str, language: NoteLanguage, problem: UnknownName) -> UnknownName:
    """What to say of a text that is neither a key nor a scale, as near as possible to what was meant."""
    from drill.lookup.query import is_loop
    from drill.lookup.typed_scale import A_SCALE, in_another_language, near_scale, unknown_scale
    from drill.questions.wording import to_typed
    from drill.theory.names import one_line, quoted
    from drill.theory.scales import SCALES_LISTED

    if is_loop(text, language):
        return UnknownName(f"{quoted(text)} are the chords of a loop.", f"Type: fretsure loop {one_line(text)}")
    if advice := near_scale(text, language) or in_another_language(text, language):
        return UnknownName(advice)
    if unknown := unknown_scale(text, language):
        return UnknownName(f"{quoted(unknown)} is not a scale known here.", SCALES_LISTED)
    example = to_typed(A_SCALE, language).replace(" ", " --scale ")
    return UnknownName(problem.message, f"{problem.fix} For a scale: fretsure key {example}")


def look_up_loop(request: LoopRequest, environment: Environment) -> None:
    """Show which key a chord loop is in, and where to put the finger."""
    from drill.lookup.loops import loop_lines, loop_object

    view, look = _loop_view(request, environment)
    if request.wav or request.midi:
        from drill.cli.loop_sound import write_files

        write_files(view, request, environment)
    if request.svg:
        from drill.export.look_up_pictures import loop_picture, save_picture

        notify(environment, [save_picture(request.svg, loop_picture(view, look))])
    if request.json:
        print_json(environment, [loop_object(view)])
    elif not (request.play and environment.is_terminal):  # the screen shows it beside the loop
        print_lines(environment, loop_lines(view, look, width=environment.columns))
    if request.play:
        from drill.cli.loop_sound import play

        play(view, request, environment)


def _loop_view(request: LoopRequest, environment: Environment) -> tuple[LoopView, Look]:
    """The loop that was typed, read and laid out on the learner's neck."""
    from drill.lookup.charts import read_chord
    from drill.lookup.loops import LoopView

    neck, look = _neck_and_look(environment, request.show)
    chart = _loop_wanted(" ".join(request.chords), look.language)
    rests_on = read_chord(request.rests, look.language)[0] if request.rests is not None else None
    return LoopView.of(chart, neck, rests_on, request.count_notes), look


def _loop_wanted(text: str, language: NoteLanguage) -> Chart:
    """The chords of a loop, perhaps with its key. Raises UnknownName; of a scale it says how to look that up."""
    from drill.lookup.charts import read_chart
    from drill.lookup.in_other_words import understood
    from drill.lookup.typed_loop import typed_loop
    from drill.lookup.typed_scale import typed_scale
    from drill.theory.names import one_line, quoted, typed_note

    try:
        return typed_loop(text, language) or understood(text, lambda each: read_chart(each, language), language)
    except UnknownName:
        if not (scale := typed_scale(text, language)):
            raise
        tonic, name = scale
        twelve = f" For the loop: fretsure loop blues in {typed_note(tonic, language)}" if "blues" in name else ""
        raise UnknownName(f"{quoted(text)} is a scale.", f"Type: fretsure key {one_line(text)}.{twelve}") from None


def _neck_and_look(environment: Environment, show: Show | None) -> tuple[Neck, Look]:
    """The learner's neck and how it is drawn, with `show` on the dots if it is given.

    Without a settings file these are the defaults, and nothing that reads the file is imported.
    """
    from drill.present.neck_drawing import Look
    from drill.theory.neck import STANDARD, Neck

    neck, look = Neck(STANDARD), Look()
    if environment.config_path.exists():
        from drill.cli.learner import load_settings

        settings = load_settings(environment)
        neck, look = settings.neck, settings.look
    return neck, look._replace(show=show or look.show)


def _key_options(parser: argparse.ArgumentParser) -> None:
    from drill.theory.neck import MOST_FRETS

    parser.add_argument("key", metavar="KEY", nargs="+", help="a key, such as Bb, F#m or “E minor”")
    parser.add_argument("--all", action="store_true", help="show all five shapes, one by one")
    parser.add_argument("--scale", metavar="NAME", help="any scale on this tonic, such as dorian or “minor blues”")
    hand = parser.add_mutually_exclusive_group()
    hand.add_argument("--per-string", metavar="N", type=int, choices=(2, 3), help="patterns of 2 or 3 notes per string")
    fret = whole_number("a fret", 1, MOST_FRETS)
    hand.add_argument("--index-fret", metavar="N", type=fret, help="the scale with the index finger at this fret")
    _look_up_options(parser)


def _loop_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("chords", metavar="CHORD", nargs="+", help="the chords of one round, such as Am F C G")
    parser.add_argument("--rests", metavar="CHORD", help="the chord on which the loop rests: then the key is certain")
    parser.add_argument("--count-notes", action="store_true", help="also rank the keys by note counts alone")
    parser.add_argument("--play", action="store_true", help="play the loop, after a bar of clicks")
    parser.add_argument("--wav", metavar="FILE", help="write the loop to a new sound file")
    parser.add_argument("--midi", metavar="FILE", help="write the loop to a new MIDI file")
    add_tempo_option(parser)
    _look_up_options(parser)


def _look_up_options(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--show", choices=("fingers", "degrees", "notes"), help="what the dots on the neck show")
    parser.add_argument("--svg", metavar="FILE", help="save the neck as a picture to print; no file is replaced")
    add_json_option(parser)


COMMANDS = (
    Command("key", "Show where a key lies on the neck.", "fretsure key F#m", _key_options, KeyRequest, look_up_key),
    Command(
        "loop", "Find the key of a chord loop.", "fretsure loop Am F C G", _loop_options, LoopRequest, look_up_loop
    ),
)
