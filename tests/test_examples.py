"""Every example in the program's docstrings comes out as it is written."""

from __future__ import annotations

import doctest
import importlib

import pytest

from tests.test_architecture import ROOT

MODULES = sorted(
    ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
    for path in (ROOT / "drill").rglob("*.py")
    if "\n>>> " in path.read_text(encoding="utf-8") or "    >>> " in path.read_text(encoding="utf-8")
)


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_are_true(name: str) -> None:
    result = doctest.testmod(importlib.import_module(name))
    assert result.attempted > 0
    assert result.failed == 0


def test_examples_were_found() -> None:
    assert {"drill.memory", "drill.theory.pitch", "drill.present.figures"} <= set(MODULES)
