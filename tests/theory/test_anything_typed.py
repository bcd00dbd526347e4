"""Whatever is typed, a reader answers with a value or with a sentence."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from drill.errors import FretsureError
from drill.system.tunings import find_tuning, read_tunings
from drill.theory.chords import parse_chord
from drill.theory.harmony import chord_at
from drill.theory.keys import parse_key
from drill.theory.names import NOTE_LANGUAGES, NoteLanguage, parse_note, parse_pitch
from drill.theory.scales import degree_interval, find_scale

READERS: list[Callable[[str], object]] = [
    parse_note,
    parse_pitch,
    parse_key,
    parse_chord,
    find_scale,
    degree_interval,
    find_tuning,
    lambda text: chord_at(text, parse_key("C")),
    lambda text: read_tunings(text, "tunings.toml"),
]
MUSICAL = st.text(alphabet="ABCDEFGHabcdefgmisx#♯♭𝄪𝄫-−/°øΔ()0123456789 ", max_size=12)


@pytest.mark.long(but=2)
@pytest.mark.parametrize("reader", READERS)
@given(text=st.one_of(st.text(max_size=60), MUSICAL))
@example(text="")
@example(text="♭")
@example(text="b" * 41)
@example(text="\x00\x1b[31m")
@example(text="²")
@settings(max_examples=60, deadline=None)
def test_every_reader_reads_or_refuses(reader: Callable[[str], object], text: str) -> None:
    try:
        assert reader(text) is not None
    except FretsureError as refusal:
        assert refusal.message
        assert refusal.message.isprintable() or "\n" in refusal.message


@given(text=MUSICAL, language=st.sampled_from(NOTE_LANGUAGES))
@settings(max_examples=150, deadline=None)
def test_readers_of_every_language_read_or_refuse(text: str, language: NoteLanguage) -> None:
    for reader in (parse_note, parse_key, parse_chord):
        try:
            assert reader(text, language) is not None
        except FretsureError as refusal:
            assert refusal.fix
