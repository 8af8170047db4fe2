"""What stands in the way of a person who reads, hears or taps otherwise, and HTML that is none."""

from __future__ import annotations

import html5lib
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

# Everything axe knows, with the two rules of WCAG 2.2 that it leaves off by itself.
RULES = {
    "resultTypes": ["violations"],
    "rules": {
        "target-size": {"enabled": True},
        "color-contrast-enhanced": {"enabled": True},
    },
}


# All that a scheme of colours changes.
COLOURS = {
    "resultTypes": ["violations"],
    "runOnly": {"type": "rule", "values": ["color-contrast", "color-contrast-enhanced"]},
}


def barriers(page: Page) -> list[str]:
    """What axe finds on the page as it stands, light and then dark: the rule, and where."""
    found = told(page, RULES)
    page.emulate_media(color_scheme="dark")
    found += [f"dark: {one}" for one in told(page, COLOURS)]
    page.emulate_media(color_scheme="light")
    return found


def told(page: Page, options: dict[str, object]) -> list[str]:
    found = Axe().run(page, options=options).response["violations"]
    return [f"{rule['id']}: {node['html'][:120]}" for rule in found for node in rule["nodes"]]


def slips(text: str) -> list[str]:
    """Errors of a page's HTML, by the parser of the HTML standard: line, column, name."""
    parser = html5lib.HTMLParser()
    parser.parse(text)
    return [f"{line}:{column} {name}" for (line, column), name, _ in parser.errors]
