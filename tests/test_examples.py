"""Every example in the program's docstrings comes out as it is written."""

from __future__ import annotations

import doctest
import importlib

import pytest

from tests.support.project import modules_with_examples

MODULES = modules_with_examples()


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_are_true(name: str) -> None:
    result = doctest.testmod(importlib.import_module(name))
    assert result.attempted > 0
    assert result.failed == 0


def test_examples_were_found() -> None:
    assert {"drill.memory", "drill.theory.pitch", "drill.present.figures"} <= set(MODULES)
