"""A coverage-guided search for text that brings a traceback.

    python tests/fuzz/guided.py READER [-max_total_time=SECONDS]

Run by hand, in an environment of its own that has `atheris` beside this project: the suite does not need it. It stops
at the first exception that is not one for the learner, with the bytes that brought it. READER is one of those below.
"""

from __future__ import annotations

import json
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import atheris  # type: ignore  # it lies in an environment of its own

with atheris.instrument_imports(include=["drill", "tomllib"]):
    from drill import settings
    from drill.decks import deck
    from drill.errors import FretsureError
    from drill.export import merge
    from drill.export.model import written
    from drill.questions.catalogue import read_card_id
    from drill.record import Record
    from drill.system.tunings import read_tunings
    from drill.theory.chords import parse_chord
    from drill.theory.keys import parse_key
    from drill.theory.names import NOTE_LANGUAGES, parse_note
    from drill.theory.neck import STANDARD, Neck

FOLDER = Path(tempfile.mkdtemp())
HEAD = b'title = "t"\nabout = "a"\n[[part]]\nfamilies = ["note-at-fret"]\n'
SEEDS: dict[str, list[bytes]] = {
    "names": [b"Bb", b"F# minor", b"Cmaj7", b"B\xe2\x99\xad", b"sol di\xc3\xa8se", b"heses", b"G7sus4"],
    "card-id": [b"note-at-fret:string=6:fret=8", b"shape-anchor:key=F#m:shape=string-5:tuning=drop-d:capo=2"],
    "settings": [settings.dump(settings.Settings()).encode()],
    "tunings": [b'[standard]\ntitle = "Guitar"\nstrings = ["E4", "B3", "G3", "D3", "A2", "E2"]\n'],
    "deck": [HEAD, HEAD + b'strings = [6, 5]\nfrets = [0, 12]\nkeys = ["Am"]\nloops = ["Am F C G"]\n'],
    "log": [],
}


def names(text: str) -> None:
    for language in NOTE_LANGUAGES:
        for read in (parse_note, parse_key, parse_chord):
            _tried(lambda read=read, language=language: read(text, language))  # type: ignore[misc]


def in_a_file(read: Callable[[Path], object]) -> Callable[[str], None]:
    """A reader of text from a reader of files."""
    path = FOLDER / "text.toml"

    def read_text(text: str) -> None:
        path.write_text(text, encoding="utf-8", errors="surrogateescape")
        read(path)

    return read_text


def log_reader() -> Callable[[str], None]:
    """Merges into a record that is never asked to keep anything: what can be read is refused for its drill."""
    record = Record.open(FOLDER / "record.sqlite3", lambda: 0.0)
    return in_a_file(lambda path: merge(path, record))


READERS: dict[str, Callable[[], Callable[[str], object]]] = {
    "names": lambda: names,
    "card-id": lambda: read_card_id,
    "settings": lambda: lambda text: settings.parse(text, "settings.toml"),
    "tunings": lambda: lambda text: read_tunings(text, "tunings.toml"),
    "deck": lambda: in_a_file(lambda path: (deck.check_deck(path), deck.load_deck(str(path), Neck(STANDARD)))),
    "log": log_reader,
}


def _tried(read: Callable[[], object]) -> None:
    try:
        read()
    except FretsureError as error:
        assert str(error)


def main() -> None:
    if len(sys.argv) < 2 or sys.argv[1] not in READERS:
        sys.exit(f"{__doc__}\nReaders: {', '.join(READERS)}")
    name = sys.argv.pop(1)
    read, corpus = READERS[name](), FOLDER / "corpus"
    corpus.mkdir()
    for number, seed in enumerate(SEEDS[name] or _log_lines()):
        (corpus / str(number)).write_bytes(seed)

    def one(data: bytes) -> None:
        _tried(lambda: read(data.decode("utf-8", "surrogateescape")))

    atheris.Setup([*sys.argv, str(corpus)], one)
    atheris.Fuzz()


def _log_lines() -> list[bytes]:
    from tests.support.records import attempt, drill

    lines = [written(drill()), written(attempt(1))]
    assert all(json.loads(line) for line in lines)
    return ["\n".join(lines).encode(), lines[0].encode()]


if __name__ == "__main__":
    main()
