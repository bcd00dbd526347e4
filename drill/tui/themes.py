"""The colours: rosewood, a dark fretboard, and maple, a light one. No meaning rests on colour alone.

Contrast of every text colour on its background is at least 4.5 to 1 (WCAG 2.2, success criterion 1.4.3), by a test.
"""

from __future__ import annotations

from textual.theme import Theme

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
    success="#9cc77a",
    warning="#f0a94e",
    error="#f08a6c",
    variables={
        "neck-board": "#2d1d17",
        "neck-string": "#a89888",
        "neck-quiet": "#a8998a",
        "neck-nut": "#efe3d0",
        "neck-inlay": "#e8dcc8",
        "neck-asked": "#ffd98a",
        "neck-note": "#d9cdbb",
        "neck-minor": "#8fd0d8",
        "neck-major": "#f6b85c",
        "neck-weak": "#f08a6c",
        "neck-middling": "#e6c07a",
        "neck-strong": "#9cc77a",
        "footer-key-foreground": "#e0b15a",
        "input-selection-background": "#6b4f2a",
        "block-cursor-foreground": "#efe3d0",
        "block-cursor-background": "#413832",
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
    success="#2f5f1c",
    warning="#7d4300",
    error="#96280f",
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
        "neck-weak": "#96280f",
        "neck-middling": "#6a4a00",
        "neck-strong": "#2f5f1c",
        "footer-key-foreground": "#7a4a10",
        "input-selection-background": "#cdb487",
        "block-cursor-foreground": "#2a1d12",
        "block-cursor-background": "#dfca9f",
    },
)

THEMES = (ROSEWOOD, MAPLE)
