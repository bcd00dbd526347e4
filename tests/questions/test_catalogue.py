"""The catalogue lists each family once, under its own id, and imports it only when it is looked up."""

from __future__ import annotations

import inspect
import pkgutil
import subprocess
import sys
from importlib import import_module

from drill.questions import families
from drill.questions.catalogue import FAMILIES
from drill.questions.family import Family
from tests.support.project import ROOT


def test_every_family_is_listed_under_its_own_id() -> None:
    assert {family.id: family for family in FAMILIES.values()} == dict(FAMILIES)
    modules = [
        import_module(f"{families.__name__}.{module.name}") for module in pkgutil.iter_modules(families.__path__)
    ]
    written = {
        kind
        for module in modules
        for _, kind in inspect.getmembers(module, inspect.isclass)
        if issubclass(kind, Family) and hasattr(kind, "id")
    }
    assert {type(family) for family in FAMILIES.values()} == written


def test_what_a_family_needs_comes_before_it() -> None:
    order = list(FAMILIES)
    known = {name: set(order[:place]) for place, name in enumerate(order)}
    assert all(known[family.id].issuperset(family.needs) for family in FAMILIES.values())


def test_a_family_that_a_deck_does_not_ask_is_not_imported() -> None:
    load = "from drill.decks import load_deck; from drill.theory.neck import STANDARD, Neck"
    look = "import sys; print(*sorted(name for name in sys.modules if '.families.' in name))"
    done = subprocess.run(
        [sys.executable, "-c", f"{load}; load_deck('naturals', Neck(STANDARD)); {look}"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    imported = {name.rpartition(".")[2] for name in done.stdout.split()}
    assert "spots" in imported
    assert not imported & {"loops", "numerals", "chord_tones", "ear"}
