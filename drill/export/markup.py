"""Text as HTML and SVG show it."""

from __future__ import annotations

import html

from drill.system.text import visible


def escape(text: str) -> str:
    r"""The text with nothing in it that acts: neither as markup nor as a control character.

    >>> escape("<b>\x1b")
    '&lt;b&gt;\\x1b'
    """
    return html.escape(visible(text))
