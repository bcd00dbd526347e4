"""Every colour of text can be read on what it stands on, and none is needed to tell two things apart.

At least 4.5 to 1 by the formula of WCAG 2.2 (success criterion 1.4.3; relative luminance as defined there), and 7 to 1
(success criterion 1.4.6) in the theme of high contrast. The terminal's own colours are not ours to measure.
"""

from __future__ import annotations

import colorsys
import itertools
from typing import get_args

import pytest
from textual.theme import Theme

from drill.present.neck_drawing import Role
from drill.settings import Colours
from drill.tui.themes import TERMINAL, THEMES
from drill.tui.widgets.neck_view import STYLES
from tests.tui.conftest import MakeApp

LEAST = {"rosewood": 4.5, "maple": 4.5, "contrast": 7.0}
MEASURED = [theme for theme in THEMES if not theme.ansi]


def luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_published_extreme() -> None:
    assert contrast("#ffffff", "#000000") == pytest.approx(21.0)


def test_every_wood_can_be_set_and_is_there_at_the_next_start(make_app: MakeApp) -> None:
    assert tuple(wood.name for wood in THEMES) == get_args(Colours)
    assert [make_app({"colours": wood.name}).theme for wood in THEMES] == [wood.name for wood in THEMES]


@pytest.mark.parametrize("wood", MEASURED, ids=lambda wood: wood.name)
def test_text_can_be_read(wood: Theme) -> None:
    inks = [wood.primary, wood.foreground, wood.success, wood.warning, wood.error]
    inks += [value for name, value in wood.variables.items() if name.startswith("verdict-")]
    necks = {name: value for name, value in wood.variables.items() if name.startswith("neck-")}
    board, least = necks.pop("neck-board"), LEAST[wood.name]
    for ink, paper in itertools.product([*inks, *necks.values()], (wood.background, wood.surface, board)):
        assert contrast(str(ink), str(paper)) >= least, (ink, paper)
    for ink, paper in itertools.product(
        (wood.primary, wood.foreground, necks["neck-weak"], necks["neck-middling"], necks["neck-strong"]),
        (wood.panel, wood.variables["block-cursor-background"]),
    ):
        assert contrast(str(ink), str(paper)) >= least, (ink, paper)


@pytest.mark.parametrize("wood", MEASURED, ids=lambda wood: wood.name)
def test_keys_the_line_under_the_cursor_and_what_is_selected_can_be_read(wood: Theme) -> None:
    named = wood.variables
    for ink, paper in (
        (named["footer-key-foreground"], wood.panel),
        (named["block-cursor-foreground"], named["block-cursor-background"]),
        (wood.foreground, named["input-selection-background"]),
    ):
        assert contrast(str(ink), str(paper)) >= LEAST[wood.name], (ink, paper)


@pytest.mark.parametrize("wood", MEASURED, ids=lambda wood: wood.name)
def test_memory_has_one_calm_hue_that_grows_stronger(wood: Theme) -> None:
    """Blue lies between 180 and 260 degrees of the colour circle (CSS Color 4, section 7: hsl)."""
    shades = [str(wood.variables[f"neck-{band}"]) for band in ("weak", "middling", "strong")]
    hues = [colorsys.rgb_to_hls(*(int(shade[i : i + 2], 16) / 255 for i in (1, 3, 5)))[0] * 360 for shade in shades]
    assert all(180 <= hue <= 260 for hue in hues)
    assert max(hues) - min(hues) <= 15
    against = [contrast(shade, str(wood.background)) for shade in shades]
    assert against == sorted(against)


def test_the_terminals_own_colours_are_painted_as_they_are(make_app: MakeApp) -> None:
    assert make_app({"colours": "terminal"}).native_ansi_color
    assert not make_app().native_ansi_color
    named = {**TERMINAL.variables, "primary": TERMINAL.primary}
    assert [name for name, value in named.items() if not value.startswith(("ansi_", "bold", "reverse"))] == []


def test_every_role_of_a_drawing_has_a_colour_in_every_wood() -> None:
    assert set(STYLES) == set(Role.__args__)  # type: ignore[attr-defined]
    for style, wood in itertools.product(STYLES.values(), THEMES):
        assert style.split()[0].removeprefix("$") in wood.variables
