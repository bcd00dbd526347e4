"""What the next drill brings, in a sentence that Home says.

Today           the topics of the next drill, about how many answers fit, and its length
today_sentence  the sentence
done_sentence   what it says once today's drill is done: what tomorrow brings
first_sentence  the same before the first drill: what Enter does
letters         the first topics, to be drawn large
topic_name      a topic as it is listed: a key, a string by its number, a kind of question by its title
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from drill.present.placement import BEGINS
from drill.theory.keys import PRACTICAL_KEYS, Key
from drill.theory.names import NoteLanguage, joined, show_note

if TYPE_CHECKING:
    from drill.memory import Start

Topic = Key | int | str
"""What a question is about: a key, else a string by its number, else the title of its kind."""
NAMED = 2
"""So many topics are named, and the others counted."""
NOTHING_YET = "Tomorrow this line says what grew."
"""What grew, before the first drill."""


class Today(NamedTuple):
    """The next drill: topics never asked about, or else those with new questions, and topics that come back, in order.

    `answers` is about how many answers fit in so many `minutes`; None where that cannot be told, for one because the
    drill may end early. It `asks` nothing where everything is known for days.
    """

    first: tuple[Topic, ...]
    more: tuple[Topic, ...]
    back: tuple[Topic, ...]
    answers: int | None
    minutes: int
    asks: bool = True


def today_sentence(today: Today, language: NoteLanguage) -> str:
    """What today brings, and how long it takes.

    >>> from drill.theory.keys import parse_key
    >>> a_flat, f, b_flat = map(parse_key, ("Ab", "Fm", "Bbm"))
    >>> today_sentence(Today((a_flat,), (), (f, 6, b_flat, "Letters"), 90, 5), "english")
    'Today brings A♭ major for the first time, and F minor, string 6 and 2 more again: about 90 answers in 5 minutes.'
    >>> today_sentence(Today((), (), (f,), None, 5), "english")
    'Today brings F minor again: 5 minutes at most.'
    >>> today_sentence(Today((), (), (), None, 1), "english")
    'Nothing fades today. A drill makes sure of it: a minute at most.'
    >>> today_sentence(Today((6, 5), (), PRACTICAL_KEYS, 60, 5), "english")
    'Today brings new questions on string 6 and string 5, and every key again: about 60 answers in 5 minutes.'
    """
    if not today.asks:
        return "Nothing to drill today: you know all of this deck."
    brings, minutes = _brings(today, language), minutes_in_words(today.minutes)
    length = f"about {today.answers} answers in {minutes}" if today.answers else f"{minutes} at most"
    if not brings:
        return f"Nothing fades today. A drill makes sure of it: {length}."
    return f"Today brings {brings}: {length}."


def done_sentence(tomorrow: Today, language: NoteLanguage) -> str:
    """That today's drill is done, what tomorrow brings, and what is worth doing now.

    >>> from drill.theory.keys import parse_key
    >>> done_sentence(Today((parse_key("Dm"),), (), (parse_key("Am"),), 60, 5), "english")
    "Today's drill is done: now play. Tomorrow brings D minor for the first time, and A minor again."
    >>> done_sentence(Today((), (), (), 60, 5), "english")
    "Today's drill is done: now play. Nothing fades by tomorrow."
    """
    brings = _brings(tomorrow, language)
    return f"Today's drill is done: now play. {f'Tomorrow brings {brings}' if brings else 'Nothing fades by tomorrow'}."


def _brings(today: Today, language: NoteLanguage) -> str:
    """What a drill is about, in the order in which it is told; empty where nothing is new or fades."""
    on_strings = any(isinstance(topic, int) for topic in today.first)  # another deck may have asked about them
    parts = (
        (today.first, "new questions on {}" if on_strings else "{} for the first time"),
        (today.more, "new questions on {}"),
        (today.back, "{} again"),
    )
    return ", and ".join(words.format(listed(topics, language)) for topics, words in parts if topics)


def first_sentence(minutes: int, place: Start | None) -> str:
    """What happens on Enter before anything was ever asked.

    >>> first_sentence(5, None)
    'Enter starts your first 5 minutes. A new kind of question is shown solved first.'
    """
    begins = BEGINS[place] if place else "A new kind of question is shown solved first."
    return f"Enter starts your first {'minute' if minutes == 1 else f'{minutes} minutes'}. {begins}"


def letters(today: Today, language: NoteLanguage) -> str:
    """The first topics of the drill, to be drawn large; empty where it is about no key.

    >>> from drill.theory.keys import parse_key
    >>> letters(Today((parse_key("Ab"), parse_key("Fm"), parse_key("Db")), (), (), 9, 5), "english")
    'A♭  Fm'
    """
    keys = [topic for topic in (*today.first, *today.more, *today.back) if isinstance(topic, Key)]
    return "  ".join(show_note(key.tonic, language) + "m" * (key.mode == "minor") for key in keys[:NAMED])


def minutes_in_words(minutes: int) -> str:
    """A length of time: 'a minute', '5 minutes'."""
    return "a minute" if minutes == 1 else f"{minutes} minutes"


def listed(topics: Sequence[Topic], language: NoteLanguage, most: int = NAMED) -> str:
    """The first topics by name, the others counted; all keys in two words."""
    if len(topics) >= len(PRACTICAL_KEYS) and all(isinstance(topic, Key) for topic in topics):
        return "every key"
    names = [topic_name(topic, language) for topic in topics]
    if len(names) > most + 1:  # "and 1 more" would be no shorter than its name
        names = [*names[:most], f"{len(names) - most} more"]
    return joined(names, "and")


def topic_name(topic: Topic, language: NoteLanguage) -> str:
    """A topic as it is listed: 'F♯ minor', 'string 6', '“Note at a fret”'."""
    if isinstance(topic, Key):
        return topic.shown_in(language)
    return f"string {topic}" if isinstance(topic, int) else f"“{topic}”"
