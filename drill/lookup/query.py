"""Read what a learner types to look something up: a key, a scale, or the chords of a loop."""

from __future__ import annotations

import re
from typing import NamedTuple

from drill.errors import UnknownName
from drill.lookup.charts import JOINTS, Chart, elsewhere, nearest, read_chart
from drill.lookup.in_other_words import together, understood
from drill.lookup.keys import KeyView, headline, key_sentences
from drill.lookup.loops import LoopView, landing_sentences, reason_sentences, result_sentences
from drill.lookup.scales import ScaleView, scale_picture, spelled
from drill.lookup.typed_loop import typed_loop
from drill.lookup.typed_scale import A_SCALE, in_another_language, near_scale, typed_scale
from drill.questions.loop_sentences import named_fit
from drill.questions.picture import Picture
from drill.questions.wording import named, named_notes, to_screen, to_typed
from drill.settings import Settings
from drill.theory.chords import Chord
from drill.theory.keys import PRACTICAL_KEYS, Key, parse_key
from drill.theory.loops import Fit
from drill.theory.modes import MARKS
from drill.theory.names import NoteLanguage, quoted, show_note, typed_note
from drill.theory.neck import Neck
from drill.theory.pitch import Note
from drill.theory.scales import SCALES_LISTED, scales_called

_KEYS = f"{named(Note.of('E', -1))} or {named(Note.of('F', 1))}m"
_LOOP = f"{named(Note.of('A'))}m {named_notes(map(Note.of, 'FCG'))}"
TAKES = f"Write a key, such as {_KEYS}, a scale, such as {A_SCALE}, or the chords of a loop: {_LOOP}."
HINT = f"a key, such as {_KEYS}, a scale, {A_SCALE}, or a loop: {_LOOP}"
HINT_IN_SHORT = f"{_KEYS}, {A_SCALE} or {_LOOP}"
"""The notes are marked, so that they can be written in the learner's note language."""
FIRST = Key(Note.of("A"), "minor")
"""Where steps begin."""
FIFTH = 7
"""Semitones."""
MOST_WORDS = 64
"""Words of a text that are tried in other languages."""
LONGEST_SUFFIX = 4
"""Letters of what follows the root of most chords: a longer word after a note is meant for a scale."""
NO_SCALE = "is neither a chord nor a scale known here."
_MODES_IN_SHORT = {"dorian": "dor", "phrygian": "phr", "lydian": "lyd", "mixolydian": "mix"}
_DRILLED = re.compile(r"\b(?:strings?|shapes?|frets?|fingers?|saiten?)\b", re.IGNORECASE)


class Found(NamedTuple):
    """The result of a look-up: a key, a scale, or the keys a loop may be in; a name, sentences, a picture on a neck.

    `headline` is what is wanted first, `sentences` all there is to say. `chords` are those of a loop, each once; the
    learner may say on which of them it rests.
    """

    title: str
    short: str
    """The title where there is little room."""
    headline: tuple[str, ...]
    keys: tuple[Key, ...]
    sentences: tuple[str, ...]
    neck: Neck
    picture: Picture
    home: range | None = None
    """The frets that stay in view where the whole neck does not fit."""
    chords: tuple[Chord, ...] = ()
    rests_on: Chord | None = None
    loop: tuple[Chord, ...] = ()
    """The chords of a loop as they follow each other."""
    scale: ScaleView | None = None
    chart: Chart | None = None
    """The loop as it was read."""
    is_open: bool = False
    """Whether a loop has several keys and nobody has said where it rests."""

    @property
    def key(self) -> Key | None:
        """The key that was looked up; None for a scale or a loop."""
        return self.keys[0] if not self.loop and not self.scale else None


def look_up(text: str, settings: Settings) -> Found:
    """Look up a key, a scale or the chords of a loop; raises `FretsureError` with what may be typed."""
    if loop := typed_loop(text, settings.note_language):
        return look_up_loop(loop, settings)
    return understood(text, lambda each: _look_up(each, settings), settings.note_language)


def _look_up(text: str, settings: Settings) -> Found:
    language = settings.note_language
    chart = _loop(text, language)
    if len(chart.chords) > 1:
        return look_up_loop(chart, settings)
    if scale := typed_scale(text, language):
        return look_up_scale(*scale, settings)
    try:
        return look_up_key(parse_key(text, language), settings)
    except UnknownName:
        if advice := _advice(text, language):
            raise UnknownName(advice) from None
        problem = _problem(text, language)
        raise UnknownName(problem, SCALES_LISTED if problem.endswith(NO_SCALE) else to_typed(TAKES, language)) from None


def look_up_key(key: Key, settings: Settings) -> Found:
    """Look up a key that is known already."""
    view, look = KeyView.of(key, settings.neck), settings.look
    title = key.shown_in(look.language)
    short = show_note(key.tonic, look.language) + ("m" if key.mode == "minor" else "")
    sentences = tuple(key_sentences(view, look))
    return Found(title, short, tuple(headline(view, look)), (key,), sentences, view.neck, view.picture, view.home)


def look_up_scale(tonic: Note, name: str, settings: Settings) -> Found:
    """Look up a scale that is known already, all over the neck."""
    view, look = ScaleView.of(tonic, name, settings.neck), settings.look
    title, notes = f"{show_note(tonic, look.language)} {name}", spelled(view, look)
    picture = scale_picture(view, view.all_dots)
    return Found(title, title, (notes,), (), (f"{title}: {notes}",), view.neck, picture, scale=view)


def stepped(found: Found | None, semitones: int, settings: Settings) -> Found:
    """The same key, scale or loop so many semitones higher; the first key of all where nothing was found."""
    if found is None:
        return look_up_key(FIRST, settings)
    if found.chart:
        return _moved_loop(found, found.chart, semitones, settings)
    if found.key:
        return look_up_key(_raised(found.key, semitones), settings)
    if found.scale:
        like = "minor" if any(mark.role == "minor tonic" for mark in found.picture) else "major"
        tonic = _tonic(found.scale.tonic.pitch_class + semitones, like)
        return look_up_scale(tonic, found.scale.name, settings)
    return look_up_key(FIRST, settings)


def _moved_loop(found: Found, chart: Chart, semitones: int, settings: Settings) -> Found:
    """Every chord moved, and where it rests too, spelled for the everyday key to which the likeliest one moves."""
    key = found.keys[0]
    fifths = _raised(key, semitones).tonic.fifths - key.tonic.fifths
    named = chart.rests_on
    rests_on = _raised(named, semitones) if isinstance(named, Key) else named and _moved(named, fifths)
    moved = Chart(tuple(_moved(chord, fifths) for chord in chart.chords), rests_on=rests_on, mode=chart.mode)
    return look_up_loop(moved, settings, found.rests_on and _moved(found.rests_on, fifths))


def _moved(chord: Chord, fifths: int) -> Chord:
    return Chord(Note(chord.root.fifths + fifths), chord.suffix, chord.bass and Note(chord.bass.fifths + fifths))


def _raised(key: Key, semitones: int) -> Key:
    return Key(_tonic(key.tonic.pitch_class + semitones, key.mode), key.mode)


def _tonic(pitch_class: int, mode: str) -> Note:
    """The tonic of the everyday key of this mode."""
    return next(k.tonic for k in PRACTICAL_KEYS if k.mode == mode and k.tonic.pitch_class == pitch_class % 12)


def is_loop(text: str, language: NoteLanguage) -> bool:
    """Whether a text is several chords, or a loop with its key; raises UnknownName where that key is missing."""
    return len(_loop(text, language).chords) > 1 or typed_loop(text, language) is not None


def next_rest(found: Found) -> Chord | None:
    """The next chord of the loop that it may rest on; after the last none, so that it is open again."""
    choices = (None, *found.chords)
    return choices[(choices.index(found.rests_on) + 1) % len(choices)]


def _loop(text: str, language: NoteLanguage) -> Chart:
    """The chords in a text; none where a word of it is not a chord ('A minor' is a key)."""
    try:
        return read_chart(text, language)
    except UnknownName:
        return Chart(())


def _problem(text: str, language: NoteLanguage) -> str:
    """Why a text is neither a key nor a loop, as near as possible to what was meant."""
    if not text.strip():
        return "Nothing has been typed yet."
    if _loop(together(text, language), language).chords:
        return f"{quoted(text)} is a single chord, neither a key nor a loop."
    if _DRILLED.search(text):
        return f"{quoted(text)} is not looked up but drilled: see Focus."
    unread = (_unread_chord(re.split(rf"[\s|,;]+|{joint}", text), language) for joint in JOINTS)
    return next(filter(None, unread), "") or f"{quoted(text)} is not a key or a chord{_nearest(text, language)}."


def _advice(text: str, language: NoteLanguage) -> str:
    """What to type instead, where that is plain; else nothing."""
    if scales_called(text):
        return f"{quoted(text)} needs a note before it: {typed_note(Note.of('A'), language)} {text.strip()}."
    told = (elsewhere(word, language) for word in text.split()[:MOST_WORDS])
    return near_scale(text, language) or in_another_language(text, language) or next(filter(None, told), "")


def _unread_chord(parts: list[str], language: NoteLanguage) -> str:
    """The first of some words that is not a chord, where others are; else nothing."""
    words = [word for word in parts if word]
    unread = [word for word in words if not _loop(word, language).chords]
    if not 0 < len(unread) < len(words):
        return ""
    if words[1:] == unread and len(unread[0]) > LONGEST_SUFFIX:
        return f"{quoted(' '.join(unread))} {NO_SCALE}"
    return f"{quoted(unread[0])} is not a chord{_nearest(unread[0], language)}."


def _nearest(text: str, language: NoteLanguage) -> str:
    found = nearest(text, language)
    return f"; the nearest is {found}" if found and " " not in text else ""


def look_up_loop(chart: Chart, settings: Settings, rests_on: Chord | None = None) -> Found:
    """Look up a loop that is read already: the result first, then the notes under the hand, then the reasons.

    `rests_on` is one of its chords; without one it rests where the learner typed that it does. The picture has the
    shapes of its likeliest key.
    """
    look = settings.look
    view = LoopView.of(chart, settings.neck, rests_on)
    sentences = [*result_sentences(view, look)]
    for fits, layout in view.by_shapes():
        names = " and ".join(to_screen(named_fit(fit), look.language) for fit in fits)
        sentences += ["", f"{names}:", *landing_sentences(view.reading.chords, layout.key, look.language)]
    sentences += ["", *reason_sentences(view, look)]
    likeliest, reading = view.views[0], view.reading
    _, _, *where = headline(likeliest, look)
    return Found(
        " / ".join(to_screen(named_fit(fit), look.language) for fit in reading.fits),
        " / ".join(to_screen(_fit_in_short(fit), look.language) for fit in reading.fits),
        tuple(where),
        reading.keys,
        tuple(sentences),
        likeliest.neck,
        likeliest.picture,
        likeliest.home,
        tuple(dict.fromkeys(reading.chords)),
        rests_on,
        reading.chords,
        chart=chart,
        is_open=reading.is_open and not reading.rests_on,
    )


def _fit_in_short(fit: Fit) -> str:
    """A tonic and a mode in little room: 'Am', 'G', 'D mix'."""
    tonic = named(fit.key.tonic)
    return f"{tonic} {_MODES_IN_SHORT[fit.mode]}" if fit.mode in MARKS else tonic + "m" * (fit.key.mode == "minor")
