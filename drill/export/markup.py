"""Text that is safe inside HTML and SVG."""

from __future__ import annotations

import html

from drill.system.text import visible


def escape(text: str) -> str:
    r"""The text with markup and control characters escaped.

    >>> escape("<b>\x1b")
    '&lt;b&gt;\\x1b'
    """
    return html.escape(visible(text))
