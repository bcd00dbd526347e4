"""The theory as a whole: it shows examples, and its values cannot be changed."""

from __future__ import annotations

import importlib
import pkgutil

import drill.theory
from drill.theory.value import Value
from tests.support.project import modules_with_examples

MODULES = [module.name for module in pkgutil.iter_modules(drill.theory.__path__)]


def test_every_module_shows_examples() -> None:
    assert {f"drill.theory.{name}" for name in MODULES} <= set(modules_with_examples())


def test_values_are_frozen_and_slotted() -> None:
    modules = [importlib.import_module(f"drill.theory.{name}") for name in MODULES]
    kinds = {kind for module in modules for kind in vars(module).values() if isinstance(kind, type)}
    own = {kind for kind in kinds if kind.__module__.startswith("drill.theory")}
    assert len(own) > 15
    assert all(issubclass(kind, tuple | str | Value) for kind in own)
    assert all("__slots__" in vars(kind) for kind in own)
