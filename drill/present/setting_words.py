"""Settings in a learner's words: a title for each, and what its values are called."""

from __future__ import annotations

_TITLES = {
    "tuning": "Instrument",
    "frets": "Frets on the neck",
    "capo": "Capo at fret",
    "hand": "You play",
    "low_string": "Lowest string",
    "note_language": "Note names",
    "shape_names": "Shapes are called",
    "show": "Dots show",
    "colours": "Colours",
    "next_question": "Next question",
    "motion": "Beats and time",
    "minutes": "Minutes a drill",
    "tempo_bpm": "Your tempo",
    "start": "Begin with",
    "answers": "Answers",
    "decibels_down": "Volume",
    "microphone": "Microphone",
    "speaker": "Heard through",
    "path_ms": "Sound latency",
    "deck": "Deck",
    "report_title": "Title of reports",
    "learner": "Your name",
}

_VALUES = {
    ("capo", "0"): "none",
    ("hand", "right"): "right-handed",
    ("hand", "left"): "left-handed",
    ("low_string", "bottom"): "drawn at the bottom",
    ("low_string", "top"): "drawn at the top",
    ("note_language", "english"): "English: C D E F G A B",
    ("note_language", "german"): "German: C D E F G A H",
    ("note_language", "french"): "French: Do Ré Mi Fa Sol La Si",
    ("note_language", "italian"): "Italian: Do Re Mi Fa Sol La Si",
    ("note_language", "spanish"): "Spanish: Do Re Mi Fa Sol La Si",
    ("shape_names", "facts"): "by the string of their tonic",
    ("shape_names", "numbers"): "by that string and a number, 1 to 5",
    ("show", "fingers"): "fingers",
    ("show", "degrees"): "degrees of the key",
    ("show", "notes"): "note names",
    ("colours", "rosewood"): "rosewood, dark",
    ("colours", "maple"): "maple, light",
    ("colours", "contrast"): "the strongest contrast",
    ("colours", "terminal"): "those of your terminal",
    ("next_question", "by itself"): "comes by itself after a right answer",
    ("next_question", "on enter"): "waits for Enter",
    ("motion", "running"): "run",
    ("motion", "still"): "stand still",
    ("start", "undecided"): "what your first answers show",
    ("start", "notes"): "the notes",
    ("start", "shapes"): "the two shapes",
    ("start", "speed"): "speed alone",
    ("answers", "typed"): "typed, or clicked on the neck",
    ("answers", "played"): "played where they can be heard",
    ("answers", "hands free"): "played, nothing typed",
    ("microphone", ""): "the system's",
    ("speaker", ""): "the system's",
    ("path_ms", "0"): "not measured",
}

_UNITS = {
    "tempo_bpm": "{} beats per minute",
    "decibels_down": "{} dB below full volume",
    "path_ms": "{} milliseconds",
}


def title_of(name: str) -> str:
    """What a setting is called.

    >>> title_of("note_language")
    'Note names'
    """
    return _TITLES.get(name, name.replace("_", " ").capitalize())


def value_of(name: str, value: str | int) -> str:
    """What a value of a setting is called.

    >>> value_of("hand", "left"), value_of("tempo_bpm", 80), value_of("learner", "")
    ('left-handed', '80 beats per minute', 'not set')
    """
    named = _VALUES.get((name, str(value)))
    return named or ("not set" if value == "" else _UNITS.get(name, "{}").format(value))
