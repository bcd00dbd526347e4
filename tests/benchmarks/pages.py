"""Pages held against axe, which knows the rules for accessible pages: violations, and contrasts it cannot decide.

    python tests/benchmarks/pages.py AXE.js PAGE.html...

in Chromium, at 390 and 1280 pixels, light and dark, on the screen and printed. It wants `playwright` from the package
index, a Chromium (`--browser`, or the one that playwright brings) and axe-core from npm
(node_modules/axe-core/axe.min.js). One line a page and way; the end is 1 if anything was found.
"""

from __future__ import annotations

import argparse
import itertools
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, sync_playwright

WIDTHS = (390, 1280)
A4_PX = 794
"""The width of A4 in CSS pixels."""
WAYS = (*itertools.product(WIDTHS, ("light", "dark"), ("screen",)), (A4_PX, "light", "print"), (A4_PX, "dark", "print"))


def found(browser: Browser, page: Path, axe: str, way: tuple[int, str, str]) -> Iterator[str]:
    """What axe finds in a page shown in one way, and what is cut off at its side."""
    width, scheme, media = way
    context = browser.new_context(viewport={"width": width, "height": 900}, bypass_csp=True)
    tab = context.new_page()
    tab.emulate_media(color_scheme=scheme, media=media)  # type: ignore[arg-type]
    tab.goto(page.resolve().as_uri())
    tab.evaluate(axe)
    told: dict[str, Any] = tab.evaluate("axe.run()")
    for kind in ("violations", "incomplete"):
        for rule in told[kind]:
            yield f"{kind}: {rule['id']} at {len(rule['nodes'])} places, such as {rule['nodes'][0]['html'][:100]}"
    if (reach := tab.evaluate("document.documentElement.scrollWidth")) > width:
        yield f"the page is {reach} pixels wide"
    context.close()


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("axe", type=Path)
    parser.add_argument("pages", type=Path, nargs="+")
    parser.add_argument("--browser", help="the path of a Chromium")
    options = parser.parse_args()
    axe, bad = options.axe.read_text(encoding="utf-8"), 0
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=options.browser, args=["--no-sandbox"])
        for page, way in itertools.product(options.pages, WAYS):
            problems = list(found(browser, page, axe, way))
            bad += bool(problems)
            print(page.name, *way, "; ".join(problems) or "nothing found")
    return min(bad, 1)


if __name__ == "__main__":
    sys.exit(main())
