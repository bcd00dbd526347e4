"""The colours: two woods, one of high contrast, and the terminal's own. No meaning rests on colour alone.

Memory has one hue, a blue that grows stronger with it; right and wrong are a blue and a rose, each with sign and word.
Contrast of every text colour on its background is at least 4.5 to 1 in the woods and 7 to 1 in `contrast` (WCAG 2.2,
success criteria 1.4.3 and 1.4.6), by a test; by another, whatever is painted on any screen has at least 4.5 to 1, and
3 to 1 where it is drawn (1.4.11). In `terminal` it is whatever the learner made it.
"""

from __future__ import annotations

from collections.abc import Mapping

from textual.theme import Theme

from drill.errors import UsageProblem
from drill.theory.names import quoted

ROSEWOOD = Theme(
    name="rosewood",
    dark=True,
    primary="#e0b15a",
    secondary="#b98a5e",
    accent="#e0b15a",
    foreground="#efe3d0",
    background="#181412",
    surface="#221e1b",
    panel="#302a26",
    success="#8fc7ec",
    warning="#f0a94e",
    error="#e9a6c4",
    variables={
        "neck-board": "#2d1d17",
        "neck-string": "#a89888",
        "neck-quiet": "#b8aa9b",
        "neck-nut": "#efe3d0",
        "neck-inlay": "#e8dcc8",
        "neck-asked": "#ffd98a",
        "neck-note": "#d9cdbb",
        "neck-minor": "#8fd0d8",
        "neck-major": "#f6b85c",
        "neck-given": "#e9a6c4",
        "neck-step": "#efe3d0",
        "neck-weak": "#8fa9bd",
        "neck-middling": "#a6c8e4",
        "neck-strong": "#c4e2fb",
        "verdict-right": "#8fc7ec",
        "verdict-wrong": "#e9a6c4",
        "verdict-passed": "#f0a94e",
        "footer-key-foreground": "#e0b15a",
        "input-selection-background": "#6b4f2a",
        "block-cursor-foreground": "#efe3d0",
        "block-cursor-background": "#413832",
        "block-cursor-blurred-background": "#413832",
        "scrollbar": "#a8998a",
        "scrollbar-hover": "#a8998a",
        "scrollbar-active": "#e0b15a",
        "scrollbar-background": "#221e1b",
    },
)

MAPLE = Theme(
    name="maple",
    dark=False,
    primary="#7a4a10",
    secondary="#6d5233",
    accent="#7a4a10",
    foreground="#2a1d12",
    background="#f3e6cc",
    surface="#ead9b8",
    panel="#e0cda8",
    success="#0e4468",
    warning="#7d4300",
    error="#7a2a4e",
    variables={
        "neck-board": "#e3c891",
        "neck-string": "#5f4d38",
        "neck-quiet": "#5f4f3c",
        "neck-nut": "#2a1d12",
        "neck-inlay": "#2a1d12",
        "neck-asked": "#7a2a00",
        "neck-note": "#3a2a1a",
        "neck-minor": "#0d4f58",
        "neck-major": "#7d4300",
        "neck-given": "#7a2a4e",
        "neck-step": "#2a1d12",
        "neck-weak": "#3f5668",
        "neck-middling": "#1f4665",
        "neck-strong": "#0f3550",
        "verdict-right": "#0e4468",
        "verdict-wrong": "#7a2a4e",
        "verdict-passed": "#7d4300",
        "footer-key-foreground": "#7a4a10",
        "input-selection-background": "#cdb487",
        "block-cursor-foreground": "#2a1d12",
        "block-cursor-background": "#dfca9f",
        "block-cursor-blurred-background": "#dfca9f",
        "scrollbar": "#6d5233",
        "scrollbar-hover": "#6d5233",
        "scrollbar-active": "#7a4a10",
        "scrollbar-background": "#ead9b8",
    },
)

CONTRAST = Theme(
    name="contrast",
    dark=True,
    primary="#ffe070",
    secondary="#ffffff",
    accent="#ffe070",
    foreground="#ffffff",
    background="#000000",
    surface="#000000",
    panel="#1c1c1c",
    success="#a8dcff",
    warning="#ffd08a",
    error="#ffb3da",
    variables={
        "neck-board": "#000000",
        "neck-string": "#c8c8c8",
        "neck-quiet": "#d4d4d4",
        "neck-nut": "#ffffff",
        "neck-inlay": "#ffffff",
        "neck-asked": "#ffe070",
        "neck-note": "#ffffff",
        "neck-minor": "#9ff0f8",
        "neck-major": "#ffcf8a",
        "neck-given": "#ffb3da",
        "neck-step": "#ffffff",
        "neck-weak": "#b4cbe0",
        "neck-middling": "#c2defa",
        "neck-strong": "#e2f1ff",
        "verdict-right": "#a8dcff",
        "verdict-wrong": "#ffb3da",
        "verdict-passed": "#ffd08a",
        "footer-key-foreground": "#ffe070",
        "input-selection-background": "#4a4a00",
        "block-cursor-foreground": "#ffffff",
        "block-cursor-background": "#333333",
        "block-cursor-blurred-background": "#333333",
        "scrollbar": "#c8c8c8",
        "scrollbar-hover": "#c8c8c8",
        "scrollbar-active": "#ffe070",
        "scrollbar-background": "#1c1c1c",
    },
)

TERMINAL = Theme(
    name="terminal",
    ansi=True,
    primary="ansi_cyan",
    secondary="ansi_default",
    accent="ansi_cyan",
    foreground="ansi_default",
    background="ansi_default",
    surface="ansi_default",
    panel="ansi_default",
    success="ansi_blue",
    warning="ansi_default",
    error="ansi_magenta",
    variables={
        "neck-board": "ansi_default",
        "neck-string": "ansi_default",
        "neck-quiet": "ansi_default",
        "neck-nut": "ansi_default",
        "neck-inlay": "ansi_default",
        "neck-asked": "ansi_default",
        "neck-note": "ansi_default",
        "neck-minor": "ansi_cyan",
        "neck-major": "ansi_default",
        "neck-given": "ansi_magenta",
        "neck-step": "ansi_default",
        "neck-weak": "ansi_default",
        "neck-middling": "ansi_cyan",
        "neck-strong": "ansi_cyan",
        "verdict-right": "ansi_cyan",
        "verdict-wrong": "ansi_magenta",
        "verdict-passed": "ansi_default",
        "footer-key-foreground": "ansi_cyan",
        "ansi-background": "ansi_default",
        "ansi-foreground": "ansi_default",
        "border-blurred": "ansi_default",
        "input-cursor-background": "ansi_default",
        "input-cursor-foreground": "ansi_default",
        "input-cursor-text-style": "reverse",
        "screen-selection-background": "ansi_cyan",
        "screen-selection-foreground": "ansi_default",
        "text-warning": "ansi_default",
        "text-success": "ansi_cyan",
        "text-error": "ansi_magenta",
        "input-selection-background": "ansi_cyan",
        "input-selection-foreground": "ansi_default",
        "block-cursor-foreground": "ansi_cyan",
        "block-cursor-background": "ansi_default",
        "block-cursor-text-style": "bold reverse",
    },
)

THEMES = (ROSEWOOD, MAPLE, CONTRAST, TERMINAL)

COLOUR_SYSTEMS = ("auto", "standard", "256", "truecolor", "windows")
"""The values that Rich accepts: https://rich.readthedocs.io/en/stable/console.html#color-systems"""


def refuse_unknown_colour_system(variables: Mapping[str, str]) -> None:
    """Raise UsageProblem for a colour system that Textual would crash on."""
    colours = variables.get("TEXTUAL_COLOR_SYSTEM", COLOUR_SYSTEMS[0])
    if colours not in COLOUR_SYSTEMS:
        raise UsageProblem(
            f"TEXTUAL_COLOR_SYSTEM is {quoted(colours)}, which is not a colour system that Textual supports.",
            f"Unset it, or set it to one of: {', '.join(COLOUR_SYSTEMS)}; NO_COLOR=1 turns colour off.",
        )
