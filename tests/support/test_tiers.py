"""Which tests run: the quick ones, and a long one too that is named."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from tests.support.project import ROOT

CONFTEST = ROOT / "tests" / "conftest.py"


@pytest.mark.parametrize(
    ("arguments", "marks", "runs"),
    [
        (["tests"], "not long", "not long"),
        (["tests/support", "tests/memory"], "not long", "not long"),
        (["tests/support", "tests/support/test_tiers.py"], "not long", ""),
        (["tests/support/test_tiers.py::test_a_name"], "not long", ""),
        (["tests/support/test_tiers.py"], "long", "long"),
    ],
)
def test_what_is_named_runs_and_a_folder_stays_quick(
    arguments: list[str], marks: str, runs: str, pytestconfig: pytest.Config, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(ROOT)
    asked = SimpleNamespace(args=arguments, option=SimpleNamespace(markexpr=marks))
    conftest = pytestconfig.pluginmanager.get_plugin(str(CONFTEST))
    assert conftest is not None
    conftest.pytest_configure(asked)
    assert asked.option.markexpr == runs
