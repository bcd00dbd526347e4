"""The keys of the objects that commands print with --json, each with its meaning.

Those of `progress`, `class` and the exported tables are declared where their values are found.
"""

from __future__ import annotations

from collections.abc import Mapping

from drill.present.tables import Column, Columns, pick


def _columns(*pairs: tuple[str, str] | tuple[str, str, Columns]) -> Columns:
    return tuple(Column(key, meaning, columns=inside[0] if inside else ()) for key, meaning, *inside in pairs)


HOMEWORK = _columns(
    ("by", "who set it"), ("until", "the last day"), ("goal", "what is to be reached"),
    ("note", "a note to the student"),
)  # fmt: skip
ASSIGNMENT = (
    *_columns(("deck", "the deck's id"), ("title", "its title")),
    *HOMEWORK,
    *_columns(
        ("done", "how many of what the goal counts are ready or fluent"),
        ("wanted", "how many are wanted"),
        ("reached", "whether the goal is reached"),
        ("seen", "how many cards of the deck were asked"),
        ("cards", "how many it has"),
    ),
)
QUESTION = _columns(
    ("card", "the card's id"),
    ("family", "its family's id"),
    ("deck", "the deck it is asked from"),
    ("prompt", "the whole question in one line, without a picture"),
    ("facets", "what it is about, by the names below; they alone determine the answer"),
    ("target_s", "the seconds within which an answer is in time"),
    ("why", "why it is asked now"),
)
ANSWER = _columns(("accepts", "every accepted answer"), ("because", "the reason, step by step"))
MIXUP = _columns(("mixup", "its name"), ("sentence", "what was confused, in words"))
LINES: Mapping[str, tuple[str, Columns]] = {
    "question": ("answer it with one line on standard input; an empty line or ? means not known", QUESTION),
    "shown": (
        "a card shown solved, before any of its kind is asked and again after a miss while none of its kind has come "
        "right; it takes no line and counts as nothing",
        (*QUESTION, *ANSWER, *_columns(("idea", "the idea of its kind in a sentence"))),
    ),
    "problem": (
        "a line that cannot be read: nothing is counted, and the next line answers the same question, which is not "
        "sent again; the third such line counts as not known",
        _columns(("card", "the card's id"), ("problem", "what is wrong with the line")),
    ),
    "verdict": (
        "what became of the line",
        _columns(
            ("card", "the card's id"),
            ("right", "whether the answer was right"),
            ("given", "the line that was judged"),
            *((each.key, each.meaning) for each in ANSWER),
            ("mixup", "the named mix-up, the likelier of two; null without one"),
            ("mixup_sentence", "what was confused, in words; null without one"),
            ("mixups", "one or two of them, each with:", MIXUP),
            ("thinking_ms", "milliseconds from the question to the line, raw; null if they could not be measured"),
        ),
    ),
    "summary": (
        "the last line",
        _columns(
            ("answered", "how many answers were given"),
            ("right", "how many of them were right"),
            ("first_time", "how many cards were asked for the first time, not shown solved before"),
            ("seconds", "how long the drill was"),
            ("moved", "the cards whose strength changed most, each with its chance of recall before and after",
             _columns(("card", "the card's id"), ("before", "0 to 1"), ("after", "0 to 1"))),
            ("mixups", "what was confused with what",
             _columns(("mixup", "its name"), ("count", "how often"), ("example", "one of them in words"))),
            ("slowest", "where thinking took longest",
             _columns(("group", "a string, key, shape or family"), ("seconds", "mean thinking time"))),
            ("returns_at", "when to drill again, UTC: tomorrow at the earliest, within four weeks; null if nothing was "
             "answered"),
            ("in_time", "cards of the neck whose newest answer came in time"),
            ("in_time_week_ago", "the same a week ago; null if nothing was asked before then"),
            ("ending", "known if nothing more was urgent, in time if all came right in time, time if the time was up, "
             "null if the input ended"),
            ("next", "a faster tempo or the next deck to take; null if there is no reason to",
             _columns(("tempo_bpm", "beats a minute"), ("deck", "the deck's id"))),
            ("homework", "what is set with the deck; null if nothing is", ASSIGNMENT),
            ("other_homework", "what is set with other decks, after the daily drill", ASSIGNMENT),
            ("new_record", "the path of the record if no answer was in it before this drill; else null"),
        ),
    ),
}  # fmt: skip
"""The lines of a drill by their `type`, each with what it is for and its other keys."""
DOT = _columns(
    ("string", "1 is the highest"), ("fret", "counted from the nut"), ("note", "its name"), ("degree", "of the key"),
    ("finger", "1 index to 4 little; null for none"),
)  # fmt: skip
SPOT = DOT[:2]
ANCHOR = _columns(
    ("shape", "string-6 is the shape whose minor tonic lies on string 6"),
    ("string", "the string it is anchored on"),
    ("index_frets", "every fret for the index finger"),
    ("minor_tonic", "where the minor tonic lies", DOT),
    ("major_tonic", "where the major tonic lies", DOT),
)
NO_SHAPES = ("no_shapes", "why the tuning has no shapes; null where it has")
KEY = _columns(
    ("key", "the key"),
    ("relative", "its relative key"),
    ("signature", "how many sharps; flats are negative"),
    ("altered", "the notes of the signature"),
    ("notes", "the notes of the key"),
    ("tuning", "the tuning's id"),
    ("frets", "how many frets the neck has"),
    ("capo", "the fret of the capo, 0 for none"),
    ("tonics", "every place of the tonic", SPOT),
    ("anchors", "the two shapes from which a key is reached", ANCHOR),
    ("shapes", "all five shapes, at every place on the neck",
     _columns(("shape", "its id"), ("number", "1 to 5, by which some teachers call it"),
              ("index_frets", "the frets the index finger holds"), ("tied", "whether two fingerings are as good"),
              ("dots", "its notes", DOT))),
    NO_SHAPES,
)  # fmt: skip
SCALE = _columns(
    ("scale", "its name"),
    ("tonic", "its first note"),
    ("degrees", "its formula"),
    ("notes", "its notes"),
    ("tuning", "the tuning's id"),
    ("spots", "every place on the neck", DOT),
    ("patterns", "by notes per string or under the hand, where that was asked for",
     _columns(("index_frets", "the frets the index finger holds"), ("stretches", "how many notes need a stretch"),
              ("dots", "its notes", DOT))),
)  # fmt: skip
LOOP = _columns(
    ("loop", "the chords"),
    ("rests", "the chord on which it rests, if that was said"),
    ("rests_fits", "false where no chord lies in the key of that one: the keys are then what the chords alone allow"),
    ("reduced", "chords with extensions unknown here",
     _columns(("written", "as it was typed"), ("chord", "what is kept of it"))),
    ("open", "false where one key is stated"),
    ("keys", "the keys it may be heard in, the likeliest first",
     _columns(
         ("key", "a major or a minor key by its third: D mixolydian is under D major"),
         ("mode", "the mode"),
         ("likelihood", "0 to 1"),
         ("scale", "the notes of the mode"),
         ("numerals", "the chords as numerals"),
         ("evidence", "what speaks for it", _columns(("clause", "in words"), ("weight", "how much"))),
         ("anchors", "the two shapes", ANCHOR),
         ("chords", "each chord",
          _columns(("chord", "its name"), ("notes", "its notes"), ("inside", "those the pentatonic has"),
                   ("outside", "those it lacks"),
                   ("tones", "its tones in the shapes",
                    (*_columns(("shape", "the shape's id"), ("of_chord", "which tone of the chord")), *DOT)))),
         NO_SHAPES,
     )),
    ("because", "the reasons, in sentences"),
    ("profile", "with --count-notes, how well the notes fit each key by count alone",
     _columns(("key", "the key"), ("correlation", "-1 to 1"))),
)  # fmt: skip
CARD = (*pick(QUESTION, "card", "family", "prompt", "facets"), *ANSWER, *pick(QUESTION, "target_s"))
DECK = _columns(
    ("deck", "its id"),
    ("title", "its title"),
    ("about", "what it is for"),
    ("stage", "its place in the list, 1 for beginners to 5"),
    ("tuning", "the tuning's id"),
    ("cards", "how many cards it has"),
    ("families", "the kinds of question"),
    ("left_out", "what this instrument cannot be asked, in sentences"),
    ("homework", "what is set with it; null if nothing is", HOMEWORK),
)
COMMANDS: Mapping[str, tuple[str, Columns]] = {
    "cards": ("a card a line", CARD),
    "decks": ("a deck a line", DECK),
    "key": ("one object", KEY),
    "key --scale": ("one object", SCALE),
    "loop": ("one object", LOOP),
}
"""What each command prints, but for a drill, `progress` and `class`."""
FACETS: Mapping[str, str] = {
    "string": "1 is the highest",
    "fret": "0 is the open string",
    "note": "such as Bb",
    "key": "such as C# minor",
    "shape": "string-6 has its minor tonic under the index finger on string 6; 1 to 5 are all five",
    "finger": "1 index to 4 little",
    "degree": "of a key",
    "interval": "such as third up",
    "chord": "such as Am",
    "numeral": "such as vi",
    "loop": "its chords",
    "signature": "such as 3 flats",
    "mode": "minor, where a question names no key and asks for one",
}
"""What the facets of a card hold, by their names."""
