"""The keys of the objects that commands print with --json, each with its meaning.

Those of a drill, `progress`, `class` and the exported tables are declared where their values are found.
"""

from __future__ import annotations

from collections.abc import Mapping

from drill.present.reasons import reason_sentence
from drill.present.tables import Column, Columns, Kind, pick
from drill.questions.facets import as_plain
from drill.questions.wording import to_ascii


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
QUESTION: Columns = (
    Column("card", "the card's id", value="card.id"),
    Column("family", "its family's id", value="card.family"),
    Column("deck", "the deck it is asked from"),
    Column("prompt", "the whole question in one line, without a picture", Kind.SENTENCE, "card.prompt"),
    Column("facets", "what it is about, by the names below; they alone determine the answer",
           value=lambda row: as_plain(row.card.facets)),
    Column("target_s", "the seconds within which an answer is in time"),
    Column("why", "why it is asked now", value=lambda row: reason_sentence(row.reason)),
)  # fmt: skip
ANSWER: Columns = (
    Column("accepts", "every accepted answer", value="card.accepts"),
    Column("because", "the reason, step by step", value=lambda row: list(map(to_ascii, row.card.because))),
)
DOT = _columns(
    ("string", "1 is the highest"), ("fret", "counted from the capo, or from the nut without one"),
    ("note", "its name"), ("degree", "of the key"), ("finger", "1 index to 4 little; null for none"),
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
DECK: Columns = (
    Column("deck", "its id", value="id"),
    Column("title", "its title"),
    Column("about", "what it is for"),
    Column("stage", "its place in the list, 1 for beginners to 5"),
    Column("tuning", "the tuning's id", value="neck.tuning.id"),
    Column("cards", "how many cards it has", value=lambda deck: len(deck.entries)),
    Column("families", "the kinds of question",
           value=lambda deck: list(dict.fromkeys(entry.item.family for entry in deck.entries.values()))),
    Column("left_out", "what this instrument cannot be asked, in sentences"),
    Column("homework", "what is set with it; null if nothing is",
           value=lambda deck: deck.homework and deck.homework.as_object(), columns=HOMEWORK),
)  # fmt: skip
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
    "fret": "0 is the open string, or the capo",
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
