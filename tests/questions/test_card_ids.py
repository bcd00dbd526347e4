"""Card ids are permanent: what was ever written in a record must mean the same tomorrow."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drill.decks import entry_of, load_deck, shipped_decks
from drill.errors import FretsureError, UnknownName
from drill.questions.catalogue import FAMILIES, read_card_id
from drill.questions.facets import as_plain
from drill.system.tunings import find_tuning
from drill.theory.neck import STANDARD, Neck

KEPT = Path(__file__).with_name("two-shapes.ids")
"""The ids of the default deck when it was first released."""


def test_the_ids_of_the_first_release_are_kept_whatever_the_default_deck_asks_now() -> None:
    kept = KEPT.read_text(encoding="utf-8").split()
    assert len(kept) == 254
    assert [entry_of(card_id)[0].item.card for card_id in kept] == kept
    assert load_deck("two-shapes", Neck(STANDARD)).entries.keys() <= set(kept)


def test_ids_do_not_depend_on_the_run() -> None:
    first, second = (load_deck("two-shapes", Neck(STANDARD)) for _ in range(2))
    assert first.items == second.items


@pytest.mark.long(but=1)
@pytest.mark.parametrize(
    ("tuning", "capo"), [("standard", 0), ("standard", 5), ("dadgad", 0), ("bass", 2), ("seven-string", 0)]
)
def test_every_id_leads_back_to_its_card(tuning: str, capo: int) -> None:
    for deck in shipped_decks(Neck(find_tuning(tuning), 24, capo)):
        for card_id, entry in deck.entries.items():
            name = read_card_id(card_id)
            assert (name.family, name.facets) == (entry.item.family, entry.facets)
            assert name.id == card_id
            again, neck = entry_of(card_id)
            assert again.item.facts == entry.item.facts
            assert again.item.groups == entry.item.groups
            assert again.facets == entry.facets
            if FAMILIES[name.family].about_the_neck:
                assert (neck.tuning.id, neck.capo) == (deck.neck.tuning.id, deck.neck.capo)


@pytest.mark.parametrize("tuning", ["standard", "bass"])
def test_ids_and_facets_are_plain(tuning: str) -> None:
    """One word of ASCII, facets in the family's order, nothing a shell or a spreadsheet would take for its own."""
    for deck in shipped_decks(Neck(find_tuning(tuning), 15)):
        for card_id, entry in deck.entries.items():
            assert re.fullmatch(r"[a-z-]+(:[a-z]+=[A-Za-z0-9#-]+)+", card_id)
            assert type(entry.facets) is FAMILIES[entry.item.family].facet_type
            assert re.findall(r":([a-z]+)=", card_id.partition(":tuning=")[0]) == list(as_plain(entry.facets))


@pytest.mark.parametrize(
    "card_id",
    [
        "",
        "x",
        "note-at-fret",
        "note-at-fret:string=6",
        "note-at-fret:fret=8:string=6",
        "note-at-fret:string=9:fret=1",
        "note-at-fret:string=6:fret=99",
        "note-at-fret:string=6:fret=-1",
        "note-at-fret:string=06:fret=8",
        "note-at-fret:string=six:fret=8",
        "note-at-fret:string=6:fret=8:fret=9",
        "note-at-fret:string=6:fret=8:capo=x",
        "note-at-fret:string=6:fret=8:capo=40",
        "note-at-fret:string=6:fret=8:tuning=lute",
        "tonic-fret:key=Am:string=0",
        "tonic-fret:key=am:string=6",
        "tonic-fret:key=Fb:string=6",
        "tonic-fret:key=A minor:string=6",
        "shape-anchor:key=Am:shape=3",
        "shape-anchor:key=Am:shape=string-9",
        "tonic-finger:key=Am:shape=string-6:tuning=dadgad",
        "finger-key:shape=string-6:finger=2:fret=8:mode=minor",
        "finger-key:shape=string-6:finger=1:fret=8:mode=dorian",
        "neck-diagram:shape=3:fret=0:mode=minor",
        "next-shape:key=Am:shape=6",
        "degree-at:shape=string-6:string=6:finger=3:mode=minor",
        "chord-of-key:key=Am:numeral=VIII",
        "numeral-of-chord:key=Am:chord=Gm",
        "loop-tonic:loop=Am-X",
        "loop-tonic:loop=",
        "chord-tone:key=Am:shape=string-6:chord=Am:string=6",
        "letter-skip:note=C:interval=fifth-up",
        "letter-skip:note=H:interval=third-up",
        "signature-key:signature=8-flats:mode=major",
        "relative-minor:key=Am",
        "relative-major:key=C",
    ],
)
def test_what_no_family_writes_is_no_card(card_id: str) -> None:
    with pytest.raises(FretsureError):
        entry_of(card_id)


@pytest.mark.long
@given(st.text(max_size=60) | st.from_regex(r"[a-z-]{1,14}(:[a-z]{1,7}=[A-Za-z0-9#-]{0,8}){0,4}", fullmatch=True))
def test_any_text_is_a_card_or_is_refused(text: str) -> None:
    try:
        entry, _ = entry_of(text)
    except FretsureError as error:
        assert len(str(error)) < 1000
    else:
        assert entry.item.card == text


def test_an_id_of_a_million_characters_is_refused_in_one_line() -> None:
    with pytest.raises(UnknownName) as refused:
        entry_of("note-at-fret:string=6:fret=" + "9" * 1_000_000)
    assert len(str(refused.value)) < 1000
