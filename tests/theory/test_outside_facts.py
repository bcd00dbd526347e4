"""fretsure against the world outside: every fact of every source, over the whole domain."""

from __future__ import annotations

import pytest

from tests.theory import facts
from tests.theory.outside import SOURCES
from tests.theory.outside.registry import Source


@pytest.mark.long(but=1)
@pytest.mark.parametrize("source", SOURCES, ids=[f"{source.name}, {source.subject}" for source in SOURCES])
def test_every_fact_of_the_source_agrees(source: Source) -> None:
    compared, wrong = source.differing()
    assert compared > 0
    assert wrong == []


def test_the_count_of_facts_names_every_source(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(facts, "SOURCES", SOURCES[-3:])
    assert facts.main() == 0
    printed = capsys.readouterr().out
    for source in SOURCES[-3:]:
        assert source.name in printed
        assert source.subject in printed
    assert "0 differ" in printed
